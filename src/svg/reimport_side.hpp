#pragma once
// A part that a corrected trace draws on the other side of the board. For svg/reimport alone.

#include <string_view>

#include "document/chart.hpp"

namespace padchart::svg {

/// The same copper, body and mark in the same places of the board, told as a part of the other side. A pattern taken
/// from a family stays as it is, and so does the mark on it: on the board it is mirrored.
[[nodiscard]] document::Footprint on_other_side(document::Footprint part);

/// The same part in the same place, on its own side drawn as it was: on the board it is mirrored.
[[nodiscard]] document::Footprint on_other_side_as_seen(document::Footprint part);

/// "on the top", "on the bottom"
[[nodiscard]] std::string_view on_side(document::Side side);

} // namespace padchart::svg
