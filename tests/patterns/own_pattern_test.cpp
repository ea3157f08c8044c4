#include "patterns/own_pattern.hpp"

#include <doctest/doctest.h>

#include "support.hpp"

using namespace padchart;
using namespace padchart::patterns;
using namespace padchart::document;

namespace {

Footprint traced() {
    Footprint part = test::pattern("soic-8");
    part.id = {"u4"};
    part.name = "U4";
    part.value = "buffer";
    part.role = "level switch";
    part.placement = {{12.0, 7.0}, Angle::degrees(90), Side::Bottom};
    part.trace_key = "path7";
    part.comment = "seen under the lens";
    part.locked = true;
    part.condition.presence = Presence::Removed;
    part.pads[2].land = LandState::Lifted;
    part.pads[2].joint = JointState::Cold;
    part.orientation.state = RecordState::Recorded;
    part.orientation.mark = MarkKind::Dot;
    part.orientation.bearing = Angle::degrees(120);
    part.orientation.meaning = Meaning::Pin1;
    part.orientation.evidence = {EvidenceKind::Photo, "photo 2", "N. N.", "2024-05-01"};
    part.heat = HeatSensitivity{"lcp", {}, {}, "", {}};
    return part;
}

} // namespace

TEST_CASE("a pattern keeps the copper and leaves the one part behind") {
    const Footprint part = traced();
    const Footprint pattern = as_pattern(part);
    CHECK(pattern.id.is_empty());
    CHECK(pattern.name.empty());
    CHECK(pattern.value.empty());
    CHECK(pattern.role.empty());
    CHECK(pattern.placement == Placement{});
    CHECK(pattern.trace_key.empty());
    CHECK(pattern.comment.empty());
    CHECK(!pattern.locked);
    CHECK(pattern.condition == Condition{});
    CHECK(pattern.part_class == part.part_class);
    CHECK(pattern.heat == part.heat);
    REQUIRE(pattern.pads.size() == part.pads.size());
    for (std::size_t i = 0; i < part.pads.size(); ++i) {
        CHECK(pattern.pads[i].at == part.pads[i].at);
        CHECK(pattern.pads[i].shape == part.pads[i].shape);
        CHECK(pattern.pads[i].number == part.pads[i].number);
        CHECK(pattern.pads[i].land == LandState::NotChecked);
        CHECK(pattern.pads[i].joint == JointState::NotChecked);
    }
}

TEST_CASE("a pattern knows its mark but not whether the next part was looked at") {
    const Footprint pattern = as_pattern(traced());
    CHECK(pattern.orientation.state == RecordState::NotRecorded);
    CHECK(pattern.orientation.mark == MarkKind::Dot);
    CHECK(pattern.orientation.bearing == Angle::degrees(120));
    CHECK(pattern.orientation.evidence == Evidence{});
}

TEST_CASE("a pattern has its origin in the middle") {
    Footprint part = traced();
    for (Pad& pad : part.pads)
        pad.at += geometry::Vec2{3.0, -1.0};
    part.body->at += geometry::Vec2{3.0, -1.0};
    CHECK(as_pattern(part).body->at == geometry::Vec2{});
    CHECK(geometry::distance(as_pattern(part).pads[0].at, traced().pads[0].at) < 1e-12);
    part.body.reset();
    const geometry::Vec2 centre = centre_in_part(as_pattern(part));
    CHECK(geometry::length(centre) < 1e-12);
}

TEST_CASE("a pattern of a pattern is the same") {
    const Footprint pattern = as_pattern(traced());
    CHECK(as_pattern(pattern) == pattern);
}
