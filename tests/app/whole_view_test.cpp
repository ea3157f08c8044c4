#include "app/canvas.hpp"

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

} // namespace padchart::app
