#include "scene/through.hpp"

#include <cmath>

#include <doctest/doctest.h>

using namespace padchart;
using geometry::Homography;
using geometry::Vec2;
using scene::Role;
using scene::Scene;

TEST_CASE("a scene through a camera has its places where the camera sees them") {
    Scene flat;
    const std::int32_t source = flat.add_source(document::Id{"u4"});
    flat.add(Role::Body, scene::Fill{{{{0, 0}, {2, 0}, {2, 1}, {0, 1}}, {}}}, source);
    flat.add(Role::BodyEdge, scene::Line{{{0, 0}, {2, 0}}, false, scene::Weight::Thin}, source);
    flat.add(Role::LabelPart, scene::Text{.at = {1, 0.5}, .text = "U4", .height_mm = 0.5});
    flat.add(Role::Mark, scene::Symbol{{2, 1}, scene::Sign::Cross, 5});
    const Homography camera{{100, 5, 10, -5, 100, 20, 0.1, 0.05, 1}};
    const Scene seen = scene::through(flat, camera);
    REQUIRE(seen.items.size() == 4);
    CHECK(seen.items[0].source == source);
    CHECK(seen.sources[0].id == document::Id{"u4"});
    for (std::size_t i = 0; i < 4; ++i)
        CHECK(seen.fills[0].area.outer[i] == camera(flat.fills[0].area.outer[i]));
    CHECK(seen.lines[0].points[1] == camera({2, 0}));
    CHECK(seen.texts[0].at == camera({1, 0.5}));
    CHECK(seen.symbols[0].at == camera({2, 1}));
    // A text of half a millimetre grows as the square root of a small square's area does: own arithmetic.
    const double d = 1e-4;
    const Vec2 u = camera({1 + d, 0.5}) - camera({1 - d, 0.5}), v = camera({1, 0.5 + d}) - camera({1, 0.5 - d});
    CHECK(seen.texts[0].height_mm == doctest::Approx(0.5 * std::sqrt(cross(u, v)) / (2 * d)).epsilon(1e-4));
}

TEST_CASE("what lies beyond the horizon of the camera is left out") {
    Scene flat;
    flat.add(Role::Body, scene::Fill{{{{0, 0}, {1, 0}, {1, 1}}, {}}});
    flat.add(Role::Body, scene::Fill{{{{0, 0}, {-30, 0}, {1, 1}}, {}}});
    flat.add(Role::BodyEdge, scene::Line{{{-20, 0}, {-21, 0}}, false, scene::Weight::Thin});
    flat.add(Role::LabelPart, scene::Text{.at = {-20, 0}, .text = "far"});
    const Scene seen = scene::through(flat, {{1, 0, 0, 0, 1, 0, 0.1, 0, 1}}); // horizon at x = -10
    CHECK(seen.items.size() == 1);
}
