#include "scene/overlay_words.hpp"

#include <algorithm>

#include <doctest/doctest.h>

#include "scene/labels.hpp"

using namespace padchart;
using namespace padchart::scene;
using geometry::Box;
using geometry::Vec2;

namespace {

constexpr double kZoom = 20.0; // px per mm
const Box kView{{-20, -20}, {20, 20}};

void add_body(Scene& scene, const Box& box) {
    scene.add(Role::Body, Fill{{{box.min, {box.max.x, box.min.y}, box.max, {box.min.x, box.max.y}}, {}}});
}

/// A level line with its length in the middle.
Scene measured(double half_mm) {
    Scene overlay;
    overlay.add(Role::Measure, Line{{{-half_mm, 0}, {half_mm, 0}}, false, Weight::Thin});
    overlay.add(Role::LabelMeasure,
                Text{.at = {0, 0}, .text = "3.40 mm", .height_px = 11.5, .strong = true, .halo = true});
    return overlay;
}

Box words_of(const Scene& overlay) {
    return box_of(overlay.texts.front(), kZoom);
}

std::size_t leaders(const Scene& overlay) {
    return static_cast<std::size_t>(std::count_if(overlay.lines.begin(), overlay.lines.end(),
                                                  [](const Line& line) { return line.weight == Weight::Hair; }));
}

} // namespace

TEST_CASE("a length stands beside its line where nothing is in the way") {
    Scene overlay = measured(4);
    lay_words_off(overlay, {}, kView, kZoom);
    CHECK_FALSE(words_of(overlay).overlaps(Box{{-4, -0.01}, {4, 0.01}}));
    CHECK(std::abs(overlay.texts.front().at.y) * kZoom < 20.0);
    CHECK(leaders(overlay) == 0);
}

TEST_CASE("a length over parts leaves them and their names, and a leader tells where it belongs") {
    Scene picture;
    const Box part{{-6, -1.5}, {6, 1.5}};
    add_body(picture, part);
    picture.add(Role::LabelPart, Text{.at = {0, -2.2}, .text = "J2", .height_px = 12, .strong = true});
    Scene overlay = measured(4);
    lay_words_off(overlay, picture, kView, kZoom);
    CHECK_FALSE(words_of(overlay).overlaps(part));
    CHECK_FALSE(words_of(overlay).overlaps(box_of(picture.texts.front(), kZoom)));
    REQUIRE(leaders(overlay) == 1);
    const Line& leader = overlay.lines.back();
    CHECK(std::abs(leader.points.back().y) < 1e-9); // on the line
    CHECK(std::abs(leader.points.back().x) <= 4.0 + 1e-9);
    CHECK(geometry::distance(leader.points.front(), words_of(overlay).centre()) < words_of(overlay).width());
    CHECK(std::abs(leader.points.front().y) > 1.0); // not along the line
}

TEST_CASE("words that lie clear stay where they are") {
    Scene picture;
    add_body(picture, {{3, 3}, {5, 5}});
    Scene overlay;
    overlay.add(Role::Snap, Line{{{-0.4, 0}, {0.4, 0}}, false, Weight::Bold});
    overlay.add(Role::LabelMeasure,
                Text{.at = {0.7, 0.8}, .text = "corner of R1", .align = Align::Left, .height_px = 11, .halo = true});
    const std::string before = to_text(overlay);
    lay_words_off(overlay, picture, kView, kZoom);
    CHECK(to_text(overlay) == before);
}

TEST_CASE("what a place is called keeps off the name beside it") {
    Scene picture;
    picture.add(Role::LabelPart, Text{.at = {1.8, 0.8}, .text = "R17", .height_px = 12, .strong = true});
    Scene overlay;
    overlay.add(Role::Snap, Line{{{-0.4, 0}, {0.4, 0}}, false, Weight::Bold});
    overlay.add(Role::LabelMeasure,
                Text{.at = {0.7, 0.8}, .text = "corner of R1", .align = Align::Left, .height_px = 11, .halo = true});
    lay_words_off(overlay, picture, kView, kZoom);
    CHECK_FALSE(words_of(overlay).overlaps(box_of(picture.texts.front(), kZoom)));
    CHECK(geometry::distance(words_of(overlay).centre(), {0, 0}) * kZoom < 80.0);
}

TEST_CASE("two lengths over each other do not cover each other") {
    Scene overlay = measured(4);
    const Scene second = measured(4);
    overlay.add(Role::LabelMeasure, second.texts.front());
    lay_words_off(overlay, {}, kView, kZoom);
    CHECK_FALSE(words_of(overlay).overlaps(box_of(overlay.texts[1], kZoom)));
}

TEST_CASE("words stay in sight") {
    const Box view{{-5, -0.3}, {5, 20}};
    Scene overlay = measured(4);
    lay_words_off(overlay, {}, view, kZoom);
    CHECK(words_of(overlay).min.y >= view.min.y);
}

TEST_CASE("in the middle of a large part words lie on it, but not on its name") {
    Scene picture;
    add_body(picture, {{-18, -18}, {18, 18}});
    picture.add(Role::LabelPart, Text{.at = {0, -1}, .text = "J2", .height_px = 12, .strong = true});
    Scene overlay = measured(4);
    lay_words_off(overlay, picture, kView, kZoom);
    CHECK_FALSE(words_of(overlay).overlaps(box_of(picture.texts.front(), kZoom)));
    CHECK_FALSE(words_of(overlay).overlaps(Box{{-4, -0.01}, {4, 0.01}}));
    CHECK(std::abs(overlay.texts.front().at.y) * kZoom < 40.0);
}
