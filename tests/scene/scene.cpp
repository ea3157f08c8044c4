#include "scene/scene.hpp"

#include <set>

#include <doctest/doctest.h>

#include "golden.hpp"

using namespace padchart;
using namespace padchart::scene;
using geometry::Vec2;

TEST_CASE("every role has a name of its own") {
    std::set<std::string> names;
    for (std::size_t i = 0; i < kRoleCount; ++i)
        names.insert(std::string(to_text(static_cast<Role>(i))));
    CHECK(names.size() == kRoleCount);
    CHECK(names.count("") == 0);
    CHECK(to_text(Role::Paper) == "paper");
    CHECK(to_text(Role::BadgeNote) == "badge-note");
    CHECK(to_text(Role::ScaleBar) == "scale-bar");
}

TEST_CASE("a scene keeps the order things were added in and grows round areas and lines") {
    Scene scene;
    const std::int32_t part = scene.add_source(document::Id{"p1"});
    scene.add(Role::Body, Fill{{{{0, 0}, {2, 0}, {2, 1}}, {}}}, part);
    scene.add(Role::BodyEdge, Line{{{0, 0}, {-1, 3}}, false, Weight::Thin}, part);
    scene.add(Role::LabelPart, Text{.at = {50, 50}, .text = "R1"});
    scene.add(Role::BadgeDone, Symbol{{60, 60}, Sign::Tick, 9.0});
    CHECK(scene.items.size() == 4);
    CHECK(scene.items[1].role == Role::BodyEdge);
    CHECK(scene.items[2].source == -1);
    CHECK(scene.bounds == geometry::Box{{-1, 0}, {2, 3}});
}

TEST_CASE("a scene of one of each kind reads as text") {
    Scene scene;
    const std::int32_t part = scene.add_source(document::Id{"p1"});
    const std::int32_t pad = scene.add_source(document::Id{"p1"}, 3);
    scene.add(Role::Board, Fill{{{{0, 0}, {4, 0}, {4, 4}, {0, 4}}, {{{1, 1}, {1, 2}, {2, 2}}}}});
    scene.add(Role::PadCopper, Fill{{{{0.1234567, -0.00001}, {1, 0}, {1, 1}}, {}}}, pad);
    scene.add(Role::BodyEdge, Line{{{0, 0}, {1, 0.5}}, true, Weight::Bold}, part);
    scene.add(Role::Measure, Line{{{0, 0}, {1, 0}}, false, Weight::Hair});
    scene.add(Role::LabelPart, Text{.at = {1, 2}, .text = "U4", .fit_width_mm = 1.5, .strong = true, .halo = true},
              part);
    scene.add(Role::PageText, Text{.at = {1, 2}, .text = "10 µF", .align = Align::Left, .height_mm = 3.44});
    scene.add(Role::BadgeUnknown, Symbol{{3, 3}, Sign::Query, 9.0}, part);
    test::check_golden("one_of_each", to_text(scene));
}
