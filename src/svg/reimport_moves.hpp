#pragma once
// Parts that a corrected trace draws elsewhere and otherwise as they were: those that moved alike are one line. For
// svg/reimport alone.

#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.hpp"
#include "document/id.hpp"
#include "geometry/vec2.hpp"

namespace padchart::svg {

struct PartMove {
    document::Id part;
    std::string name;
    geometry::Vec2 by;
};

/// "moved by 0.50 mm (+0.30 right, +0.40 down)". `unit`: of the chart's lengths, " mm".
[[nodiscard]] std::string move_words(geometry::Vec2 by, std::string_view unit);

/// A note for each part, and one for all that moved the same way, as a page of another size makes them.
[[nodiscard]] Diagnostics told_moves(const std::vector<PartMove>& moves, std::string_view unit);

/// One line for all of them, where it was told that most of a drawing went who knows where.
[[nodiscard]] Diagnostics told_together(const std::vector<PartMove>& moves, std::string_view unit);

} // namespace padchart::svg
