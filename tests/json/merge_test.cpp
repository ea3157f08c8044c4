// Each rule of the merge alone.

#include <doctest/doctest.h>

#include <algorithm>

#include "document/edits.hpp"
#include "json/chart_file.hpp"
#include "json/merge.hpp"
#include "json/merge_order.hpp"

using namespace padchart;
using namespace padchart::document;
using json::merge;

namespace {

Pad pad(const std::string& number, double x) {
    Pad pad;
    pad.number = number;
    pad.at = {x, 0};
    pad.shape = {ShapeKind::Rectangle, 0.5, 0.8, {}};
    return pad;
}

Footprint part(const std::string& name, geometry::Vec2 at) {
    Footprint part;
    part.id = {"part-" + name};
    part.name = name;
    part.placement.at = at;
    part.pads = {pad("1", -0.5), pad("2", 0.5)};
    return part;
}

Note note(const std::string& id, const std::string& text) {
    Note note;
    note.id = {id};
    note.text = text;
    return note;
}

Reading reading(const std::string& id, double value) {
    Reading reading;
    reading.id = {id};
    reading.value = value;
    reading.unit = "V";
    return reading;
}

Chart base_chart() {
    Chart chart;
    chart.parts.add(part("r1", {1, 1}));
    chart.parts.add(part("d2", {5, 1}));
    chart.notes.add(note("n1", "lifted land under d2"));
    chart.readings.add(reading("m1", 0.5));
    return chart;
}

template <class Edit>
Chart edited(const Chart& chart, std::size_t i, Edit edit) {
    Chart out = chart;
    Footprint part = out.parts[i];
    edit(part);
    out.parts.replace(i, part);
    return out;
}

json::MergeResult merged(const Chart& ours, const Chart& theirs, const Chart& base = base_chart()) {
    const Result<json::MergeResult> result = merge(base, ours, theirs, {"bench 1", "bench 2"});
    REQUIRE_MESSAGE(result.has_value(), (result ? "" : describe(result.error())));
    return *result;
}

std::vector<std::string> fields_of(const json::MergeResult& result) {
    std::vector<std::string> out;
    for (const Conflict& conflict : result.conflicts)
        out.push_back(conflict.thing.text + conflict.field);
    std::sort(out.begin(), out.end());
    return out;
}

using Names = std::vector<std::string>;

} // namespace

TEST_CASE("edits of different fields of one part combine") {
    const Chart ours = edited(base_chart(), 0, [](Footprint& p) {
        p.value = "10k";
        p.condition.joint = JointState::Cold;
    });
    const Chart theirs = edited(base_chart(), 0, [](Footprint& p) {
        p.placement.at = {2, 2};
        p.condition.body = BodyState::Cracked;
        p.pads[1].land = LandState::Lifted;
    });
    const json::MergeResult result = merged(ours, theirs);
    CHECK(result.conflicts.empty());
    const Footprint& r1 = result.chart.parts[0];
    CHECK(r1.value == "10k");
    CHECK(r1.placement.at == geometry::Vec2{2, 2});
    CHECK(r1.condition.joint == JointState::Cold);
    CHECK(r1.condition.body == BodyState::Cracked);
    CHECK(r1.pads[1].land == LandState::Lifted);
}

TEST_CASE("different edits of one field are a conflict that keeps both values and takes ours") {
    const auto with_value = [](const std::string& value) {
        return edited(base_chart(), 0, [&](Footprint& p) { p.value = value; });
    };
    const json::MergeResult result = merged(with_value("10k"), with_value("12k"));
    CHECK(result.chart.parts[0].value == "10k");
    REQUIRE(result.conflicts.size() == 1);
    const Conflict expected{{"part-r1"}, "/value", "", "\"10k\"", "\"12k\"", "bench 1", "bench 2", {}};
    CHECK(result.conflicts[0] == expected);
    CHECK(result.chart.conflicts == result.conflicts);
    CHECK(merged(with_value("10k"), with_value("10k")).conflicts.empty());
}

TEST_CASE("a mark its bearing and its meaning are one statement") {
    const auto record = [](MarkKind mark, double bearing_deg, Meaning meaning) {
        return edited(base_chart(), 1, [&](Footprint& p) {
            p.orientation.state = RecordState::Recorded;
            p.orientation.mark = mark;
            p.orientation.bearing = Angle::degrees(bearing_deg);
            p.orientation.meaning = meaning;
        });
    };
    const Chart ours = record(MarkKind::Bar, 180, Meaning::Anode);
    const json::MergeResult result = merged(ours, record(MarkKind::Band, 180, Meaning::Cathode));
    CHECK(result.chart.parts[1].orientation == ours.parts[1].orientation);
    CHECK(fields_of(result) == Names{"part-d2/orientation/mark", "part-d2/orientation/meaning"});
}

TEST_CASE("a reading keeps its number with its unit") {
    Chart ours = base_chart();
    ours.readings.replace(0, reading("m1", 0.6));
    Chart theirs = base_chart();
    Reading millivolts = reading("m1", 500);
    millivolts.unit = "mV";
    theirs.readings.replace(0, millivolts);
    const json::MergeResult result = merged(ours, theirs);
    CHECK(result.chart.readings[0] == ours.readings[0]);
    CHECK(fields_of(result) == Names{"m1/unit", "m1/value"});
}

TEST_CASE("width and height of a pad are taken from one side") {
    const Chart ours = edited(base_chart(), 0, [](Footprint& p) { p.pads[0].shape.width_mm = 0.6; });
    const Chart theirs = edited(base_chart(), 0, [](Footprint& p) {
        p.pads[0].shape = {ShapeKind::Round, 0.7, 0.7, {}};
    });
    const json::MergeResult result = merged(ours, theirs);
    CHECK(result.chart.parts[0].pads[0].shape == ours.parts[0].pads[0].shape);
    CHECK(!result.conflicts.empty());
    CHECK(merged(base_chart(), theirs).chart == theirs);
}

TEST_CASE("pads are one field where their number changed") {
    const Chart ours = edited(base_chart(), 0, [](Footprint& p) { p.pads.push_back(pad("3", 1.5)); });
    const Chart theirs = edited(base_chart(), 0, [](Footprint& p) { p.pads[0].land = LandState::Torn; });
    const json::MergeResult result = merged(ours, theirs);
    CHECK(result.chart.parts[0].pads == ours.parts[0].pads);
    CHECK(fields_of(result) == Names{"part-r1/pads"});
    CHECK(result.conflicts[0].theirs.find("\"torn\"") != std::string::npos);
}

TEST_CASE("what both sides added is there once and in an order that does not depend on the side") {
    Chart ours = base_chart();
    ours.notes.add(note("n3", "from bench 1"));
    Chart theirs = base_chart();
    theirs.notes.add(note("n2", "from bench 2"));
    theirs.parts.add(part("c3", {9, 9}));
    const json::MergeResult result = merged(ours, theirs);
    CHECK(result.conflicts.empty());
    REQUIRE(result.chart.notes.size() == 3);
    CHECK(result.chart.notes[1].id == Id{"n2"});
    CHECK(result.chart.notes[2].id == Id{"n3"});
    CHECK(result.chart.parts.size() == 3);
    CHECK(merged(theirs, ours).chart == result.chart);
}

TEST_CASE("what one side deleted is gone unless the other edited it") {
    Chart ours = base_chart();
    ours.parts.erase(0);
    ours.notes.erase(0);
    CHECK(merged(ours, base_chart()).chart == ours);
    Chart theirs = edited(base_chart(), 0, [](Footprint& p) { p.comment = "look again"; });
    theirs.notes.replace(0, note("n1", "glued"));
    const json::MergeResult result = merged(ours, theirs);
    CHECK(fields_of(result) == Names{"n1", "part-r1"});
    CHECK(result.chart.parts.size() == 2);
    CHECK(result.chart.notes[0].text == "glued");
    CHECK(result.conflicts[0].ours.empty());
    CHECK(fields_of(merged(theirs, ours)) == Names{"n1", "part-r1"});
}

TEST_CASE("a deleted part of which the other side took a reading stays and is a conflict") {
    Chart ours = base_chart();
    ours.parts.erase(1);
    Chart theirs = base_chart();
    Reading fresh = reading("m2", 0.4);
    fresh.target = {"part-d2"};
    theirs.readings.add(fresh);
    const json::MergeResult result = merged(ours, theirs);
    CHECK(result.chart.parts.size() == 2);
    CHECK(result.chart.readings.size() == 2);
    CHECK(fields_of(result) == Names{"part-d2"});
}

TEST_CASE("two notes under one id both stay") {
    Chart ours = base_chart();
    ours.notes.add(note("n2", "from bench 1"));
    Chart theirs = base_chart();
    theirs.notes.add(note("n2", "from bench 2"));
    const json::MergeResult result = merged(ours, theirs);
    REQUIRE(result.chart.notes.size() == 3);
    std::vector<std::string> texts;
    for (const Note& n : result.chart.notes)
        texts.push_back(n.text);
    CHECK(std::count(texts.begin(), texts.end(), "from bench 1") == 1);
    CHECK(std::count(texts.begin(), texts.end(), "from bench 2") == 1);
    CHECK(fields_of(result) == Names{"n2"});
}

TEST_CASE("a part added on both sides is one part when its name says so and two when not") {
    const auto with_added = [](const std::string& name, const std::string& value) {
        Chart chart = base_chart();
        Footprint added = part("c3", {9, 9});
        added.name = name;
        added.value = value;
        chart.parts.add(added);
        return chart;
    };
    const json::MergeResult same = merged(with_added("C3", "100n"), with_added("C3", "220n"));
    CHECK(same.chart.parts.size() == 3);
    CHECK(fields_of(same) == Names{"part-c3/value"});
    Chart theirs = with_added("L4", "");
    Reading on_it = reading("m3", 1.0);
    on_it.target = {"part-c3"};
    theirs.readings.add(on_it);
    const json::MergeResult two = merged(with_added("C3", "100n"), theirs);
    CHECK(two.chart.parts.size() == 4);
    const Id target = two.chart.readings[1].target;
    CHECK(target != Id{"part-c3"});
    CHECK(two.chart.parts[*find_part(two.chart, target)].name == "L4");
}

TEST_CASE("of two things under one id it does not depend on the side which keeps it") {
    Chart ours = base_chart();
    ours.notes.add(note("n2", "from bench 1"));
    Chart theirs = base_chart();
    theirs.notes.add(note("n2", "from bench 2"));
    const auto texts_by_id = [](const json::MergeResult& result) {
        std::vector<std::string> out;
        for (const Note& n : result.chart.notes)
            out.push_back(n.id.text + ": " + n.text);
        return out;
    };
    CHECK(texts_by_id(merged(ours, theirs)) == texts_by_id(merged(theirs, ours)));
}

TEST_CASE("one id for a part here and a note there is no conflict and both stay") {
    Chart ours = base_chart();
    ours.parts.add(part("c3", {9, 9}));
    Chart theirs = base_chart();
    theirs.notes.add(note("part-c3", "a note"));
    const json::MergeResult result = merged(ours, theirs);
    CHECK(result.conflicts.empty());
    CHECK(result.chart.parts.size() == 3);
    CHECK(result.chart.notes.size() == 2);
}

TEST_CASE("keys that the program does not know are merged like those it knows") {
    Chart base = base_chart();
    base.extras = {{"shelf", "\"A\""}};
    Chart ours = base;
    ours.extras = {{"shelf", "\"B\""}, {"lamp", "{\"kind\": \"ring\", \"on\": true}"}};
    ours = edited(ours, 0, [](Footprint& p) { p.extras = {{"drawer", "7"}}; });
    Chart theirs = base;
    theirs.extras = {{"shelf", "\"A\""}, {"fan", "2.50"}};
    theirs = edited(theirs, 0, [](Footprint& p) { p.extras = {{"roll", "[1, 2]"}}; });
    const json::MergeResult result = merged(ours, theirs, base);
    CHECK(result.conflicts.empty());
    CHECK(result.chart.extras ==
          Extras{{"shelf", "\"B\""}, {"fan", "2.50"}, {"lamp", "{\"kind\": \"ring\", \"on\": true}"}});
    CHECK(result.chart.parts[0].extras == Extras{{"drawer", "7"}, {"roll", "[1, 2]"}});
    theirs.extras[0].second = "\"C\"";
    CHECK(fields_of(merged(ours, theirs, base)) == Names{"/shelf"});
}

TEST_CASE("a scale set on one side while the other drew is a conflict") {
    const Chart ours = *rescale(base_chart(), 0.1, Scale{});
    Chart theirs = base_chart();
    theirs.parts.add(part("c3", {90, 90}));
    CHECK(fields_of(merged(ours, theirs)) == Names{"/scale"});
    const Chart only_words = edited(base_chart(), 0, [](Footprint& p) { p.role = "pull-up"; });
    CHECK(merged(ours, only_words).conflicts.empty());
}

TEST_CASE("a conflict that one side settled does not come back and one that nobody did stays") {
    Chart base = base_chart();
    const Conflict old{{"part-r1"}, "/value", "", "\"1k\"", "\"2k\"", "bench 1", "bench 2", {}};
    base.conflicts = {old};
    Chart ours = *settle_conflict(base, 0);
    Chart theirs = base;
    theirs.title.title = "other";
    CHECK(merged(ours, theirs, base).chart.conflicts.empty());
    ours = base;
    ours.title.serial = "0417";
    CHECK(merged(ours, theirs, base).chart.conflicts == std::vector<Conflict>{old});
    CHECK(merged(ours, theirs, base).conflicts.empty());
    CHECK(!settle_conflict(base, 1));
}

TEST_CASE("lists keep the order of whoever changed it") {
    using json::merged_order;
    const auto all = [](const Names& words) { return std::unordered_set<std::string>(words.begin(), words.end()); };
    const Names abc{"a", "b", "c"};
    CHECK(merged_order(abc, abc, abc, all(abc)) == abc);
    CHECK(merged_order(abc, {"c", "a", "b"}, abc, all(abc)) == Names{"c", "a", "b"});
    CHECK(merged_order(abc, abc, {"c", "a", "b"}, all(abc)) == Names{"c", "a", "b"});
    CHECK(merged_order(abc, {"b", "a", "c"}, {"a", "c", "b"}, all(abc)) == abc); // against each other
    CHECK(merged_order(abc, {"b", "a", "c"}, {"b", "a", "c"}, all(abc)) == Names{"b", "a", "c"});
    CHECK(merged_order(abc, {"a", "x", "b", "c"}, {"a", "b", "y", "c"}, all({"a", "b", "c", "x", "y"})) ==
          Names{"a", "x", "b", "y", "c"});
    CHECK(merged_order(abc, {"a", "b", "c", "x"}, {"c", "b", "y", "a"}, all({"a", "b", "c", "x", "y"})).size() == 5);
    CHECK(merged_order({}, {"z", "a"}, {"m"}, all({"z", "a", "m"})) == Names{"m", "z", "a"});
    CHECK(merged_order({}, {"a", "b"}, {"b", "a"}, all({"a", "b"})) == Names{"a", "b"}); // a circle
    CHECK(merged_order({}, {"b", "a"}, {"a", "b"}, all({"a", "b"})) == Names{"a", "b"});
    // One took "b" off, the other wrote on it, so that it stays; and the first changed the order of the rest.
    CHECK(merged_order(abc, {"c", "a"}, abc, all(abc)) == Names{"c", "a", "b"});
    // x behind b here, before a there: the circle does not turn a and b round.
    CHECK(merged_order({"a", "b"}, {"a", "b", "x"}, {"x", "a", "b"}, all({"a", "b", "x"})) == Names{"a", "b", "x"});
}

TEST_CASE("a station that one hand took out while the other planned with it is a conflict and stays") {
    Chart base;
    Station station;
    station.id = {"st-1"};
    station.name = "bench 2";
    base.stations.add(station);
    HeatPlan plan;
    plan.id = {"plan-1"};
    base.heat_plans.add(plan);
    Chart ours = base, theirs = base;
    plan.station = {"st-1"};
    ours.heat_plans.replace(0, plan);
    theirs.stations = {};
    for (const auto& [one, other] : {std::pair(ours, theirs), std::pair(theirs, ours)}) {
        const auto result = merge(base, one, other, {"ours", "theirs"});
        REQUIRE(result);
        CHECK(result->conflicts.size() == 1);
        CHECK(result->chart.stations.size() == 1);
        CHECK(result->chart.heat_plans[0].station == Id{"st-1"});
    }
}

TEST_CASE("a photo that one hand took out while the other named it as evidence is a conflict and stays") {
    Chart base;
    Photo photo;
    photo.id = {"photo-1"};
    photo.path = "top.png";
    base.photos.add(photo);
    base.parts.add(part("u1", {1, 1}));
    Chart ours = base, theirs = base;
    Footprint seen = base.parts[0];
    seen.orientation.evidence.kind = EvidenceKind::Photo;
    seen.orientation.evidence.photo = {"photo-1"};
    ours.parts.replace(0, seen);
    theirs.photos = {};
    const auto result = merge(base, ours, theirs, {"ours", "theirs"});
    if (!result) FAIL(describe(result.error()));
    CHECK(result->conflicts.size() == 1);
    CHECK(result->chart.photos.size() == 1);
    // A part that is edited otherwise holds no photo back.
    Footprint moved = base.parts[0];
    moved.placement.at = {2, 2};
    Chart only_moved = base;
    only_moved.parts.replace(0, moved);
    CHECK(merge(base, only_moved, theirs, {"ours", "theirs"})->conflicts.empty());
}

TEST_CASE("two freezings are one conflict, and no third is made of their halves") {
    Chart base, ours, theirs;
    ours.frozen_before = FrozenBefore{"a.chart.json", "x", {}, {}, {}};
    theirs.frozen_before = FrozenBefore{"b.chart.json", "y", {}, "2026-01-01", {}};
    const auto result = merge(base, ours, theirs, {"ours", "theirs"});
    REQUIRE(result);
    CHECK(result->conflicts.size() == 1);
    REQUIRE(result->chart.frozen_before);
    const bool is_one =
        *result->chart.frozen_before == *ours.frozen_before || *result->chart.frozen_before == *theirs.frozen_before;
    CHECK(is_one);
}
