#pragma once
// How a drawing lies against the one before where no names tell: by what is drawn. For svg/reimport alone.

#include <optional>
#include <vector>

#include "document/chart.hpp"

namespace padchart::svg {

/// Hardly a part of the chart's trace bears a name that the fresh drawing has.
[[nodiscard]] bool names_tell_nothing(const document::Chart& current, const document::Chart& fresh);

struct DrawnMotion {
    std::optional<geometry::Affine> motion{}; ///< the only one that is sure; nothing where all stayed
    std::vector<geometry::Affine> alike{};    ///< two and more of which each would do
    bool stayed = false;                      ///< most lies where it lay
};

/// The shift and turn under which most parts, keep-outs and holes lie on ones of their kind and size. Where more than
/// one would do the board's edge tells, then pads by their numbers. Nearly none of it depends on how many parts there
/// are: a few pairs of the rarest things are tried, and what a sample of the rest says of each.
[[nodiscard]] DrawnMotion motion_of_what_is_drawn(const document::Chart& current, const document::Chart& fresh,
                                                  double off);

/// Most of what is drawn lies as a mirror shows what was drawn, on its side or on the other one.
[[nodiscard]] bool is_drawn_mirrored(const document::Chart& current, const document::Chart& fresh, double off);

} // namespace padchart::svg
