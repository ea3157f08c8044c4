#include "app/canvas.hpp"

#include <algorithm>

#include "app/actions.hpp"
#include "support.hpp"

namespace padchart::app {

TEST_CASE("the panel of a tool goes with its tool, so that no key it names means something else") {
    Session s;
    s.editor.start_new();
    Canvas canvas;
    for (const auto& [name, panel] :
         {std::pair{"trace", Panel::Trace}, {"reshape", Panel::Trace}, {"scale", Panel::Scale}}) {
        CAPTURE(name);
        run(*find_action(name), s);
        REQUIRE(s.panel == panel);
        canvas.refresh(s);
        for (int i = 0; i < 3 && !s.tool->is_selecting(); ++i)
            CHECK(canvas.key({Key::Escape}, s));
        CHECK(s.tool->is_selecting());
        CHECK(s.panel == Panel::Stage);
    }
}

TEST_CASE("a part that is not there stays dashed under the pointer") {
    for (const document::Presence presence : {document::Presence::Present, document::Presence::Missing}) {
        Session s;
        document::Chart chart = row_of_chips();
        const document::Id r2{"r2"};
        chart = document::change_part(chart, r2, [&](document::Footprint& part) {
                    part.condition.presence = presence;
                }).value();
        s.editor.start_new(chart);
        s.camera.set_viewport({{0, 0}, {800, 600}});
        s.camera.look_at({5, 0}, 40);
        Canvas canvas;
        canvas.refresh(s);
        canvas.handle({.kind = InputEvent::Kind::Move, .at_px = {400, 300}}, s, true);
        const auto overlay = canvas.overlay(s);
        const auto has = [&](scene::Role role) {
            return std::any_of(overlay->items.begin(), overlay->items.end(),
                               [&](const scene::Item& item) { return item.role == role; });
        };
        const bool is_there = presence == document::Presence::Present;
        CHECK(has(scene::Role::Hover) == is_there);
        CHECK(has(scene::Role::Marquee) == !is_there); // dashed by the theme
    }
}

} // namespace padchart::app
