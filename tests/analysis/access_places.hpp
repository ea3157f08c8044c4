#pragma once
// Charts and an obvious three-dimensional twin for the tests of access: the tool as a cloud of points.

#include <cmath>
#include <limits>
#include <numbers>
#include <string>
#include <vector>

#include "analysis/access.hpp"
#include "document/chart.hpp"
#include "support/random_shapes.hpp"

namespace padchart::testing {

using document::Chart;
using document::Footprint;
using geometry::Vec2;

inline Footprint block(std::string name, Vec2 at, Vec2 size, double turn_deg, std::optional<double> height_mm,
                       document::Side side = document::Side::Top) {
    Footprint part;
    part.id = {name};
    part.name = std::move(name);
    part.body = document::Body{{}, {}, {document::ShapeKind::Rectangle, size.x, size.y, {}}, height_mm, {}};
    part.placement = {at, Angle::degrees(turn_deg), side};
    return part;
}

inline Chart chart_of(const std::vector<Footprint>& parts) {
    Chart chart;
    chart.scale = document::Scale{};
    for (const Footprint& part : parts)
        chart.parts.add(part);
    return chart;
}

/// A target "t" at the origin and `count` neighbours "n0", "n1" ... round it, on one side.
inline Chart random_place(Random& random, std::size_t count, document::Side side) {
    std::vector<Footprint> parts{block("t", random.point(3), {random.between(0.4, 3), random.between(0.3, 2)},
                                       random.between(0, 360), 0.8, side)};
    const Vec2 middle = parts[0].placement.at;
    for (std::size_t i = 0; i < count; ++i) {
        const Vec2 off = geometry::direction(random.turn()) * random.between(1.5, 6.0);
        parts.push_back(block("n" + std::to_string(i), middle + off, {random.between(0.3, 3), random.between(0.2, 2)},
                              random.between(0, 360), random.between(0.1, 4.0), side));
    }
    return chart_of(parts);
}

inline analysis::AccessTool random_tool(Random& random) {
    analysis::AccessTool tool;
    tool.tip_width_mm = random.between(0.1, 2.0);
    tool.tip_thickness_mm = random.between(0.05, 0.6);
    tool.rise_deg = random.between(20, 80);
    tool.flare_deg = random.between(0, 12);
    tool.length_mm = 30;
    return tool;
}

/// A point of the tool: where on the board, and how high above it.
struct ToolPoint {
    Vec2 at;
    double height_mm = 0.0;
};

/// Points all over the lower end of a tool that comes from a bearing: along the axis, across the arm, up its flat.
/// From the words of the tool's description alone: a bar with its lowest corner on the board, which grows by the flare.
inline std::vector<ToolPoint> cloud(const analysis::AccessTool& tool, double opening_mm, Vec2 at, double bearing_deg,
                                    document::Side side, double highest_mm) {
    const double rise = tool.rise_deg * std::numbers::pi / 180.0,
                 grow = std::tan(tool.flare_deg * std::numbers::pi / 180.0);
    const double turn = bearing_deg * std::numbers::pi / 180.0;
    const double seen = side == document::Side::Top ? 1.0 : -1.0; // the far side is seen mirrored
    const Vec2 out{seen * std::cos(turn), -std::sin(turn)}, across{-seen * std::sin(turn), -std::cos(turn)};
    std::vector<ToolPoint> points;
    const int steps = 40, sides = 5;
    for (int i = 0; i <= steps; ++i) {
        const double along = 8.0 * i / steps;
        for (int j = 0; j <= sides; ++j) {
            const double flat = (2.0 * j / sides - 1.0) * (tool.tip_width_mm / 2.0 + along * grow);
            const double height = along * std::sin(rise) + (flat + tool.tip_width_mm / 2.0) * std::cos(rise);
            if (height > highest_mm) continue;
            const double plan = along * std::cos(rise) - flat * std::sin(rise);
            const bool is_iron = tool.kind == analysis::ToolKind::Iron; // one bar, from the middle to either side
            const double from = is_iron ? 0.0 : opening_mm / 2.0;
            const double thick = (is_iron ? tool.tip_width_mm / 2.0 : tool.tip_thickness_mm) + along * grow;
            for (int k = 0; k <= sides; ++k)
                for (const double arm : {-1.0, 1.0}) {
                    const double off = from + thick * k / sides;
                    points.push_back({at + out * plan + across * (arm * off), height});
                }
        }
    }
    return points;
}

/// A point of the tool lies in a body.
inline bool strikes(const Chart& chart, const std::vector<ToolPoint>& points) {
    for (std::size_t i = 1; i < chart.parts.size(); ++i) {
        const Footprint& part = chart.parts[i];
        const geometry::Ring outline = document::body_on_board(part);
        const geometry::Box box = geometry::bounds(outline);
        for (const ToolPoint& point : points)
            if (point.height_mm < *part.body->height_mm && box.contains(point.at) &&
                geometry::contains(outline, point.at))
                return true;
    }
    return false;
}

} // namespace padchart::testing
