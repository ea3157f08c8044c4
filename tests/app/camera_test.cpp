#include "support.hpp"

#include "app/camera.hpp"

namespace padchart::app {
namespace {

using geometry::Box;
using geometry::Vec2;

Camera camera() {
    Camera c;
    c.set_viewport({{100, 50}, {900, 650}});
    c.look_at({10, 20}, 40);
    return c;
}

TEST_CASE("the middle of the viewport shows what the camera looks at") {
    const Camera c = camera();
    CHECK(c.screen_from_scene({10, 20}) == Vec2{500, 350});
    CHECK(c.screen_from_scene({11, 20}) == Vec2{540, 350}); // 40 px a mm
}

TEST_CASE("from the screen to the scene and back is where it began") {
    const Camera c = camera();
    const Vec2 px{123.25, 77.5};
    const Vec2 back = c.screen_from_scene(c.scene_from_screen(px));
    CHECK(back.x == doctest::Approx(px.x));
    CHECK(back.y == doctest::Approx(px.y));
}

TEST_CASE("zooming keeps the place under the pointer") {
    Camera c = camera();
    const Vec2 pointer{200, 600};
    const Vec2 held = c.scene_from_screen(pointer);
    for (const double factor : {1.15, 3.0, 0.2, 1e9, 1e-12}) {
        c.zoom_at(pointer, factor);
        CHECK(c.scene_from_screen(pointer).x == doctest::Approx(held.x));
        CHECK(c.scene_from_screen(pointer).y == doctest::Approx(held.y));
        CHECK(c.px_per_mm() <= kMaxPxPerMm);
        CHECK(c.px_per_mm() >= kMinPxPerMm);
    }
}

TEST_CASE("fitting shows all of the box and as much of the room below as was asked for") {
    Camera c = camera();
    const Box box{{-5, -5}, {35, 15}};
    c.fit(box, 40, 100);
    const Vec2 upper = c.screen_from_scene(box.min);
    const Vec2 lower = c.screen_from_scene(box.max);
    CHECK(upper.x >= 100 + 40 - 1e-6);
    CHECK(upper.y >= 50 + 40 - 1e-6);
    CHECK(lower.x <= 900 - 40 + 1e-6);
    CHECK(lower.y <= 650 - 100 - 40 + 1e-6);
    CHECK(lower.x - upper.x == doctest::Approx(720)); // the wide way decides: 800 less twice 40
}

TEST_CASE("fitting nothing leaves the camera alone") {
    Camera c = camera();
    c.fit(Box{}, 40);
    CHECK(c.centre() == Vec2{10, 20});
    CHECK(c.px_per_mm() == 40);
}

TEST_CASE("showing a box pans no farther than it must") {
    Camera c = camera();
    c.show({{9, 19}, {11, 21}}, 10); // in view already
    CHECK(c.centre() == Vec2{10, 20});
    c.show({{30, 19}, {31, 21}}, 0);
    CHECK(c.centre().x == doctest::Approx(31 - 10)); // 10 mm is half of the view's 800 px
    CHECK(c.centre().y == 20);
    CHECK(c.px_per_mm() == 40);
}

TEST_CASE("a step is 1 2 or 5 times a power of ten and long enough") {
    CHECK(round_step_mm(60, 46) == doctest::Approx(1.0));  // 46 px are 0.77 mm
    CHECK(round_step_mm(25, 46) == doctest::Approx(2.0));  // 1.84 mm
    CHECK(round_step_mm(10, 46) == doctest::Approx(5.0));  // 4.6 mm
    CHECK(round_step_mm(9, 46) == doctest::Approx(10.0));  // 5.1 mm
    CHECK(round_step_mm(460, 46) == doctest::Approx(0.1)); // 0.1 mm to the dot
}

} // namespace
} // namespace padchart::app
