// Each kind of change alone. Tolerances are those of the header; the numbers are own arithmetic.

#include <doctest/doctest.h>

#include <cmath>

#include "analysis/compare_scene.hpp"

using namespace padchart;
using namespace padchart::analysis;
using namespace padchart::document;
using padchart::testing::moved_chart;
using padchart::testing::small_chart;
using padchart::testing::turn_in_place;
using padchart::testing::with;

namespace {

Id id_named(const std::string& name) {
    return id_of("part", name);
}

/// The only change there is.
Change only(const CompareReport& report) {
    REQUIRE(report.changes.size() == 1);
    return report.changes.front();
}

bool has_finding(const CompareReport& report, std::string_view code) {
    for (const Diagnostic& finding : report.findings)
        if (finding.code == code) return true;
    return false;
}

Reading reading_at(const std::string& part, std::variant<double, SpecialValue> value) {
    Reading reading;
    reading.id = id_of("reading", part);
    reading.target = id_named(part);
    reading.pad = "1";
    reading.value = value;
    reading.unit = "V";
    reading.leads = Leads::RedOnGround;
    reading.power = PowerState::Off;
    reading.meter = "bench meter 3";
    return reading;
}

Chart with_reading(Chart chart, Reading reading) {
    chart.readings.add(std::move(reading));
    return chart;
}

} // namespace

TEST_CASE("a chart compared with itself shows no difference and how many parts were compared") {
    const CompareReport report = compare(small_chart(), small_chart());
    CHECK(report.changes.empty());
    CHECK(report.left_in_place.empty());
    CHECK(report.findings.empty());
    CHECK(report.parts_compared == 6);
    CHECK(report.registration.is_sure);
    CHECK(report.registration.worst_mm == 0.0);
}

TEST_CASE("a part that is on one chart only is missing or added") {
    Chart fewer = small_chart();
    fewer.parts.erase(2);
    const Change missing = only(compare(small_chart(), fewer));
    CHECK(missing.kind == ChangeKind::Missing);
    CHECK(missing.before_id == id_named("D3"));
    CHECK(missing.message == "D3 is not on the second chart.");
    const Change added = only(compare(fewer, small_chart()));
    CHECK(added.kind == ChangeKind::Added);
    CHECK(added.after_id == id_named("D3"));
}

TEST_CASE("a part counts as moved beyond the larger of a tenth of a millimetre and a tenth of its land") {
    const auto nudged = [](double mm) {
        return compare(small_chart(), with(small_chart(), "D3", [&](Footprint& p) { p.placement.at.x += mm; }));
    };
    CHECK(nudged(0.099).changes.empty()); // lands are 0.7 mm wide: 0.07 mm is the smaller of both
    const Change moved = only(nudged(0.101));
    CHECK(moved.kind == ChangeKind::Moved);
    REQUIRE(moved.move);
    CHECK(moved.move->distance_mm == doctest::Approx(0.101));
    CHECK(moved.move->tolerance_mm == 0.1);
    const auto wide = [](double mm) { // lands of 3 mm: 0.3 mm
        const auto widen = [](Footprint& p) {
            p.pads[0].shape.width_mm = p.pads[1].shape.width_mm = p.pads[0].shape.height_mm =
                p.pads[1].shape.height_mm = 3.0;
        };
        const Chart before = with(small_chart(), "D3", widen);
        return compare(before, with(before, "D3", [&](Footprint& p) { p.placement.at.y += mm; }));
    };
    CHECK(wide(0.29).changes.empty());
    CHECK(only(wide(0.31)).move->tolerance_mm == doctest::Approx(0.3));
    CompareOptions coarse;
    coarse.moved_mm = 1.0;
    CHECK(compare(small_chart(), with(small_chart(), "D3", [](Footprint& p) { p.placement.at.x += 0.9; }), coarse)
              .changes.empty());
}

TEST_CASE("a turn is told as nearest quarter and what is left over") {
    const auto turned = [](const std::string& name, double deg) {
        return compare(small_chart(), with(small_chart(), name, [&](Footprint& p) { turn_in_place(p, deg); }));
    };
    CHECK(turned("D3", 4.9).changes.empty());
    const Change change = only(turned("D3", 187.0));
    CHECK(change.kind == ChangeKind::Turned);
    REQUIRE(change.turn);
    CHECK(change.turn->by_deg == doctest::Approx(-173.0));
    CHECK(change.turn->quarter_deg == 180.0);
    CHECK(change.turn->residual_deg == doctest::Approx(7.0));
    CHECK(!change.harmless);
    CHECK(only(turned("C7", -90.0)).turn->quarter_deg == 270.0);
}

TEST_CASE("a point measured with the leads both ways is two readings, each compared with its like") {
    Reading forward = reading_at("D3", 0.412), backward = reading_at("D3", 1.1);
    forward.id = {"forward"};
    backward.id = {"backward"};
    forward.leads = Leads::RedOnGround;
    backward.leads = Leads::BlackOnGround;
    const Chart before = with_reading(with_reading(small_chart(), forward), backward);
    Reading shorted = forward;
    shorted.value = 0.001;
    const CompareReport report = compare(before, with_reading(with_reading(small_chart(), shorted), backward));
    const Change change = only(report);
    CHECK(change.kind == ChangeKind::Reading);
    CHECK(change.reading->comparable);
    CHECK(change.message.find("(-0.411 V, ") != std::string::npos);
    CHECK(compare(before, before).changes.empty());
}

TEST_CASE("a part that somebody decided is not needed is a change of its state") {
    const Change change = only(compare(small_chart(), with(small_chart(), "R1", [](Footprint& p) {
                                           p.condition.not_needed_because = "only for the test bench";
                                       })));
    CHECK(change.kind == ChangeKind::State);
    CHECK(change.message.find("only for the test bench") != std::string::npos);
}

TEST_CASE("a resistor turned by half a turn is harmless and a diode is not") {
    const auto turned = [](const std::string& name, double deg) {
        return only(compare(small_chart(), with(small_chart(), name, [&](Footprint& p) { turn_in_place(p, deg); })));
    };
    CHECK(turned("R1", 180).harmless);
    CHECK(turned("R1", 180).message ==
          "R1 sits turned by 180.0 degrees, seen from the top, which is harmless for what it is.");
    CHECK(turned("D3", -91).message == "D3 sits turned by 91.0 degrees clockwise (a quarter turn clockwise and 1.0 "
                                       "clockwise), seen from the top.");
    CHECK(turned("D3", 187).message == "D3 sits turned by 173.0 degrees clockwise (half a turn and 7.0 "
                                       "counter-clockwise), seen from the top.");
    CHECK(!turned("R1", 90).harmless);
    CHECK(!turned("D3", 180).harmless);
    CHECK(!turned("C7", 180).harmless);
}

TEST_CASE("a part in another own frame has neither moved nor turned") {
    // The origin 1 mm to the right and the frame turned by 90 degrees: the same copper on the board.
    const Chart after = with(small_chart(), "D3", [](Footprint& p) {
        const geometry::Affine own =
            geometry::Affine::translation({1, 0}) * geometry::Affine::rotation(Angle::degrees(90));
        const geometry::Affine back = own.inverse();
        for (Pad& pad : p.pads) {
            pad.at = back(pad.at);
            pad.turn = pad.turn - Angle::degrees(90);
        }
        p.body->at = back(p.body->at);
        p.body->turn = p.body->turn - Angle::degrees(90);
        p.placement.at = document::board_from_part(p.placement)({1, 0});
        p.placement.turn = p.placement.turn + Angle::degrees(90);
    });
    CHECK(compare(small_chart(), after).changes.empty());
}

TEST_CASE("pads drawn otherwise are a change of the pattern") {
    const Change count =
        only(compare(small_chart(), with(small_chart(), "L5", [](Footprint& p) { p.pads.pop_back(); })));
    CHECK(count.kind == ChangeKind::Pattern);
    CHECK(count.before == "2");
    CHECK(count.after == "1");
    const Change place =
        only(compare(small_chart(), with(small_chart(), "L5", [](Footprint& p) { p.pads[1].at.x += 0.5; })));
    CHECK(place.kind == ChangeKind::Pattern);
}

TEST_CASE("a part laid on the other side has changed side") {
    const Change change =
        only(compare(small_chart(), with(small_chart(), "D3", [](Footprint& p) { p.placement.side = Side::Bottom; })));
    CHECK(change.kind == ChangeKind::Side);
    CHECK(change.after == "bottom");
}

TEST_CASE("name class role and value are compared word by word") {
    const auto edited = [](auto edit) { return only(compare(small_chart(), with(small_chart(), "C2", edit))); };
    CHECK(edited([](Footprint& p) { p.name = "C22"; }).kind == ChangeKind::Name);
    CHECK(edited([](Footprint& p) { p.role = "bulk"; }).kind == ChangeKind::Role);
    const Change value = edited([](Footprint& p) { p.value = "100n"; });
    CHECK(value.kind == ChangeKind::Value);
    CHECK(value.message == "C2 has got a value: \"100n\".");
    const Change part_class = edited([](Footprint& p) { p.part_class = PartClass::FilmCapacitor; });
    CHECK(part_class.kind == ChangeKind::Class);
    CHECK(part_class.before == "ceramic-capacitor");
}

TEST_CASE("each question on the state is compared by itself") {
    const auto edited = [](auto edit) { return only(compare(small_chart(), with(small_chart(), "C2", edit))); };
    CHECK(edited([](Footprint& p) { p.condition.presence = Presence::Lost; }).field == "presence");
    CHECK(edited([](Footprint& p) { p.condition.seating = Seating::Tombstoned; }).field == "seating");
    CHECK(edited([](Footprint& p) { p.condition.joint = JointState::Cold; }).field == "joint");
    CHECK(edited([](Footprint& p) { p.condition.body = BodyState::Cracked; }).field == "body");
    const Change land = edited([](Footprint& p) { p.condition.land = LandState::Lifted; });
    CHECK(land.kind == ChangeKind::State);
    CHECK(land.field == "land");
    CHECK(land.after == "lifted");
    CHECK(!land.harmless);
    CHECK(edited([](Footprint& p) { p.condition.land = LandState::Good; }).harmless);
    const Change pad = edited([](Footprint& p) { p.pads[1].land = LandState::Torn; });
    CHECK(pad.kind == ChangeKind::PadState);
    CHECK(pad.field == "pad 2 land");
}

TEST_CASE("what was checked before and not after is said so") {
    const Change change = only(compare(
        small_chart(), with(small_chart(), "C2", [](Footprint& p) { p.condition.presence = Presence::NotChecked; })));
    CHECK(change.kind == ChangeKind::NotCheckedAgain);
    CHECK(change.field == "presence");
}

TEST_CASE("the record of the way round is compared in the part's own frame") {
    const auto record = [](double bearing_deg, Meaning meaning) {
        return with(small_chart(), "D3", [&](Footprint& p) {
            p.orientation.state = RecordState::Recorded;
            p.orientation.mark = MarkKind::Band;
            p.orientation.bearing = Angle::degrees(bearing_deg);
            p.orientation.meaning = meaning;
        });
    };
    CHECK(compare(record(180, Meaning::Cathode), record(178, Meaning::Cathode)).changes.empty());
    CHECK(only(compare(record(180, Meaning::Cathode), record(0, Meaning::Cathode))).kind == ChangeKind::Orientation);
    CHECK(only(compare(record(180, Meaning::Cathode), record(180, Meaning::Anode))).kind == ChangeKind::Orientation);
    CHECK(only(compare(record(180, Meaning::Cathode), small_chart())).kind == ChangeKind::NotCheckedAgain);
    CHECK(only(compare(small_chart(), record(180, Meaning::Cathode))).harmless);
}

TEST_CASE("readings of one point are compared in value and percent") {
    const Chart before = with_reading(small_chart(), reading_at("D3", 0.5));
    const Change change = only(compare(before, with_reading(small_chart(), reading_at("D3", 0.45))));
    CHECK(change.kind == ChangeKind::Reading);
    REQUIRE(change.reading);
    CHECK(*change.reading->difference == doctest::Approx(-0.05));
    CHECK(*change.reading->percent == doctest::Approx(-10.0));
    CHECK(change.reading->comparable);
    CHECK(compare(before, before).readings_compared == 1);
    CHECK(compare(before, before).changes.empty());
}

TEST_CASE("OL and short are values of their own and never numbers") {
    const Chart before = with_reading(small_chart(), reading_at("D3", 0.5));
    const Change open = only(compare(before, with_reading(small_chart(), reading_at("D3", SpecialValue::OverLimit))));
    CHECK(open.after == "OL");
    CHECK(!open.reading->difference);
    CHECK(!open.reading->percent);
    const Chart shorted = with_reading(small_chart(), reading_at("D3", SpecialValue::Short));
    CHECK(compare(shorted, shorted).changes.empty());
    CHECK(only(compare(with_reading(small_chart(), reading_at("D3", 0.0)), shorted)).after == "short");
}

TEST_CASE("readings of two meters or with the leads the other way are not to be compared") {
    const Chart before = with_reading(small_chart(), reading_at("D3", 0.5));
    Reading other_meter = reading_at("D3", 0.6);
    other_meter.meter = "bench meter 1";
    const Change change = only(compare(before, with_reading(small_chart(), other_meter)));
    CHECK(!change.reading->comparable);
    CHECK(change.reading->why_not == "other meter");
    Reading turned = reading_at("D3", 0.6);
    turned.leads = Leads::BlackOnGround;
    CHECK(only(compare(before, with_reading(small_chart(), turned))).reading->why_not == "leads the other way");
}

TEST_CASE("a prefix of the unit is no change of the voltage") {
    Reading millivolts = reading_at("D3", 500.0);
    millivolts.unit = "mV";
    const Chart before = with_reading(small_chart(), reading_at("D3", 0.5));
    CHECK(compare(before, with_reading(small_chart(), millivolts)).changes.empty());
    millivolts.value = 550.0;
    CHECK(*only(compare(before, with_reading(small_chart(), millivolts))).reading->percent == doctest::Approx(10.0));
    millivolts.unit = "ohm";
    CHECK(only(compare(before, with_reading(small_chart(), millivolts))).reading->why_not == "units differ in kind");
}

TEST_CASE("the last reading of a point counts and one not taken again is said so") {
    const Chart before = with_reading(small_chart(), reading_at("D3", 0.5));
    Reading later = reading_at("D3", 0.7);
    later.id = {"later"};
    later.date = "2031-04-03";
    CHECK(only(compare(before, with_reading(before, later))).after == "0.7 V");
    CHECK(only(compare(before, small_chart())).kind == ChangeKind::ReadingMissing);
    Reading elsewhere = reading_at("D3", 0.5);
    elsewhere.reference = "VIN";
    CHECK(compare(before, with_reading(small_chart(), elsewhere)).changes.size() == 2);
}

TEST_CASE("tape and shields that are still on the chart are asked after") {
    Chart after = small_chart();
    KeepOut cell;
    cell.id = {"cell"};
    cell.name = "cell";
    cell.outline = {{{1, 1}, {2, 1}, {2, 2}}, {}};
    after.keep_outs.add(cell);
    Chart before = after;
    cell.measure = Measure::Shielded;
    after.keep_outs.replace(0, cell);
    Shield foil;
    foil.id = {"foil"};
    foil.name = "foil";
    foil.outline = cell.outline;
    after.shields.add(foil);
    const CompareReport report = compare(before, after);
    REQUIRE(report.left_in_place.size() == 2);
    CHECK(report.left_in_place[0].message == "Keep-out cell is still marked as shielded: is the tape off?");
    CHECK(report.left_in_place[1].id == foil.id);
    CHECK(only(report).kind == ChangeKind::KeepOut);
    CHECK(only(compare(before, small_chart())).kind == ChangeKind::KeepOut);
    CHECK(only(compare(small_chart(), before)).after_id == cell.id);
}

TEST_CASE("parts of a trace with new ids are found again by name and by place") {
    Chart after = small_chart();
    for (std::size_t i = 0; i < after.parts.size(); ++i) {
        Footprint part = after.parts[i];
        part.id = {"new-" + std::to_string(i)};
        if (i == 3) part.name = "";
        after.parts.replace(i, part);
    }
    const Change renamed = only(compare(small_chart(), after));
    CHECK(renamed.kind == ChangeKind::Name);
    CHECK(renamed.before_id == id_named("C7"));
}

TEST_CASE("two parts of one name are told apart by their place") {
    Chart before = small_chart();
    Footprint twin = testing::two_lands("R1", {10, 10}, PartClass::Resistor);
    twin.id = {"twin"};
    before.parts.add(twin);
    Chart after = before;
    for (std::size_t i = 0; i < after.parts.size(); ++i) {
        Footprint part = after.parts[i];
        part.id = {"new-" + std::to_string(after.parts.size() - i)};
        after.parts.replace(i, part);
    }
    CHECK(compare(before, after).changes.empty());
    CHECK(compare(before, after).parts_compared == 7);
}

namespace {

/// As a new trace gives it: every part under an id of its own.
Chart traced_anew(Chart chart) {
    for (std::size_t i = 0; i < chart.parts.size(); ++i) {
        Footprint part = chart.parts[i];
        part.id = {"new-" + std::to_string(chart.parts.size() - i)};
        chart.parts.replace(i, part);
    }
    return chart;
}

} // namespace

TEST_CASE("a part with another id and another name on the same lands was renamed") {
    const Chart after = traced_anew(with(small_chart(), "C7", [](Footprint& p) { p.name = "C70"; }));
    const Change change = only(compare(small_chart(), moved_chart(after, Angle::degrees(3), {4, 1}, true)));
    CHECK(change.kind == ChangeKind::Name);
    CHECK(change.before_id == id_named("C7"));
    CHECK(change.message == "C7 was renamed: \"C7\" before, \"C70\" now.");
}

TEST_CASE("another part near the place of one that is gone is another part") {
    const auto replaced = [](auto edit) {
        const Chart after = traced_anew(with(small_chart(), "C7", [&](Footprint& p) {
            p.name = "C70";
            edit(p);
        }));
        return compare(small_chart(), after);
    };
    const auto kinds = [](const CompareReport& report) {
        std::vector<ChangeKind> out;
        for (const Change& change : report.changes)
            out.push_back(change.kind);
        return out;
    };
    const std::vector<ChangeKind> gone_and_new{ChangeKind::Missing, ChangeKind::Added};
    CHECK(kinds(replaced([](Footprint& p) { p.placement.side = Side::Bottom; })) == gone_and_new);
    CHECK(kinds(replaced([](Footprint& p) { p.pads.pop_back(); })) == gone_and_new);
    CHECK(kinds(replaced([](Footprint& p) { p.placement.at.x += 0.3; })) == gone_and_new);
    CHECK(kinds(replaced([](Footprint& p) { p.pads[0].at.x = -1.4, p.pads[1].at.x = 1.4; })) == gone_and_new);
}

TEST_CASE("two parts of one name on both sides of one place are told apart by their side") {
    Chart before = small_chart();
    Footprint below = testing::two_lands("R1", {8, 5}, PartClass::Resistor);
    below.id = {"below"};
    below.placement.side = Side::Bottom;
    before.parts.add(below);
    CHECK(compare(before, traced_anew(before)).changes.empty());
    const CompareReport from_below = compare(before, moved_chart(traced_anew(before), Angle::degrees(3), {1, 2}, true));
    CHECK(from_below.changes.empty());
    CHECK(from_below.parts_compared == 7);
    Chart moved = traced_anew(before);
    Footprint far = moved.parts[6];
    far.placement.at = {22, 3};
    moved.parts.replace(6, far);
    CHECK(only(compare(before, moved)).kind == ChangeKind::Moved);
}

TEST_CASE("half of the parts moved each its own way and the board turned by three degrees seen from below") {
    const Chart before = small_chart();
    Chart after = before;
    const geometry::Vec2 by[] = {{1.0, 0.4}, {-0.7, 2.0}, {3.0, -1.0}};
    for (std::size_t i = 0; i < 3; ++i) {
        Footprint part = after.parts[i];
        part.placement.at += by[i];
        after.parts.replace(i, part);
    }
    for (const bool has_outline : {true, false}) {
        Chart was = before;
        Chart is = traced_anew(moved_chart(after, Angle::degrees(3), {2, -1}, true));
        if (!has_outline) was.board.outline.reset(), is.board.outline.reset();
        const CompareReport report = compare(was, is);
        CAPTURE(has_outline);
        REQUIRE(report.changes.size() == 3);
        for (std::size_t i = 0; i < 3; ++i) {
            CHECK(report.changes[i].kind == ChangeKind::Moved);
            CHECK(report.changes[i].name == before.parts[i].name);
            CHECK(geometry::distance(report.changes[i].move->by_mm, by[i]) < 1e-6);
        }
    }
}

TEST_CASE("on a board that is drawn turned now a part has moved as the turned board shows it") {
    const Chart after = with(small_chart(), "C2", [](Footprint& p) { p.placement.at.x += 0.6; });
    const Change change = only(compare(small_chart(), moved_chart(after, Angle::degrees(-90), {40, 0}, false)));
    CHECK(change.message == "C2 has moved by 0.60 mm (+0.00 right, +0.60 down).");
    CHECK(change.move->by_mm.x == doctest::Approx(0.6));
}

TEST_CASE("two parts that changed places are told with the place each lies on now") {
    Chart after = small_chart();
    for (const auto& [name, place] : {std::pair{"C2", geometry::Vec2{20, 12}}, {"C7", geometry::Vec2{12, 5}}})
        after = with(after, name, [at = place](Footprint& p) { p.placement.at = at; });
    const CompareReport report = compare(small_chart(), after);
    REQUIRE(report.changes.size() == 2);
    CHECK(report.changes[0].message == "C2 has moved by 10.63 mm (+8.00 right, +7.00 down). It lies where C7 was.");
    CHECK(report.changes[1].message.find("It lies where C2 was.") != std::string::npos);
}

TEST_CASE("pads and bodies of another size are a change of the pattern") {
    const Change pads = only(compare(small_chart(), with(small_chart(), "L5", [](Footprint& p) {
                                         p.pads[0].shape.width_mm = 0.9;
                                         p.pads[1].shape.width_mm = 1.0;
                                     })));
    CHECK(pads.kind == ChangeKind::Pattern);
    CHECK(pads.field == "pad size");
    CHECK(pads.message ==
          "L5 has 2 pads drawn in another size, pad 2 most: 0.70 x 0.80 mm before, 1.00 x 0.80 mm now.");
    const Change body =
        only(compare(small_chart(), with(small_chart(), "L5", [](Footprint& p) { p.body->shape.height_mm = 1.6; })));
    CHECK(body.field == "body size");
    CHECK(compare(small_chart(), with(small_chart(), "L5", [](Footprint& p) { p.pads[0].shape.width_mm = 0.79; }))
              .changes.empty());
}

TEST_CASE("on charts without scale parts of one name are taken in the order of the lists") {
    Chart before = small_chart();
    Footprint twin = testing::two_lands("R1", {10, 10}, PartClass::Resistor);
    twin.id = {"twin"};
    before.parts.add(twin);
    before.scale.reset();
    CHECK(compare(before, traced_anew(before)).changes.empty());
    CHECK(compare(before, traced_anew(before)).parts_compared == 7);
}

TEST_CASE("on charts without scale a part renamed on its spot is found and one that lies elsewhere is not") {
    Chart before = small_chart();
    before.scale.reset();
    const auto renamed = [&](double by) {
        return compare(before, traced_anew(with(before, "C7", [by](Footprint& p) {
                           p.name = "C70";
                           p.placement.at.x += by;
                       })));
    };
    CHECK(only(renamed(0.0)).kind == ChangeKind::Name);
    CHECK(renamed(0.5).changes.size() == 2);
}

TEST_CASE("the whole outline and three parts are enough to go by however many parts moved") {
    Chart before = small_chart();
    for (int i = 0; i < 20; ++i)
        before.parts.add(testing::two_lands("N" + std::to_string(i), {2.0 + i, 18}, PartClass::Resistor));
    Chart after = before;
    for (std::size_t i = 3; i < after.parts.size(); ++i) {
        Footprint part = after.parts[i];
        part.placement.at +=
            geometry::direction(Angle::degrees(37.0 * static_cast<double>(i))) * (0.6 + 0.05 * static_cast<double>(i));
        after.parts.replace(i, part);
    }
    before.scale->relative_uncertainty = after.scale->relative_uncertainty = 0.01;
    const CompareReport report = compare(before, moved_chart(after, Angle::degrees(3), {1, 2}, false));
    CHECK(report.changes.size() == 23);
    CHECK(report.findings.empty());
    CHECK(report.registration.scale == 1.0);
}

TEST_CASE("the same value read another way is said to be no proof") {
    const Chart before = with_reading(small_chart(), reading_at("D3", 0.5));
    Reading other_meter = reading_at("D3", 0.5);
    other_meter.meter = "bench meter 1";
    const Change meter = only(compare(before, with_reading(small_chart(), other_meter)));
    CHECK(meter.harmless);
    CHECK(meter.reading->why_not == "other meter");
    CHECK(meter.message == "D3: diode-drop at pad 1 to GND is 0.5 V again, but was measured another way: other meter.");
    Reading turned = reading_at("D3", 0.5);
    turned.leads = Leads::BlackOnGround;
    CHECK(!only(compare(before, with_reading(small_chart(), turned))).harmless);
}

TEST_CASE("keep-outs of a new trace are found by side and place and each only once") {
    Chart before = small_chart();
    const auto add = [](Chart& chart, const std::string& id, const std::string& name, double x, Side side) {
        KeepOut thing;
        thing.id = {id};
        thing.name = name;
        thing.side = side;
        thing.outline = {{{x, 1}, {x + 4, 1}, {x + 4, 3}, {x, 3}}, {}};
        thing.measure = Measure::Shielded;
        chart.keep_outs.add(thing);
    };
    add(before, "a", "", 1, Side::Top);
    add(before, "b", "label", 10, Side::Top);
    add(before, "c", "label", 10, Side::Bottom);
    Chart after = small_chart();
    add(after, "n1", "label", 10, Side::Bottom);
    add(after, "n2", "", 1.2, Side::Top);
    add(after, "n3", "label", 10, Side::Top);
    CHECK(compare(before, after).changes.empty());
    KeepOut bare = after.keep_outs[1];
    bare.measure = Measure::None;
    after.keep_outs.replace(1, bare);
    const Change change = only(compare(before, after));
    CHECK(change.before_id == Id{"a"});
    CHECK(change.message == "Keep-out without name was shielded before and is bare now.");
    Chart fewer = after;
    fewer.keep_outs.erase(0);
    CHECK(compare(before, fewer).changes.size() == 2);
}

TEST_CASE("the board seen from its other side is the same board and a mirror image is not") {
    const Chart other = moved_chart(small_chart(), Angle::degrees(33), {5, -4}, true);
    const CompareReport swapped = compare(small_chart(), other);
    CHECK(swapped.changes.empty());
    CHECK(swapped.registration.mirrored);
    CHECK(swapped.registration.sides_swapped);
    CHECK(has_finding(swapped, "sides-swapped"));
    // Traced from a flipped picture: pads lie mirrored in the part's own frame, and it is all called top.
    Chart flipped = small_chart();
    flipped.board.outline = geometry::transformed(*flipped.board.outline, geometry::Affine::scaling(-1, 1));
    for (std::size_t i = 0; i < flipped.parts.size(); ++i) {
        Footprint part = flipped.parts[i];
        part.placement.at.x = -part.placement.at.x;
        part.placement.turn = -part.placement.turn;
        for (Pad& pad : part.pads)
            pad.at.x = -pad.at.x;
        flipped.parts.replace(i, part);
    }
    const CompareReport report = compare(small_chart(), flipped);
    CHECK(report.changes.empty());
    CHECK(has_finding(report, "mirrored"));
}

TEST_CASE("a part that moved does not drag the others along") {
    const Chart before = small_chart();
    const Chart moved = with(before, "D3", [](Footprint& p) { p.placement.at.x += 7; });
    const CompareReport report = compare(before, moved_chart(moved, Angle::degrees(-71), {100, 40}, false));
    const Change change = only(report);
    CHECK(change.move->by_mm.x == doctest::Approx(7.0));
    CHECK(std::abs(change.move->by_mm.y) < 1e-6);
    CHECK(report.registration.rms_mm < 1e-6);
    CHECK(report.registration.points_used == report.registration.points - 1);
}

TEST_CASE("charts are stretched only within what their scales leave open") {
    Chart before = small_chart();
    before.scale->relative_uncertainty = 0.03;
    Chart after = *document::rescale(before, 1.05, *before.scale);
    const CompareReport report = compare(before, after);
    CHECK(report.changes.empty());
    CHECK(report.registration.scale == doctest::Approx(1 / 1.05));
    CHECK(has_finding(report, "scale-differs"));
    before.scale->relative_uncertainty = 0.0;
    after.scale->relative_uncertainty = 0.0;
    CHECK(has_finding(compare(before, after), "registration-weak"));
}

TEST_CASE("without a scale no place is compared and that is said") {
    Chart after = with(small_chart(), "D3", [](Footprint& p) {
        p.placement.at.x += 5;
        p.value = "new";
    });
    after.scale.reset();
    const CompareReport report = compare(small_chart(), after);
    CHECK(only(report).kind == ChangeKind::Value);
    CHECK(!report.places_compared);
    CHECK(has_finding(report, "no-scale"));
}

TEST_CASE("charts of different boards are not laid on each other with confidence") {
    Chart other = small_chart();
    other.board.outline.reset();
    for (std::size_t i = 0; i < other.parts.size(); ++i) {
        Footprint part = other.parts[i];
        part.placement.at = {std::fmod(static_cast<double>(i) * 7.3, 11.0),
                             std::fmod(static_cast<double>(i) * 5.1, 9.0)};
        other.parts.replace(i, part);
    }
    CHECK(has_finding(compare(small_chart(), other), "registration-weak"));
}
