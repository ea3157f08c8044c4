#include "app/picture.hpp"

#include <chrono>
#include <thread>

#include "app/canvas.hpp"
#include "document/edits.hpp"
#include "paint/sfml_ground.hpp"
#include "support.hpp"
#include "support/chart_generator.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::Id;

/// Until nothing is behind any more; false when that takes more than half a minute.
bool comes(Canvas& canvas, Session& s) {
    for (int i = 0; i < 3000; ++i) {
        canvas.refresh(s);
        if (!canvas.is_behind() && !s.background.is_busy()) return true;
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    return false;
}

bool shows(const scene::Scene& scene, const Id& part) {
    return std::any_of(scene.items.begin(), scene.items.end(), [&](const scene::Item& item) {
        return item.source >= 0 && scene.sources[static_cast<std::size_t>(item.source)].id == part;
    });
}

struct Bench {
    Session s;
    Canvas canvas;

    explicit Bench(std::size_t parts) {
        s.editor.start_new(testing::make_chart(parts, 10, 1));
        s.camera.set_viewport({{0, 0}, {1200, 900}});
        s.camera.fit(bounds_of(s.editor.chart()), 40);
    }
    /// Of the top side.
    [[nodiscard]] Id part(std::size_t i) const {
        for (const document::Footprint& part : s.editor.chart().parts)
            if (part.placement.side == document::Side::Top && i-- == 0) return part.id;
        return {};
    }
};

TEST_CASE("a small chart is drawn at once, a large one behind the window, and both come to the same picture") {
    Bench small(40);
    CHECK(small.canvas.refresh(small.s));
    CHECK_FALSE(small.canvas.is_behind());
    CHECK(shows(*small.canvas.scene(), small.part(0)));

    Bench large(400);
    large.canvas.refresh(large.s);
    CHECK(large.canvas.is_behind());
    CHECK(large.canvas.scene()->items.empty());
    REQUIRE(comes(large.canvas, large.s));
    Canvas at_once;
    at_once.draw_at_once();
    at_once.refresh(large.s);
    CHECK(to_text(*large.canvas.scene()) == to_text(*at_once.scene()));
}

TEST_CASE("what a hand moves on a large chart is drawn at once, over a picture from which it is left out") {
    Bench b(400);
    REQUIRE(comes(b.canvas, b.s));
    const Id moved = b.part(7);
    b.s.editor.select({moved});
    b.s.editor.preview(document::move_parts(b.s.editor.chart(), std::vector{moved}, {3, 0}));
    b.canvas.refresh(b.s);
    CHECK(b.canvas.is_behind());
    const auto over = b.canvas.overlay(b.s);
    CHECK(shows(*over, moved));
    CHECK_FALSE(shows(*over, b.part(8)));
    REQUIRE(comes(b.canvas, b.s));
    const auto picture = b.canvas.scene();
    CHECK_FALSE(shows(*picture, moved));
    const auto is_frame = [](const scene::Item& item) { return item.role == scene::Role::Selection; };
    CHECK(std::none_of(picture->items.begin(), picture->items.end(), is_frame)); // it goes with the part
    CHECK(shows(*b.canvas.overlay(b.s), moved));
    // The rest of the gesture needs no other picture.
    b.s.editor.preview(document::move_parts(b.s.editor.chart(), std::vector{moved}, {4, 0}));
    b.canvas.refresh(b.s);
    CHECK_FALSE(b.canvas.is_behind());
    CHECK(b.canvas.scene() == picture);
    CHECK(shows(*b.canvas.overlay(b.s), moved));

    REQUIRE(b.s.editor.commit_preview("Move it"));
    b.canvas.refresh(b.s);
    CHECK(shows(*b.canvas.overlay(b.s), moved)); // never out of sight
    REQUIRE(comes(b.canvas, b.s));
    CHECK(shows(*b.canvas.scene(), moved));
    CHECK_FALSE(shows(*b.canvas.overlay(b.s), moved));
}

TEST_CASE("nothing of another chart or of the other side stays while a large chart is drawn") {
    Bench b(400);
    REQUIRE(comes(b.canvas, b.s));
    b.s.seen_from = document::Side::Bottom;
    b.canvas.refresh(b.s);
    CHECK(b.canvas.scene()->items.empty());
    REQUIRE(comes(b.canvas, b.s));
    b.s.editor.start_new(testing::make_chart(420, 10, 2));
    b.canvas.refresh(b.s);
    CHECK(b.canvas.scene()->items.empty());
    REQUIRE(comes(b.canvas, b.s));
    CHECK_FALSE(b.canvas.scene()->items.empty());
}

TEST_CASE("a picture that is painted over several frames is on show when its painter says so, not before") {
    Bench b(400);
    b.canvas.paint_for(paint::paper_theme());
    const auto next = [&] {
        for (int i = 0; i < 3000; ++i) {
            b.canvas.refresh(b.s);
            if (b.canvas.next() && b.canvas.next()->order.computed && !b.s.background.is_busy()) break;
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        }
        return b.canvas.next();
    };
    const std::shared_ptr<const Picture> first = next();
    REQUIRE(first);
    REQUIRE(first->ground);
    CHECK(first->ground->scene == first->paints);
    CHECK(b.canvas.is_behind());
    CHECK(b.canvas.scene()->items.empty());
    b.canvas.show(first);
    CHECK_FALSE(b.canvas.is_behind());
    CHECK(b.canvas.scene() == first->shown);
    CHECK_FALSE(b.canvas.next());

    // What a hand changes meanwhile lies over the one on show; a picture of before that comes too late.
    const Id moved = b.part(3);
    b.s.editor.commit(document::move_parts(b.s.editor.chart(), std::vector{moved}, {3, 0}), "Move it");
    const std::shared_ptr<const Picture> second = next();
    REQUIRE(second);
    CHECK(shows(*b.canvas.overlay(b.s), moved));
    CHECK_FALSE(b.canvas.may_show(first));
    b.canvas.show(second);
    CHECK_FALSE(shows(*b.canvas.overlay(b.s), moved));

    // A small chart waits for nobody.
    b.s.editor.start_new(testing::make_chart(20, 4, 2));
    b.canvas.refresh(b.s);
    CHECK_FALSE(b.canvas.is_behind());
    CHECK_FALSE(b.canvas.may_show(second));
}

TEST_CASE("where a part has been, the board is seen until the picture without it has come") {
    Bench b(400);
    REQUIRE(comes(b.canvas, b.s));
    const Id part = b.part(5);
    const geometry::Vec2 was = b.s.editor.chart().parts[*document::find_part(b.s.editor.chart(), part)].placement.at;
    const auto is_covered = [&](const scene::Scene& overlay) {
        const geometry::Vec2 there = scene::scene_from_board(was, document::Side::Top);
        return !overlay.items.empty() && overlay.items.front().role == scene::Role::Board &&
               geometry::bounds(overlay.fills[overlay.items.front().index].area.outer).contains(there);
    };
    CHECK_FALSE(is_covered(*b.canvas.overlay(b.s)));
    b.s.editor.commit(document::move_parts(b.s.editor.chart(), std::vector{part}, {40, 0}), "Move it");
    b.canvas.refresh(b.s);
    REQUIRE(b.canvas.is_behind());
    CHECK(is_covered(*b.canvas.overlay(b.s)));
    CHECK(shows(*b.canvas.overlay(b.s), part));
    REQUIRE(comes(b.canvas, b.s));
    CHECK_FALSE(is_covered(*b.canvas.overlay(b.s)));
    b.s.editor.commit(document::remove_parts(b.s.editor.chart(), std::vector{b.part(6)}), "Delete one");
    b.canvas.refresh(b.s);
    CHECK(b.canvas.overlay(b.s)->items.front().role == scene::Role::Board);
}

TEST_CASE("changed parts are those that another chart has not, or not like that") {
    const Chart chart = testing::make_chart(30, 4, 1);
    const auto id = [&](std::size_t i) { return chart.parts[i].id; };
    CHECK(changed_parts(chart, chart).empty());
    const Chart moved = document::move_parts(chart, std::vector{id(3), id(9)}, {1, 0}).value();
    CHECK(changed_parts(chart, moved) == std::vector{id(3), id(9)});
    const Chart fewer = document::remove_parts(moved, std::vector{id(5)}).value();
    CHECK(changed_parts(moved, fewer).empty());
    CHECK(changed_parts(fewer, moved) == std::vector{id(5)});
    CHECK(changed_parts({}, chart).size() == 30);
}

} // namespace
} // namespace padchart::app
