#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "analysis/heat_advice_parts.hpp"
#include "analysis/heat_sweep.hpp"
#include "geometry/overlay.hpp"

namespace padchart::analysis {
namespace {

using document::Chart;
using document::HeatPlan;
using geometry::Vec2;

constexpr double kShieldOverlap_mm = 1.0;

} // namespace

Chart with_shields(const Chart& chart, const std::vector<document::Shield>& shields) {
    Chart more = chart;
    for (const document::Shield& shield : shields)
        more.shields.add(shield);
    return more;
}

/// A shield over a neighbour, a little larger than it.
document::Shield shield_over(const Chart& chart, const WatchedNeighbour& watch, std::size_t number) {
    document::Shield shield;
    shield.id = document::free_id(chart, "shield", fmt::format("{}-{}", watch.source.text, number));
    shield.name = "over " + watch.name;
    shield.side = watch.side;
    const geometry::Region grown = geometry::widen({{watch.outline, {}}}, kShieldOverlap_mm);
    if (!grown.empty()) shield.outline = {grown.front().outer, {}};
    return shield;
}

Result<std::vector<WhatIf>> what_ifs(const Chart& chart, const HeatPlan& plan, const HeatOptions& asked) {
    HeatOptions options = asked;
    options.resolution = Resolution::Live;
    const Result<HeatSetup> setup = heat_setup(chart, plan, options);
    if (!setup) return setup.error();
    constexpr double kMoves_mm[] = {1.0, 3.0};
    constexpr std::size_t kNominal = 1;
    std::vector<Vec2> aims{plan.aim};
    for (const double length : kMoves_mm)
        for (int k = 0; k < 4; ++k)
            aims.push_back(plan.aim + geometry::direction(Angle::degrees(90.0 * k)) * length);
    AimSweep sweep(*setup, plan.dwell_s);
    const auto results = sweep.run(aims, {});
    const AimResult& now = results[0][kNominal];
    const WorstNeighbour worst =
        worst_of(*setup, [&](std::size_t k) { return static_cast<double>(now.neighbour_c[k]); });
    std::vector<WhatIf> found;
    const auto add = [&](std::string change, HeatPlan changed, const AimResult& then) {
        WhatIf what_if;
        what_if.change = std::move(change);
        what_if.plan = std::move(changed);
        what_if.joint_change_k = static_cast<double>(then.joint_c - now.joint_c);
        if (worst.which) {
            what_if.neighbour = setup->neighbours[*worst.which].name;
            what_if.neighbour_change_k =
                static_cast<double>(then.neighbour_c[*worst.which] - now.neighbour_c[*worst.which]);
        }
        say_what_if(what_if);
        found.push_back(std::move(what_if));
    };
    for (std::size_t a = 1; a < aims.size(); ++a) {
        HeatPlan moved = plan;
        moved.aim = aims[a];
        if (geometry::contains(setup->layout.board, aims[a]))
            add("Aim " + move_words(aims[a] - plan.aim, plan.side), std::move(moved), results[a][kNominal]);
    }
    if (worst.which && is_in_the_open(setup->neighbours[*worst.which])) {
        const document::Shield shield = shield_over(chart, setup->neighbours[*worst.which], 0);
        HeatPlan shielded = plan;
        shielded.shields.push_back(shield.id);
        if (const auto with = heat_setup(with_shields(chart, {shield}), shielded, options)) {
            AimSweep again(*with, plan.dwell_s);
            add("With a shield " + shield.name, shielded, again.run({&plan.aim, 1}, {})[0][kNominal]);
            found.back().new_shields.push_back(shield);
        }
    }
    // What a neighbour gains for every degree the joint loses, both counted in the nominal case.
    const auto use = [](const WhatIf& w) { return -w.neighbour_change_k + 2.0 * std::min(0.0, w.joint_change_k); };
    std::stable_sort(found.begin(), found.end(), [&](const WhatIf& a, const WhatIf& b) { return use(a) > use(b); });
    return found;
}

} // namespace padchart::analysis
