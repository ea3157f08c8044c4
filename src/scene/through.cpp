#include "scene/through.hpp"

#include <algorithm>
#include <cmath>

namespace padchart::scene {
namespace {

using geometry::Homography;
using geometry::Ring;
using geometry::Vec2;

bool is_before(const Homography& map, const std::vector<Vec2>& points) {
    return std::all_of(points.begin(), points.end(), [&](Vec2 p) { return map.weight(p) > 1e-9; });
}

void move(const Homography& map, std::vector<Vec2>& points) {
    for (Vec2& p : points)
        p = map(p);
}

void add_fill(Scene& out, const Item& item, Fill fill, const Homography& map) {
    bool seen = is_before(map, fill.area.outer);
    for (const Ring& hole : fill.area.holes)
        seen = seen && is_before(map, hole);
    if (!seen) return;
    move(map, fill.area.outer);
    for (Ring& hole : fill.area.holes)
        move(map, hole);
    out.add(item.role, std::move(fill), item.source);
}

void add_text(Scene& out, const Item& item, Text text, const Homography& map) {
    if (map.weight(text.at) <= 1e-9) return;
    const double growth = std::sqrt(std::abs(map.area_factor(text.at)));
    text.height_mm *= growth;
    text.fit_width_mm *= growth;
    text.at = map(text.at);
    out.add(item.role, std::move(text), item.source);
}

} // namespace

Scene through(const Scene& scene, const Homography& map) {
    Scene out;
    out.sources = scene.sources;
    out.legend_words = scene.legend_words;
    for (const Item& item : scene.items)
        switch (item.kind) {
        case Item::Kind::Fill: add_fill(out, item, scene.fills[item.index], map); break;
        case Item::Kind::Line: {
            Line line = scene.lines[item.index];
            if (!is_before(map, line.points)) break;
            move(map, line.points);
            out.add(item.role, std::move(line), item.source);
            break;
        }
        case Item::Kind::Text: add_text(out, item, scene.texts[item.index], map); break;
        case Item::Kind::Symbol: {
            Symbol symbol = scene.symbols[item.index];
            if (map.weight(symbol.at) <= 1e-9) break;
            symbol.at = map(symbol.at);
            out.add(item.role, symbol, item.source);
            break;
        }
        }
    return out;
}

} // namespace padchart::scene
