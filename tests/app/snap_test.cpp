#include <algorithm>
#include <cmath>
#include <random>

#include "support.hpp"

#include "app/snap.hpp"
#include "app/tools/tool.hpp"

namespace padchart::app {
namespace {

using geometry::Ring;
using geometry::Vec2;

SnapOutline square(const char* name, Vec2 centre, double side) {
    return {name, geometry::transformed(geometry::rectangle(side, side), geometry::Affine::translation(centre)), false,
            true};
}

bool are_near(Vec2 a, Vec2 b) {
    return geometry::distance(a, b) < 1e-9;
}

TEST_CASE("near a corner the place is the corner and says whose it is") {
    const SnapField field({square("pad 1 of U1", {5, 5}, 2)});
    const Snap snap = field.snap({4.1, 3.95}, {.reach = 0.2});
    CHECK(snap.kind == SnapKind::Corner);
    CHECK(are_near(snap.at, {4, 4}));
    CHECK(snap.words == "corner of pad 1 of U1");
}

TEST_CASE("centres and middles of edges are met as points") {
    const SnapField field({square("a", {5, 5}, 2)});
    CHECK(field.snap({5.1, 5.1}, {.reach = 0.2}).kind == SnapKind::Centre);
    const Snap middle = field.snap({5.1, 3.95}, {.reach = 0.2});
    CHECK(middle.kind == SnapKind::Middle);
    CHECK(are_near(middle.at, {5, 4}));
}

TEST_CASE("an edge is met where no point is near and the nearest place of it is taken") {
    const SnapField field({square("a", {5, 5}, 2)});
    const Snap snap = field.snap({4.5, 3.9}, {.reach = 0.2});
    CHECK(snap.kind == SnapKind::Edge);
    CHECK(are_near(snap.at, {4.5, 4}));
}

TEST_CASE("beyond the reach nothing is met and the place stays") {
    const SnapField field({square("a", {5, 5}, 2)});
    const Snap snap = field.snap({3.7, 3.7}, {.reach = 0.2});
    CHECK(snap.kind == SnapKind::None);
    CHECK(snap.at == Vec2{3.7, 3.7});
    CHECK(snap.words.empty());
}

TEST_CASE("the grid is met where nothing else is") {
    const SnapField field({square("a", {5, 5}, 2)});
    const Snap snap = field.snap({1.03, 1.48}, {.reach = 0.1, .grid = 0.05});
    CHECK(snap.kind == SnapKind::Grid);
    CHECK(are_near(snap.at, {1.05, 1.5}));
    CHECK(field.snap({4.01, 4.01}, {.reach = 0.1, .grid = 0.05}).kind == SnapKind::Corner);
}

TEST_CASE("a place is level with a corner only where that is nearer than any centre") {
    const SnapField field({square("a", {0, 0}, 1), square("b", {4, 0.1}, 1)}); // corners at y -0.5, 0.5 and -0.4, 0.6
    const SnapOptions options{.reach = 0.3, .level_within = 10};
    const Snap corner = field.snap({2, 0.62}, options);
    CHECK(are_near(corner.at, {2, 0.6}));
    CHECK(corner.words == "level with a corner of b");
    CHECK(field.snap({2, 0.75}, options).kind == SnapKind::None); // farther than a third of the reach
    CHECK(are_near(field.snap({2, 0.2}, options).at, {2, 0.1}));
}

TEST_CASE("a place is level with centres near by in each direction by itself") {
    const SnapField field({square("a", {0, 0}, 1), square("b", {4, 6}, 1)});
    const SnapOptions options{.reach = 0.1, .grid = 0.5, .level_within = 10};
    const Snap both = field.snap({4.05, 0.04}, options);
    CHECK(both.kind == SnapKind::Level);
    CHECK(are_near(both.at, {4, 0}));
    CHECK(both.level_with.size() == 2);
    const Snap one = field.snap({4.05, 2.2}, options);
    CHECK(are_near(one.at, {4, 2}));
    CHECK(one.words == "in line with b");
    CHECK(both.words == "in line with b, level with a");
    CHECK(field.snap({4.05, 2.2}, {.reach = 0.1, .level_within = 1}).kind == SnapKind::None);
}

TEST_CASE("a round outline has a centre and an edge and no corners") {
    const SnapField field({{"ring", geometry::circle(1.0, 0.002), true, true}});
    CHECK(field.snap({0.05, 0}, {.reach = 0.1}).kind == SnapKind::Centre);
    const Snap edge = field.snap({0.71, 0.71}, {.reach = 0.1});
    CHECK(edge.kind == SnapKind::Edge);
    CHECK(std::abs(geometry::length(edge.at) - 1.0) < 0.002);
}

TEST_CASE("corners of a flattened curve are no corners") {
    CHECK(corners_of(geometry::circle(1.0, 0.002)).empty());
    CHECK(corners_of(geometry::rectangle(2, 1)).size() == 4);
    CHECK(corners_of(Ring{{0, 0}, {1, 0}, {2, 0}, {2, 2}, {0, 2}}).size() == 4);
}

TEST_CASE("a part that moves takes the anchor that needs least to meet a point") {
    const SnapField field({square("a", {5, 5}, 2)});
    const std::vector<Vec2> anchors{{0, 0}, {1, 0}};
    const SnapShift shift = field.snap_shift(anchors, {3.05, 4.0}, {.reach = 0.2});
    CHECK(shift.snap.kind == SnapKind::Corner);
    CHECK(are_near(shift.by, {3, 4})); // the second anchor comes to lie on the corner at 4 4
    CHECK(are_near(shift.snap.at, {4, 4}));
}

TEST_CASE("a part that meets nothing moves by whole steps of the grid") {
    const SnapField field;
    const std::vector<Vec2> anchors{{0.013, 0.027}};
    const SnapShift shift = field.snap_shift(anchors, {1.004, -0.496}, {.reach = 0.1, .grid = 0.01});
    CHECK(are_near(shift.by, {1.0, -0.5}));
    CHECK(shift.snap.kind == SnapKind::Grid);
}

TEST_CASE("a chart's field holds one side and leaves out what moves") {
    const document::Chart chart = row_of_chips();
    const Vec2 pad = document::board_from_part(part_named(chart, "R2").placement)(part_named(chart, "R2").pads[0].at);
    const SnapField all = snap_field(chart, {});
    const Snap snap = all.snap(pad + Vec2{0.02, 0.02}, {.reach = 0.1});
    CHECK(snap.kind == SnapKind::Centre);
    CHECK(snap.words == "centre of pad 1 of R2");
    const std::vector<document::Id> moving{document::Id{"r2"}};
    CHECK(snap_field(chart, {.without = moving}).snap(pad, {.reach = 0.1}).kind == SnapKind::None);
    CHECK(all.snap({5, 3}, {.reach = 0.1}).kind == SnapKind::None); // R9 lies on the bottom
    CHECK(snap_field(chart, {.side = document::Side::Bottom}).snap({5, 3}, {.reach = 0.1}).kind == SnapKind::Centre);
}

/// The same answer by looking at every outline: what the index must not change.
SnapKind plain_kind(const std::vector<SnapOutline>& outlines, Vec2 at, double reach, double& distance) {
    double point = 1e9, edge = 1e9;
    SnapKind kind = SnapKind::None;
    for (const SnapOutline& o : outlines) {
        std::vector<std::pair<Vec2, SnapKind>> points{{geometry::bounds(o.ring).centre(), SnapKind::Centre}};
        for (std::size_t i = 0; i < 4; ++i) {
            const Vec2 a = o.ring[i], b = o.ring[(i + 1) % 4];
            points.push_back({a, SnapKind::Corner});
            points.push_back({(a + b) / 2, SnapKind::Middle});
            for (int k = 0; k <= 4000; ++k)
                edge = std::min(edge, geometry::distance(at, geometry::lerp(a, b, k / 4000.0)));
        }
        for (const auto& [p, its_kind] : points)
            if (geometry::distance(at, p) < point) {
                point = geometry::distance(at, p);
                kind = its_kind;
            }
    }
    distance = point <= reach ? point : edge;
    return point <= reach ? kind : edge <= reach ? SnapKind::Edge : SnapKind::None;
}

TEST_CASE("with many outlines the answer is that of looking at each") {
    std::mt19937 random(20260314);
    std::uniform_real_distribution<double> place(0, 20), size(0.3, 1.5);
    std::vector<SnapOutline> outlines;
    for (int i = 0; i < 60; ++i)
        outlines.push_back(square("x", {place(random), place(random)}, size(random)));
    const SnapField field(outlines);
    for (int i = 0; i < 100; ++i) {
        const Vec2 at{place(random), place(random)};
        double distance = 0;
        const SnapKind kind = plain_kind(outlines, at, 0.3, distance);
        const Snap snap = field.snap(at, {.reach = 0.3});
        CHECK(snap.kind == kind);
        if (kind != SnapKind::None) CHECK(std::abs(geometry::distance(at, snap.at) - distance) < 1e-3);
    }
}

TEST_CASE("the overlay shows where and what was met") {
    scene::Scene out;
    add_snap(out, {{1, 2}, SnapKind::Corner, "corner of a", {}}, document::Side::Bottom,
             Pointer{{}, 40, 1, false, false});
    REQUIRE(out.texts.size() == 1);
    CHECK(out.texts[0].text == "corner of a");
    CHECK(out.lines[0].points[0].y == 2);
    CHECK(out.bounds.centre().x == doctest::Approx(-1)); // seen from below
    scene::Scene nothing;
    add_snap(nothing, {}, document::Side::Top, Pointer{});
    CHECK(nothing.items.empty());
}

} // namespace
} // namespace padchart::app
