#include "analysis/access_tool.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "geometry/convex.hpp"
#include "patterns/table.hpp"

namespace padchart::analysis {
namespace {

using geometry::Ring;
using geometry::Vec2;

// A flank that rises less than this runs so close along the board that no height would be passed over.
constexpr double kLeastFlankRise_deg = 2.0;

double radians(double deg) {
    return deg * std::numbers::pi / 180.0;
}

/// A corner of the arm's outline seen from the side: x away from the target, z up, s along the axis from the tip.
struct Corner {
    double x = 0.0, z = 0.0, s = 0.0;
};

Corner between(const Corner& a, const Corner& b, double z) {
    const double t = (z - a.z) / (b.z - a.z);
    return {a.x + (b.x - a.x) * t, z, a.s + (b.s - a.s) * t};
}

std::array<Corner, 4> side_view(const AccessTool& tool) {
    const double rise = radians(tool.rise_deg), half = tool.tip_width_mm / 2.0;
    const double far_half = half + tool.length_mm * std::tan(radians(tool.flare_deg));
    const auto corner = [&](double s, double up) {
        return Corner{s * std::cos(rise) - up * std::sin(rise), s * std::sin(rise) + (up + half) * std::cos(rise), s};
    };
    return {corner(0, -half), corner(0, half), corner(tool.length_mm, far_half), corner(tool.length_mm, -far_half)};
}

/// The corners of what lies at or below z.
std::vector<Corner> cut_at(std::span<const Corner> outline, double z) {
    std::vector<Corner> kept;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Corner& here = outline[i];
        const Corner& next = outline[(i + 1) % outline.size()];
        if (here.z <= z) kept.push_back(here);
        if ((here.z < z && next.z > z) || (here.z > z && next.z < z)) kept.push_back(between(here, next, z));
    }
    return kept;
}

std::vector<AccessTool> read_tools() {
    const patterns::Table& rows = patterns::table("access_tools");
    std::vector<AccessTool> tools;
    for (std::size_t row = 0; row < rows.size(); ++row) {
        AccessTool tool;
        tool.key = rows.text(row, "key");
        tool.name = rows.text(row, "name");
        tool.kind = rows.text(row, "kind") == "iron" ? ToolKind::Iron : ToolKind::Tweezers;
        tool.tip_width_mm = rows.number(row, "tip_width_mm").value_or(tool.tip_width_mm);
        tool.tip_thickness_mm = rows.number(row, "tip_thickness_mm").value_or(tool.tip_width_mm);
        tool.rise_deg = rows.number(row, "rise_deg").value_or(tool.rise_deg);
        tool.flare_deg = rows.number(row, "flare_deg").value_or(tool.flare_deg);
        tool.length_mm = rows.number(row, "length_mm").value_or(tool.length_mm);
        tools.push_back(std::move(tool));
    }
    return tools;
}

} // namespace

std::span<const AccessTool> access_tools() {
    static const std::vector<AccessTool> kTools = read_tools();
    return kTools;
}

std::optional<AccessTool> find_access_tool(std::string_view key) {
    for (const AccessTool& tool : access_tools())
        if (tool.key == key) return tool;
    return std::nullopt;
}

std::string_view to_text(ToolKind kind) {
    return kind == ToolKind::Iron ? "iron" : "tweezers";
}

std::optional<Error> fault_of(const AccessTool& tool) {
    const auto is_size = [](double mm) { return std::isfinite(mm) && mm > 0.0 && mm <= 1000.0; };
    if (!is_size(tool.tip_width_mm) || !is_size(tool.tip_thickness_mm) || !is_size(tool.length_mm))
        return Error{"a size of the tool is not above 0 mm", "tool"};
    if (!(tool.rise_deg > 0.0 && tool.rise_deg <= 90.0))
        return Error{
            fmt::format("the tool's angle is {:g} degrees; right would be above 0 and at most 90", tool.rise_deg),
            "tool"};
    if (!(tool.flare_deg >= 0.0 && tool.flare_deg <= tool.rise_deg - kLeastFlankRise_deg))
        return Error{
            fmt::format("a tool that widens by {:g} degrees a side and rises at {:g} lies on the board; hold it "
                        "steeper",
                        tool.flare_deg, tool.rise_deg),
            "tool"};
    return std::nullopt;
}

std::vector<Ring> tool_below(const AccessTool& tool, double opening_mm, double height_mm) {
    assert(!fault_of(tool) && height_mm > 0.0 && opening_mm >= 0.0);
    const double grow = std::tan(radians(tool.flare_deg));
    const bool is_iron = tool.kind == ToolKind::Iron;
    Ring near, far;
    for (const Corner& corner : cut_at(side_view(tool), height_mm)) {
        const double outer = is_iron ? tool.tip_width_mm / 2.0 + corner.s * grow
                                     : opening_mm / 2.0 + tool.tip_thickness_mm + corner.s * grow;
        const double inner = is_iron ? -outer : opening_mm / 2.0;
        near.insert(near.end(), {{corner.x, inner}, {corner.x, outer}});
        far.insert(far.end(), {{corner.x, -inner}, {corner.x, -outer}});
    }
    if (is_iron) return {geometry::convex_hull(near)};
    return {geometry::convex_hull(near), geometry::convex_hull(far)};
}

} // namespace padchart::analysis
