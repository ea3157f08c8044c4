#pragma once
// What a corrected trace drew differently, in words. For svg/reimport alone.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "document/chart.hpp"
#include "geometry/polygon.hpp"

namespace padchart::svg {

/// Below this nothing moved: less than any trace means, lengths of the chart.
inline constexpr double kMoved = 0.005;

/// Farther off than that, and with the two digits that are told it reads otherwise.
[[nodiscard]] bool is_other_length(double was, double is);

/// "clockwise" or "counter-clockwise", as seen from the part's side. Of a turn that is not 0.
[[nodiscard]] std::string_view turn_sense(double turned_deg);

/// How far two outlines may lie apart though nobody drew either differently: a curve that is turned or begun elsewhere
/// is cut into other pieces. 0 where both have few corners.
[[nodiscard]] double curve_slack(const geometry::Ring& before, const geometry::Ring& after);

/// "moved by 0.30 mm (+0.30 right, +0.00 down)", "pad 1 moved by 0.40 mm", "pad 5 is new": nothing where all lies where
/// it lay. What most of the part did is told of the part, the rest of each pad by itself. `pads`: of each pad of
/// `before` its position in `after`. `unit`: of the chart's lengths, " mm".
[[nodiscard]] std::vector<std::string> geometry_changes(const document::Footprint& before,
                                                        const document::Footprint& after,
                                                        const std::vector<std::optional<std::size_t>>& pads,
                                                        std::string_view unit);

/// The same of a part whose pads went round their middle as one: each of them went somewhere else.
[[nodiscard]] std::vector<std::string> turn_changes(double turned_deg, double moved, std::string_view unit);

/// One of their rings lies elsewhere or encloses another area.
[[nodiscard]] bool is_drawn_differently(const geometry::Polygon& before, const geometry::Polygon& after);

/// All of them: "R1, R2 and R3".
[[nodiscard]] std::string listed(const std::vector<std::string>& names);

/// Some of them in one line: "moved by 0.30 mm, pad 1 is gone and 3 more".
[[nodiscard]] std::string in_one_line(const std::vector<std::string>& changes);

} // namespace padchart::svg
