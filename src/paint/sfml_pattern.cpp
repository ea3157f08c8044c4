#include "paint/sfml_pattern.hpp"

#include <algorithm>
#include <cmath>

#include "paint/bands.hpp"

namespace padchart::paint {
namespace {

using geometry::Affine;
using geometry::Box;
using geometry::Polygon;
using geometry::Vec2;

sf::Vector2f to_float(Vec2 v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y)};
}

Box turned(const Box& box, const Affine& map) {
    Box result;
    for (const Vec2 corner : {box.min, box.max, Vec2{box.min.x, box.max.y}, Vec2{box.max.x, box.min.y}})
        result.add(map(corner));
    return result;
}

/// Parallel lines; `map` turns them level.
void add_lines(Mesh& mesh, const Polygon& area, const Box& region, Vec2 anchor, const Affine& map, double step,
               float width, sf::Color colour) {
    const Affine back = map.inverse();
    const Box limits = turned(region, map);
    for (const RowSpan& span : row_spans(geometry::transformed(area, map), step, limits)) {
        const double left = std::max(span.left, limits.min.x);
        const double right = std::min(span.right, limits.max.x);
        if (right <= left) continue;
        const double y = static_cast<double>(span.row) * step;
        const sf::Vector2f ends[] = {to_float(back({left, y}) - anchor), to_float(back({right, y}) - anchor)};
        mesh.stroke(ends, false, width, colour);
    }
}

void add_dots(Mesh& mesh, const Polygon& area, const Box& region, Vec2 anchor, double step, float diameter,
              sf::Color colour) {
    for (const RowSpan& span : row_spans(area, step, region)) {
        const double shift = span.row % 2 != 0 ? step / 2 : 0.0;
        const double left = std::max(span.left, region.min.x);
        const double right = std::min(span.right, region.max.x);
        for (double x = std::ceil((left - shift) / step) * step + shift; x <= right; x += step)
            mesh.disc(to_float(Vec2{x, static_cast<double>(span.row) * step} - anchor), diameter / 2, colour);
    }
}

} // namespace

void add_hatch(Mesh& mesh, const Polygon& area, const Box& region, Vec2 anchor, const Hatch& hatch, double ui_scale) {
    const double step = hatch.step_px * ui_scale;
    const float width = static_cast<float>(hatch.width_px * ui_scale);
    const sf::Color colour = sfml_colour(hatch.colour);
    const double k = std::sqrt(0.5);
    const Affine rising{k, k, -k, k, 0, 0};  // (x, y) to (x - y, x + y) / sqrt 2
    const Affine falling{k, -k, k, k, 0, 0}; // (x, y) to (x + y, y - x) / sqrt 2
    switch (hatch.kind) {
    case HatchKind::None: return;
    case HatchKind::Dots: add_dots(mesh, area, region, anchor, step, width, colour); return;
    case HatchKind::CrossLines: add_lines(mesh, area, region, anchor, falling, step, width, colour); [[fallthrough]];
    case HatchKind::Lines: add_lines(mesh, area, region, anchor, rising, step, width, colour); return;
    }
}

} // namespace padchart::paint
