#include "app/access_desk.hpp"
#include "app/canvas.hpp"
#include "app/inspect_edits.hpp"
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

/// The logger after rework, with a part gone in every corner, beside how it was.
void inspect_logger(Session& s, const ScratchFolder& folder) {
    const auto file = folder.path() / "board.chart.json";
    std::filesystem::copy_file(tests::source_folder() / "demo/river-logger.chart.json", file);
    REQUIRE(s.editor.open(file).has_value());
    s.show_stage(scene::Stage::Inspect);
    freeze_chart(s);
    for (const char* name : {"R2", "C5", "U6", "Q1", "C16", "X1", "L5", "LED1", "MK1"}) {
        const document::Id id = part_named(s.editor.chart(), name).id;
        REQUIRE(s.editor.commit(document::change_part(s.editor.chart(), id,
                                                      [](document::Footprint& part) {
                                                          part.condition.presence = document::Presence::Missing;
                                                          part.condition.joint = document::JointState::Bridged;
                                                      }),
                                "It is gone"));
    }
    wait_for_inspection(s);
    REQUIRE(s.desks.get<InspectDesk>().answer()->report.changes.size() >= 9);
}

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

TEST_CASE("words of changes are seen whole and leave the board half of the canvas, at any scale of the window") {
    ScratchFolder folder;
    Session s;
    inspect_logger(s, folder);
    Canvas canvas;
    // The canvas of windows of 1280 x 720 px at scale 2 and 1.5, and of 1600 x 1000 px at scale 1.
    for (const auto& [size, scale] : {std::pair{geometry::Vec2{428, 504}, 2.0},
                                      {geometry::Vec2{481, 560}, 1.5},
                                      {geometry::Vec2{1114, 876}, 1.0}}) {
        s.ui_scale = scale;
        s.camera.set_viewport({{90, 60}, geometry::Vec2{90, 60} + size});
        for (int i = 0; i < 5; ++i) {
            canvas.refresh(s);
            s.camera.fit(canvas.whole(s), 14 * scale, 65 * scale);
        }
        canvas.refresh(s);
        CAPTURE(size.x);
        CHECK(bounds_of(s.editor.chart()).width() * s.camera.px_per_mm() >= 0.5 * size.x);
        const geometry::Box seen = s.camera.visible();
        for (const scene::Text& text : canvas.scene()->texts) {
            const geometry::Box box = scene::box_of(text, s.camera.px_per_mm() / scale);
            if (text.fit_width_mm > 0 && box.width() > text.fit_width_mm) continue; // left out
            CAPTURE(text.text);
            CHECK((seen.contains(box.min) && seen.contains(box.max)));
        }
    }
}

TEST_CASE("what the rose of access says stays on the canvas, above legend and scale bar, on any window") {
    Session s;
    REQUIRE(s.editor.open(tests::source_folder() / "demo/river-logger.chart.json").has_value());
    s.show_stage(scene::Stage::Access);
    std::size_t said = 0;
    // As above.
    for (const auto& [size, scale] :
         {std::pair{geometry::Vec2{428, 456}, 2.0}, {geometry::Vec2{1114, 876}, 1.0}, {geometry::Vec2{760, 720}, 2.0}})
        for (const char* name : {"U1", "U4", "C31", "MK1", "C3"})
            for (const auto& [tool, is_near] : {std::pair{0, false}, {0, true}, {3, false}, {3, true}}) {
                s.ui_scale = scale;
                s.camera.set_viewport({{90, 60}, geometry::Vec2{90, 60} + size});
                s.editor.select({part_named(s.editor.chart(), name).id});
                change_access(s, [at = tool](analysis::AccessQuery& query) {
                    query.tool = analysis::access_tools()[static_cast<std::size_t>(at)];
                });
                wait_for_access(s);
                Canvas canvas;
                const double key = 65 * scale;
                canvas.keep_free_below(key);
                for (int i = 0; i < 5; ++i) {
                    canvas.refresh(s);
                    s.camera.fit(canvas.whole(s), view_margin_px(s) * scale, key);
                }
                CAPTURE(size.x);
                CAPTURE(name);
                // A narrow canvas leaves its board most of the width.
                if (size.x < 500) CHECK(bounds_of(s.editor.chart()).width() * s.camera.px_per_mm() >= 0.7 * size.x);
                if (is_near) look_near(s);
                canvas.refresh(s);
                geometry::Box seen = s.camera.visible();
                seen.max.y -= key / s.camera.px_per_mm();
                if (!seen.contains(
                        geometry::bounds(document::extent_on_board(part_named(s.editor.chart(), name))).centre()))
                    continue;
                for (const scene::Item& item : canvas.scene()->items) {
                    if (item.kind != scene::Item::Kind::Text || item.role != scene::Role::LabelMeasure) continue;
                    const scene::Text& text = canvas.scene()->texts[item.index];
                    if (text.text.find(" mm") == std::string::npos) continue; // readings bear the role as well
                    const geometry::Box box = scene::box_of(text, s.camera.px_per_mm() / scale);
                    CAPTURE(text.text);
                    CHECK((seen.contains(box.min) && seen.contains(box.max)));
                    ++said;
                }
            }
    CHECK(said > 20);
}

} // namespace padchart::app
