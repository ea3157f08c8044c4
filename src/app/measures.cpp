#include "app/measures.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "app/snap.hpp"
#include "base/counted.hpp"
#include "scene/chart_scene.hpp"
#include "scene/double_arrow.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::Footprint;
using geometry::Region;
using geometry::Ring;
using geometry::Vec2;

template <class T>
const T* find(const document::Items<T>& items, const document::Id& id) {
    for (const T& thing : items)
        if (thing.id == id) return &thing;
    return nullptr;
}

/// Body, else all pads: what would touch.
Region region_of(const Footprint& part) {
    if (const Ring body = document::body_on_board(part); !body.empty()) return {{body, {}}};
    Region pads;
    for (const document::Pad& pad : part.pads)
        pads.push_back({document::outline_on_board(part, pad), {}});
    return pads;
}

Region region_of(const Chart& chart, const MeasuredShape& shape) {
    const Footprint* part = find(chart.parts, shape.id);
    switch (shape.kind) {
    case MeasuredShape::Kind::Part: return part != nullptr ? region_of(*part) : Region{};
    case MeasuredShape::Kind::Pad:
        if (part == nullptr || shape.pad >= part->pads.size()) return {};
        return {{document::outline_on_board(*part, part->pads[shape.pad]), {}}};
    case MeasuredShape::Kind::KeepOut: {
        const auto* thing = find(chart.keep_outs, shape.id);
        return thing != nullptr ? Region{thing->outline} : Region{};
    }
    case MeasuredShape::Kind::Shield: {
        const auto* thing = find(chart.shields, shape.id);
        return thing != nullptr ? Region{thing->outline} : Region{};
    }
    case MeasuredShape::Kind::BoardEdge:
    case MeasuredShape::Kind::None: break;
    }
    return {};
}

std::vector<Ring> edge_of(const Chart& chart) {
    if (!chart.board.outline) return {};
    std::vector<Ring> rings{chart.board.outline->outer};
    rings.insert(rings.end(), chart.board.outline->holes.begin(), chart.board.outline->holes.end());
    return rings;
}

std::string name_or(const std::string& name, const char* otherwise) {
    return name.empty() ? otherwise : name;
}

double uncertainty_of(const Chart& chart, double mm) {
    return chart.scale ? chart.scale->relative_uncertainty * mm : 0.0;
}

std::optional<Measured> distance_of(const Chart& chart, const Measurement& m) {
    if (!chart.scale) return std::nullopt;
    Measured out;
    if (m.from.kind != MeasuredShape::Kind::None && m.to.kind != MeasuredShape::Kind::None) {
        const auto gap = gap_between(chart, m.from, m.to);
        if (!gap) return std::nullopt;
        out.gap = *gap;
        out.between = name_of(chart, m.from) + " and " + name_of(chart, m.to);
    } else {
        out.gap = {geometry::distance(m.points[0], m.points[1]), m.points[0], m.points[1]};
    }
    out.value = out.gap.mm;
    out.plus_minus = uncertainty_of(chart, out.value);
    out.words = length_words(out.value, out.plus_minus);
    return out;
}

std::optional<Measured> pitch_of(const Chart& chart, const Measurement& m) {
    if (!chart.scale || m.steps < 1) return std::nullopt;
    Measured out;
    out.gap = {geometry::distance(m.points[0], m.points[1]), m.points[0], m.points[1]};
    out.value = out.gap.mm / m.steps;
    out.plus_minus = uncertainty_of(chart, out.value);
    out.words = fmt::format("{}, {} of {:.2f} mm in all", length_words(out.value, out.plus_minus),
                            counted(static_cast<std::size_t>(m.steps), "step"), out.gap.mm);
    return out;
}

std::optional<Measured> angle_of(const Measurement& m) {
    const Vec2 a = m.points[1] - m.points[0], b = m.points[2] - m.points[0];
    if (geometry::length(a) < 1e-9 || geometry::length(b) < 1e-9) return std::nullopt;
    Measured out;
    out.value = Angle::radians(std::atan2(std::abs(geometry::cross(a, b)), geometry::dot(a, b))).degrees();
    out.words = fmt::format("{:.1f}°", out.value);
    return out;
}

void add_words(scene::Scene& out, Vec2 at, const std::string& words) {
    out.add(scene::Role::LabelMeasure,
            scene::Text{.at = at, .text = words, .height_px = 11.5, .strong = true, .halo = true});
}

void add_length(scene::Scene& out, const Measurement& m, const Measured& measured, double px_per_mm,
                document::Side seen_from) {
    const Vec2 from = scene::scene_from_board(measured.gap.from, seen_from);
    const Vec2 to = scene::scene_from_board(measured.gap.to, seen_from);
    scene::add_double_arrow(out, from, to, px_per_mm);
    if (m.kind == MeasureKind::Pitch && geometry::distance(from, to) * px_per_mm > 6.0 * m.steps) {
        const Vec2 along = (to - from) / geometry::distance(from, to);
        const Vec2 tick = Vec2{-along.y, along.x} * (5.0 / px_per_mm);
        for (int i = 0; i <= m.steps; ++i) {
            const Vec2 at = geometry::lerp(from, to, static_cast<double>(i) / m.steps);
            out.add(scene::Role::Measure, scene::Line{{at - tick, at + tick}, false, scene::Weight::Thin});
        }
    }
    // Beside a short line, so that the line can still be seen.
    const bool is_short = geometry::distance(from, to) * px_per_mm < 90.0;
    const Vec2 middle = geometry::lerp(from, to, 0.5);
    add_words(out, is_short ? middle + Vec2{0, 20.0 / px_per_mm} : middle, measured.words);
}

void add_angle(scene::Scene& out, const Measurement& m, const Measured& measured, double px_per_mm,
               document::Side seen_from) {
    const auto seen = [&](Vec2 p) { return scene::scene_from_board(p, seen_from); };
    const Vec2 corner = seen(m.points[0]), a = seen(m.points[1]), b = seen(m.points[2]);
    out.add(scene::Role::Measure, scene::Line{{a, corner, b}, false, scene::Weight::Thin});
    const double radius = std::min({36.0 / px_per_mm, geometry::distance(corner, a), geometry::distance(corner, b)});
    const Angle from = geometry::bearing(a - corner);
    const Angle turn = (geometry::bearing(b - corner) - from).signed_turn();
    Ring arc;
    constexpr int kPieces = 24;
    for (int i = 0; i <= kPieces; ++i)
        arc.push_back(corner + geometry::direction(from + turn * (static_cast<double>(i) / kPieces)) * radius);
    out.add(scene::Role::Measure, scene::Line{std::move(arc), false, scene::Weight::Normal});
    add_words(out, corner + geometry::direction(from + turn * 0.5) * (radius + 20.0 / px_per_mm), measured.words);
}

} // namespace

std::string name_of(const Chart& chart, const MeasuredShape& shape) {
    switch (shape.kind) {
    case MeasuredShape::Kind::Part:
    case MeasuredShape::Kind::Pad: {
        const Footprint* part = find(chart.parts, shape.id);
        if (part == nullptr) return "a part";
        if (shape.kind == MeasuredShape::Kind::Pad && shape.pad < part->pads.size())
            return pad_words(*part, part->pads[shape.pad]);
        return name_or(part->name, "a part without a name");
    }
    case MeasuredShape::Kind::KeepOut: {
        const auto* thing = find(chart.keep_outs, shape.id);
        return name_or(thing != nullptr ? thing->name : "", "a keep-out");
    }
    case MeasuredShape::Kind::Shield: {
        const auto* thing = find(chart.shields, shape.id);
        return name_or(thing != nullptr ? thing->name : "", "a shield");
    }
    case MeasuredShape::Kind::BoardEdge: return "the board's edge";
    case MeasuredShape::Kind::None: break;
    }
    return "a place";
}

std::optional<geometry::Gap> gap_between(const Chart& chart, const MeasuredShape& a, const MeasuredShape& b) {
    if (a == b) return std::nullopt;
    if (a.kind == MeasuredShape::Kind::BoardEdge) {
        auto gap = gap_between(chart, b, a);
        if (gap) std::swap(gap->from, gap->to);
        return gap;
    }
    const Region first = region_of(chart, a);
    if (first.empty()) return std::nullopt;
    if (b.kind == MeasuredShape::Kind::BoardEdge) {
        const std::vector<Ring> edge = edge_of(chart);
        if (edge.empty()) return std::nullopt;
        return geometry::gap_to_lines(first, edge);
    }
    const Region second = region_of(chart, b);
    if (second.empty()) return std::nullopt;
    return geometry::gap_between(first, second);
}

std::optional<Measured> evaluate(const Chart& chart, const Measurement& measurement) {
    switch (measurement.kind) {
    case MeasureKind::Distance: return distance_of(chart, measurement);
    case MeasureKind::Angle: return angle_of(measurement);
    case MeasureKind::Pitch: return pitch_of(chart, measurement);
    }
    return std::nullopt;
}

int counted_steps(const Chart& chart, document::Side side, Vec2 from, Vec2 to) {
    const double span = geometry::distance(from, to);
    if (span < 1e-9) return 1;
    const Vec2 along = (to - from) / span;
    struct Seen {
        double along, off;
    };
    std::vector<Seen> seen;
    for (const Footprint& part : chart.parts) {
        if (part.placement.side != side) continue;
        const auto board = document::board_from_part(part.placement);
        for (const document::Pad& pad : part.pads) {
            const Vec2 at = board(pad.at) - from;
            const double where = geometry::dot(at, along);
            seen.push_back({where, std::abs(geometry::cross(at, along))});
        }
    }
    // What lies farther off than a quarter of the step it would make belongs to another row, or is one of the two.
    for (;;) {
        const int steps = static_cast<int>(seen.size()) + 1;
        const double most = span / steps / 4;
        const auto is_other = [&](const Seen& pad) {
            return pad.off > most || pad.along < most || pad.along > span - most;
        };
        if (std::erase_if(seen, is_other) == 0) return steps;
    }
}

std::string length_words(double mm, double plus_minus) {
    if (plus_minus <= 0) return fmt::format("{:.2f} mm", mm);
    const int decimals = std::clamp(1 - static_cast<int>(std::floor(std::log10(plus_minus))), 1, 4);
    return fmt::format("{:.{}f} mm ± {:.{}f} mm", mm, decimals, plus_minus, decimals);
}

void add_measured(scene::Scene& out, const Measurement& measurement, const Measured& measured, double px_per_mm,
                  document::Side seen_from) {
    if (measurement.kind == MeasureKind::Angle)
        add_angle(out, measurement, measured, px_per_mm, seen_from);
    else
        add_length(out, measurement, measured, px_per_mm, seen_from);
}

void add_pinned(scene::Scene& out, const MeasureDesk& desk, const Chart& chart, double px_per_mm,
                document::Side seen_from) {
    for (const Measurement& measurement : desk.pinned) {
        if (measurement.side != seen_from) continue;
        if (const auto measured = evaluate(chart, measurement))
            add_measured(out, measurement, *measured, px_per_mm, seen_from);
    }
}

} // namespace padchart::app
