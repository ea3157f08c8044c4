#include "support.hpp"

#include "app/actions.hpp"
#include "app/orient_desk.hpp"
#include "app/orientation.hpp"

namespace padchart::app {
namespace {

using document::EvidenceKind;
using document::MarkKind;
using document::Meaning;
using document::PartClass;
using document::RecordState;

/// Two tantalum capacitors and a chip resistor, in the orient stage.
void open_bench(Session& s) {
    document::Chart chart = new_chart();
    for (const auto& [name, x] : {std::pair{"C1", 0.0}, {"C2", 10.0}}) {
        document::Footprint part = part_of("chip-1608M", name, {x, 0});
        part.part_class = PartClass::TantalumCapacitor;
        part.orientation = {};
        chart = document::add_part(chart, part).value();
    }
    document::Footprint plain = part_of("chip-1608M", "R1", {20, 0});
    plain.part_class = PartClass::Resistor;
    chart = document::add_part(chart, plain).value();
    s.editor.start_new(chart);
    s.background.update(s.editor.snapshot());
    s.show_stage(scene::Stage::Orient);
}

const document::Footprint& on_chart(const Session& s, const char* name) {
    return part_named(s.editor.chart(), name);
}

/// As the window does it: the panel first, then the table of actions.
void press(Session& s, Chord chord) {
    if (orient_key(s, chord)) return;
    if (const Action* action = action_for(chord)) run(*action, s);
}

TEST_CASE("a part is recorded by its mark and its place and Enter and the next one is selected") {
    Session s;
    open_bench(s);
    press(s, {Key::U});
    REQUIRE(s.editor.selected_part() != nullptr);
    CHECK(s.editor.selected_part()->name == "C1");
    draft_mark(s, *s.editor.selected_part(), MarkKind::Bar); // one
    press(s, {Key::Digit4});                                 // two
    CHECK(can_record(s));
    CHECK(on_chart(s, "C1").orientation.state == RecordState::NotRecorded);
    press(s, {Key::Enter}); // three
    const document::Orientation& o = on_chart(s, "C1").orientation;
    CHECK(o.state == RecordState::Recorded);
    CHECK(o.mark == MarkKind::Bar);
    CHECK(o.meaning == Meaning::Positive); // a bar on a tantalum is plus: makers' drawings, see marks.tsv
    CHECK(o.bearing.degrees() == doctest::Approx(180.0));
    CHECK(o.evidence.kind == EvidenceKind::SeenHere);
    CHECK(o.evidence.date.size() == 10);
    CHECK(s.editor.selected_part()->name == "C2");
    CHECK(s.editor.history().steps().size() == 2);
}

TEST_CASE("digits lie round the part as on a number pad") {
    Session s;
    open_bench(s);
    s.go_to(document::Id{"c1"});
    // Seen on the screen: 6 is to the right, 8 up, 2 down.
    for (const auto& [key, x, y] : {std::tuple{Key::Digit6, 1, 0},
                                    {Key::Digit8, 0, -1},
                                    {Key::Digit4, -1, 0},
                                    {Key::Digit2, 0, 1},
                                    {Key::Digit7, -1, -1},
                                    {Key::Digit9, 1, -1},
                                    {Key::Digit1, -1, 1},
                                    {Key::Digit3, 1, 1}}) {
        REQUIRE(orient_key(s, {key}));
        const auto places = mark_places(on_chart(s, "C1"));
        const auto at = nearest_place(places, s.orient.orientation.bearing);
        REQUIRE(at);
        CHECK(places[*at].x == x);
        CHECK(places[*at].y == y);
    }
    CHECK_FALSE(orient_key(s, {Key::Digit5}));
    CHECK_FALSE(orient_key(s, ctrl(Key::Digit6)));
}

TEST_CASE("without a place nothing is recorded") {
    Session s;
    open_bench(s);
    s.go_to(document::Id{"c1"});
    draft_mark(s, *s.editor.selected_part(), MarkKind::Bar);
    CHECK_FALSE(can_record(s));
    CHECK_FALSE(record_mark(s));
    CHECK(on_chart(s, "C1").orientation.state == RecordState::NotRecorded);
}

TEST_CASE("no mark to be seen is a record of its own and keeps no mark from the draft") {
    Session s;
    open_bench(s);
    s.go_to(document::Id{"c1"});
    draft_mark(s, *s.editor.selected_part(), MarkKind::Bar);
    press(s, {Key::Digit4});
    REQUIRE(record_no_mark(s));
    CHECK(on_chart(s, "C1").orientation.state == RecordState::NoMark);
    CHECK(on_chart(s, "C1").orientation.mark == MarkKind::Unknown);
    CHECK(on_chart(s, "C1").orientation.meaning == Meaning::Unknown);
    CHECK(s.editor.selected_part()->name == "C2");
}

TEST_CASE("who recorded is offered again for the next part") {
    Session s;
    open_bench(s);
    s.go_to(document::Id{"c1"});
    orient_draft(s, *s.editor.selected_part()).orientation.evidence.by = "bench 1";
    press(s, {Key::Digit4});
    REQUIRE(record_mark(s));
    CHECK(orient_draft(s, *s.editor.selected_part()).orientation.evidence.by == "bench 1");
}

TEST_CASE("an undone record leaves no trace in the draft") {
    Session s;
    open_bench(s);
    s.go_to(document::Id{"c1"});
    press(s, {Key::Digit6});
    REQUIRE(record_mark(s));
    s.go_to(document::Id{"c1"});
    CHECK(orient_draft(s, on_chart(s, "C1")).has_place);
    s.editor.undo();
    CHECK_FALSE(orient_draft(s, on_chart(s, "C1")).has_place);
}

TEST_CASE("the running count and the list follow the reports") {
    Session s;
    open_bench(s);
    RecordRows& rows = s.desks.get<OrientDesk>().rows;
    CHECK(rows.of(s.background.latest()).size() == 2);
    CHECK(rows.recorded() == 0);
    s.go_to(document::Id{"c1"});
    press(s, {Key::Digit4});
    REQUIRE(record_mark(s));
    const auto list = rows.of(s.background.latest());
    REQUIRE(list.size() == 2);
    CHECK(rows.recorded() == 1);
    CHECK(rows.doubtful() == 0);
    CHECK(rows.words() == "1 of 2 recorded");
    CHECK(s.editor.chart().parts[list[0].part].name == "C2"); // what is open comes first
}

TEST_CASE("the fit is that of the pads as they are shown while they are being edited") {
    Session s;
    open_bench(s);
    const document::Footprint before = on_chart(s, "C1");
    LiveFit live;
    CHECK(live.of(before, s.computed()).risky_turns == std::vector{180.0});
    document::Footprint edited = before;
    document::Pad third = edited.pads[0];
    third.number = "3";
    third.at = {edited.pads[0].at.x, edited.pads[0].at.y + 3.0};
    edited.pads.push_back(third); // two lands left, one right: it fits one way only
    CHECK(live.of(edited, s.computed()).risky_turns.empty());
    CHECK(live.of(edited, nullptr).risky_turns.empty());
    CHECK(live.of(before, s.computed()).risky_turns == std::vector{180.0});
}

TEST_CASE("the fit drawn follows the pads while a gesture is under way") {
    Session s;
    open_bench(s);
    s.go_to(document::Id{"c1"});
    REQUIRE(s.computed() != nullptr);
    CHECK(s.computed()->fit.parts[0].needs_record);
    CHECK_FALSE(fit_in_hand(s).has_value()); // the reports' own holds
    document::Footprint edited = on_chart(s, "C1");
    document::Pad third = edited.pads[0];
    third.at.y += 3.0;
    edited.pads.push_back(third);
    s.editor.preview(document::change_part(s.editor.chart(), edited.id,
                                           [&](document::Footprint& part) { part.pads = edited.pads; }));
    const auto in_hand = fit_in_hand(s);
    REQUIRE(in_hand.has_value());
    CHECK(in_hand->at == 0);
    CHECK_FALSE(in_hand->fit.needs_record);
    s.editor.drop_preview();
    CHECK_FALSE(fit_in_hand(s).has_value());
}

} // namespace
} // namespace padchart::app
