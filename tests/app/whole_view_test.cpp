#include "app/canvas.hpp"

#include "document/edits.hpp"
#include "scene/labels.hpp"
#include "support.hpp"
#include "support/places.hpp"

namespace padchart::app {

TEST_CASE("no name leaves the canvas when the whole chart is shown, at any size of the window, on either side") {
    Session s;
    REQUIRE(s.editor.open(tests::source_folder() / "demo/river-logger.chart.json").has_value());
    Canvas canvas;
    for (const document::Side side : {document::Side::Top, document::Side::Bottom})
        for (const geometry::Vec2 size :
             {geometry::Vec2{720, 560}, {816, 622}, {1120, 860}, {1300, 1300}, {2000, 700}}) {
            s.seen_from = side;
            s.camera.set_viewport({{90, 60}, geometry::Vec2{90, 60} + size});
            for (int i = 0; i < 4; ++i) {
                canvas.refresh(s);
                s.camera.fit(canvas.whole(s), 40, 100);
            }
            canvas.refresh(s);
            const geometry::Box seen = s.camera.visible();
            CAPTURE(size.x);
            CAPTURE(static_cast<int>(side));
            CHECK_FALSE(canvas.scene()->texts.empty());
            for (const scene::Text& text : canvas.scene()->texts) {
                const geometry::Box box = scene::box_of(text, s.camera.px_per_mm());
                if (text.fit_width_mm > 0 && box.width() > text.fit_width_mm) continue; // left out
                CAPTURE(text.text);
                CHECK((seen.contains(box.min) && seen.contains(box.max)));
            }
        }
}

namespace {

double fitted_zoom(Session& s, Canvas& canvas) {
    for (int i = 0; i < 5; ++i) {
        canvas.refresh(s);
        s.camera.fit(canvas.whole(s), 40, 100);
    }
    return s.camera.px_per_mm();
}

} // namespace

TEST_CASE("a very long name does not make the whole chart small") {
    Session s;
    REQUIRE(s.editor.open(tests::source_folder() / "demo/river-logger.chart.json").has_value());
    Canvas canvas;
    s.camera.set_viewport({{90, 60}, {810, 620}});
    const double before = fitted_zoom(s, canvas);
    const document::Id id = s.editor.chart().parts[0].id;
    REQUIRE(s.editor.commit(document::change_part(s.editor.chart(), id,
                                                  [](document::Footprint& part) { part.name = std::string(160, 'R'); }),
                            "Name it at length"));
    CHECK(fitted_zoom(s, canvas) > 0.6 * before);
}

} // namespace padchart::app
