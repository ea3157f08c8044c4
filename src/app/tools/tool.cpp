#include "app/tools/tool.hpp"

#include <utility>

#include "app/selected_thing.hpp"
#include "document/things.hpp"

namespace padchart::app {

using document::Footprint;
using geometry::Ring;
using geometry::Vec2;

document::Id ToolContext::part_at(const Pointer& pointer) const {
    const auto source = hits.at(pointer.scene, pointer.mm(4));
    if (!source) return {};
    const document::Id id = scene.sources[static_cast<std::size_t>(*source)].id;
    const auto at = document::find_part(editor.chart(), id);
    if (!at || editor.chart().parts[*at].placement.side != seen_from) return {};
    return id;
}

document::Id thing_at(const ToolContext& context, const Pointer& pointer) {
    const auto source = context.hits.at(pointer.scene, pointer.mm(4));
    if (!source) return {};
    const document::Id id = context.scene.sources[static_cast<std::size_t>(*source)].id;
    switch (document::kind_of(context.editor.chart(), id)) {
    case document::ThingKind::Part: return context.part_at(pointer);
    case document::ThingKind::KeepOut:
    case document::ThingKind::Shield:
    case document::ThingKind::Note:
    case document::ThingKind::Reading: return id;
    default: return {};
    }
}

Ring box_ring(Vec2 a, Vec2 b) {
    return {a, {b.x, a.y}, b, {a.x, b.y}};
}

void add_outline(scene::Scene& scene, scene::Role role, Ring ring, scene::Weight weight) {
    if (ring.empty()) return;
    scene.add(role, scene::Fill{{ring, {}}});
    scene.add(role, scene::Line{std::move(ring), true, weight});
}

void add_part_outline(scene::Scene& scene, scene::Role role, const Footprint& part, document::Side seen_from) {
    const auto seen = [&](const Ring& ring) { return geometry::transformed(ring, scene::scene_from_board(seen_from)); };
    add_outline(scene, role, seen(document::body_on_board(part)), scene::Weight::Normal);
    for (const document::Pad& pad : part.pads)
        add_outline(scene, role, seen(document::outline_on_board(part, pad)), scene::Weight::Thin);
}

} // namespace padchart::app
