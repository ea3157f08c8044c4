#pragma once
// Things drawn where other things lay: did the drawing go there, or did only names? For svg/reimport alone.

#include "document/chart.hpp"

namespace padchart::svg {

/// What the pads say of it, where parts have numbered ones.
enum class NamesMoved {
    Unknown, ///< no pads tell, or as many for as against
    Yes,     ///< most parts have their pads where another one had pads of these numbers
    No       ///< most do not: names alone turn or shift no pads
};
[[nodiscard]] NamesMoved names_moved(const document::Chart& current, const document::Chart& fresh, double off);

} // namespace padchart::svg
