#pragma once
// What the search for better plans and the single changes share.

#include <limits>
#include <optional>
#include <vector>

#include "analysis/heat_advice.hpp"
#include "analysis/heat_setup.hpp"

namespace padchart::analysis {

inline constexpr double kCoveredShare = 0.9; ///< of a part: another shield over it would bring nothing

[[nodiscard]] document::Chart with_shields(const document::Chart& chart, const std::vector<document::Shield>& shields);
/// A shield over a neighbour, a little larger than it. `number` tells it from others invented for the same plan.
[[nodiscard]] document::Shield shield_over(const document::Chart& chart, const WatchedNeighbour& watch,
                                           std::size_t number);

[[nodiscard]] inline bool is_delicate(const WatchedNeighbour& watch) {
    return watch.limits && watch.limits->delicate;
}

/// Would a shield help it?
[[nodiscard]] inline bool is_in_the_open(const WatchedNeighbour& watch) {
    return !watch.far_side && watch.under_can.empty() && watch.shield_share <= kCoveredShare;
}

/// Least margin of the delicate neighbours, and whose it is.
struct WorstNeighbour {
    double margin_k = std::numeric_limits<double>::infinity(); ///< where nothing delicate is near
    std::optional<std::size_t> which;
};

template <class Celsius>
WorstNeighbour worst_of(const HeatSetup& setup, const Celsius& celsius_of) {
    WorstNeighbour worst;
    for (std::size_t k = 0; k < setup.neighbours.size(); ++k) {
        if (!is_delicate(setup.neighbours[k])) continue;
        const double margin = setup.neighbours[k].limits->limit_c - celsius_of(k);
        if (margin < worst.margin_k) worst = {margin, k};
    }
    return worst;
}

/// "3.0 mm further left and 1.0 mm further up", as seen from the side the air comes from; empty: not at all.
[[nodiscard]] std::string move_words(geometry::Vec2 by, document::Side side);
/// Fills the sentences of all plans and of the advice.
void put_into_words(const document::HeatPlan& asked, Advice& advice);
void say_what_if(WhatIf& what_if);

} // namespace padchart::analysis
