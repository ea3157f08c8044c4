#include "paint/prepared_scene.hpp"

#include <cassert>
#include <utility>

namespace padchart::paint {
namespace {

using scene::Item;

bool has_its_outline(const PreparedScene& made, const Item& fill, const Item& line) {
    if (fill.kind != Item::Kind::Fill || line.kind != Item::Kind::Line) return false;
    const PreparedScene::Area& area = made.areas[fill.index];
    const scene::Line& outline = made.scene->lines[line.index];
    return area.convex && !area.box.is_empty() && outline.closed &&
           outline.points == made.scene->fills[fill.index].area.outer;
}

PreparedScene::Area prepared_area(const geometry::Polygon& polygon) {
    PreparedScene::Area area{
        geometry::bounds(polygon), polygon.holes.empty() && geometry::is_convex_ring(polygon.outer), {}};
    if (!area.convex) area.bands = bands_of(polygon);
    return area;
}

} // namespace

std::shared_ptr<const PreparedScene> prepared(std::shared_ptr<const scene::Scene> scene) {
    assert(scene != nullptr);
    auto made = std::make_shared<PreparedScene>();
    made->scene = std::move(scene);
    const scene::Scene& of = *made->scene;
    made->areas.reserve(of.fills.size());
    for (const scene::Fill& fill : of.fills)
        made->areas.push_back(prepared_area(fill.area));
    made->line_boxes.reserve(of.lines.size());
    for (const scene::Line& line : of.lines)
        made->line_boxes.push_back(geometry::bounds(line.points));
    made->is_outlined.assign(of.items.size(), false);
    for (std::size_t i = 0; i + 1 < of.items.size(); ++i)
        made->is_outlined[i] = has_its_outline(*made, of.items[i], of.items[i + 1]);
    return made;
}

} // namespace padchart::paint
