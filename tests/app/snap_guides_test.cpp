#include "support.hpp"

#include <algorithm>

#include "app/part_snap.hpp"
#include "app/snap_guides.hpp"

namespace padchart::app {
namespace {

using geometry::Box;
using geometry::Vec2;

// Expected places are own arithmetic.
GuideThing thing(const char* name, Vec2 centre, Vec2 size = {1, 1}, const char* likeness = "chip") {
    return {name, Box{centre - size / 2.0, centre + size / 2.0}, likeness};
}

/// Where the middle of a chip from the origin ends that the hand has moved to `at`.
GuideShift to(const std::vector<GuideThing>& things, Vec2 at, GuideOptions options = {}) {
    return snap_to_guides(things, thing("moving", {0, 0}), at, options);
}

bool says(const GuideShift& shift, std::string_view words) {
    return std::any_of(shift.guides.begin(), shift.guides.end(),
                       [&](const Guide& guide) { return guide.words.find(words) != std::string::npos; });
}

TEST_CASE("a part comes level with a neighbour and the other direction stays free") {
    const GuideShift shift = to({thing("R2", {5, 3}, {2, 2}, "other")}, {2, 3.1});
    CHECK(shift.by.x == 2);
    CHECK(shift.by.y == doctest::Approx(3));
    CHECK(shift.met_y);
    CHECK_FALSE(shift.met_x);
    CHECK(says(shift, "level with R2"));
}

TEST_CASE("edges of unequal parts come in line") {
    const GuideShift shift = to({thing("U1", {5, 3}, {4, 4}, "other")}, {1, 1.4});
    CHECK(shift.by.y == doctest::Approx(1.5)); // its upper edge lies at 1
    CHECK(says(shift, "edge in line with U1"));
}

TEST_CASE("a row goes on at its own pitch in both directions") {
    const std::vector row{thing("R1", {0, 0}), thing("R2", {2.5, 0})};
    const GuideShift after = to(row, {5.1, 0.1});
    CHECK(after.by.x == doctest::Approx(5));
    CHECK(after.by.y == doctest::Approx(0));
    CHECK(says(after, "same pitch as R1 and R2: 2.50 mm"));
    CHECK(to(row, {-2.6, 0}).by.x == doctest::Approx(-2.5));
    CHECK_FALSE(says(to(row, {5.1, 0.1}, {.pitch = false}), "pitch"));
    CHECK(says(to(row, {5.1, 0.1}, {.unit = "units"}), "R2: 2.50 units")); // of a chart without a scale
}

TEST_CASE("midway between two parts the gaps are equal") {
    const GuideShift shift = to({thing("U1", {0, 0}, {4, 2}, "a"), thing("U2", {10, 0}, {2, 2}, "b")}, {5.4, 0.9});
    CHECK(shift.by.x == doctest::Approx(5.5)); // from 2 to 9
    CHECK(says(shift, "midway between U1 and U2"));
}

TEST_CASE("a part is put opposite to its twin about a third part") {
    const std::vector things{thing("C1", {2, 3}), thing("U1", {5, 5}, {3, 3}, "chip of another kind")};
    const GuideShift shift = to(things, {8.1, 3.05});
    CHECK(shift.by.x == doctest::Approx(8));
    CHECK(shift.by.y == doctest::Approx(3));
    CHECK(says(shift, "opposite to C1, about U1"));
    const std::vector unlike{thing("C1", {2, 3}, {1, 1}, "another"), things[1]};
    CHECK_FALSE(says(to(unlike, {8.1, 3.05}), "opposite"));
}

TEST_CASE("what is too far away is not met") {
    CHECK(to({thing("R2", {50, 3})}, {2, 3.1}).guides.empty());
    CHECK(to({thing("R2", {5, 3})}, {2, 3.4}).guides.empty());
    CHECK(to({}, {2, 3}).by == Vec2{2, 3});
}

TEST_CASE("pads meet pads before neighbours are asked and Ctrl lets nothing be met") {
    const document::Chart chart = row_of_chips();
    const document::Footprint& r1 = part_named(chart, "R1");
    const PartSnap snap(chart, document::Side::Top, {r1});
    const SnapDesk wanted;
    // R1 onto R2: every pad's middle on the other one's.
    const PartShift on = snap.shift({5.03, 0.02}, 0.1, wanted, false);
    CHECK(on.by == Vec2{5, 0});
    CHECK(on.pad.kind == SnapKind::Centre);
    // From afar the reach stays less than the part: a quarter of its 0.8 mm.
    CHECK(snap.shift({3.2, 0.3}, 5.0, wanted, false).by == Vec2{3.2, 0.3});
    const PartShift level = snap.shift({3.2, 0.06}, 0.1, wanted, false);
    CHECK(level.by == Vec2{3.2, 0});
    CHECK_FALSE(level.is_free());
    const PartShift freed = snap.shift({3.2, 0.06}, 0.1, wanted, true);
    CHECK(freed.by == Vec2{3.2, 0.06});
    CHECK(freed.is_free());
}

TEST_CASE("the step of moves is kept where nothing is met") {
    const document::Chart chart = row_of_chips();
    const PartSnap snap(chart, document::Side::Top, {part_named(chart, "R1")});
    SnapDesk wanted;
    wanted.grid_mm = 0.25;
    CHECK(snap.shift({1.3, 7.9}, 0.05, wanted, false).by == Vec2{1.25, 8});
    wanted.grid_mm = 0;
    CHECK(snap.shift({1.3123, 7.9}, 0.05, wanted, false).by == Vec2{1.3123, 7.9});
}

} // namespace
} // namespace padchart::app
