#pragma once
// A board that a corrected trace draws on the other side, as it is seen from there. For svg/reimport alone.

#include <optional>

#include "document/chart.hpp"

namespace padchart::svg {

/// The mirror by which most parts that both drawings name went to the other side: on its own side each of them looks
/// as it did. Nothing where they stayed where they lay on the page, or went their own ways. `off`: farther is
/// elsewhere.
[[nodiscard]] std::optional<geometry::Affine> how_all_went_over(const document::Chart& current,
                                                                const document::Chart& fresh, double off);

/// The chart laid over by that mirror, parts that have a name called in the trace as on that side. A keep-out of the
/// trace keeps its side: its layer tells it.
[[nodiscard]] document::Chart traced_from_other_side(const document::Chart& chart, const geometry::Affine& mirror);

/// By its numbered pads: on its own side it is drawn as it was, not as a mirror image. False where they cannot tell.
[[nodiscard]] bool is_drawn_as_seen(const document::Footprint& was, const document::Footprint& is);

} // namespace padchart::svg
