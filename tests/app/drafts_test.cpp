#include "support.hpp"

#include "app/documents.hpp"
#include "app/drafts.hpp"
#include "app/keeper.hpp"
#include "app/orient_desk.hpp"
#include "app/orientation.hpp"
#include "app/start_desk.hpp"
#include "app/survey_desk.hpp"
#include "json/chart_file.hpp"

namespace padchart::app {
namespace {

using document::Id;
using document::RecordState;
using document::Side;

/// The row as it lies in a file.
void open_saved(Session& s, const ScratchFolder& folder) {
    const auto path = folder.path() / "row.chart.json";
    REQUIRE(json::save_chart(row_of_chips(), path));
    REQUIRE(open_chart(s, path.string()));
    s.background.update(s.editor.snapshot());
}

void type_note(Session& s, const char* text) {
    begin_note(s, {5, 0}, Side::Top, Id{"r2"});
    s.desks.get<SurveyDesk>().pin.note->text = text;
}

const document::Orientation& record_of(const Session& s, const char* name) {
    return part_named(s.editor.chart(), name).orientation;
}

TEST_CASE("a note that is typed but not pinned is asked about before it would be lost, by its name") {
    const ScratchFolder folder;
    Session s;
    open_saved(s, folder);
    begin_note(s, {5, 0}, Side::Top, Id{"r2"});
    CHECK(is_all_kept(s)); // nothing was typed
    type_note(s, "flux all round");
    CHECK_FALSE(is_all_kept(s));
    CHECK(names_of(drafts_in_hand(s)) == "the note about R2");
    ask_or_do(s, AfterSaving::Quit);
    CHECK_FALSE(s.wants_quit);
    REQUIRE(std::holds_alternative<UnsavedDialog>(s.dialog));
    save_with_drafts(s, AfterSaving::Quit);
    CHECK(s.wants_quit);
    REQUIRE(json::load_chart(s.editor.path())->notes.size() == 1);
}

TEST_CASE("a reading that cannot be put down keeps the chart open and its form on show") {
    const ScratchFolder folder;
    Session s;
    open_saved(s, folder);
    begin_reading(s, {0, 0}, Side::Top, Id{"r1"}, "2");
    s.desks.get<SurveyDesk>().pin.value = "about half a volt";
    CHECK(names_of(drafts_in_hand(s)) == "the reading at R1, pad 2");
    s.show_stage(scene::Stage::Heat);
    save_with_drafts(s, AfterSaving::Quit);
    CHECK_FALSE(s.wants_quit);
    CHECK(is_pin_shown(s));
    CHECK_FALSE(s.desks.get<SurveyDesk>().pin.error.empty());
}

TEST_CASE("another part shows its own panel while a typed note waits for its part") {
    const ScratchFolder folder;
    Session s;
    open_saved(s, folder);
    s.editor.select({Id{"r2"}});
    type_note(s, "tilted");
    CHECK(is_pin_shown(s));
    s.editor.select({Id{"r3"}});
    CHECK_FALSE(is_pin_shown(s));
    CHECK_FALSE(survey_key(s, {Key::Escape})); // it drops what is on show only
    s.editor.select({Id{"r2"}});
    CHECK(is_pin_shown(s));
    search_parts(s); // the list, not the form
    CHECK_FALSE(is_pin_shown(s));
    CHECK(s.desks.get<SurveyDesk>().pin.note);
    go_on_with_pin(s);
    CHECK(is_pin_shown(s));
}

TEST_CASE("a note that is not on the chart yet is drawn as a draft") {
    const ScratchFolder folder;
    Session s;
    open_saved(s, folder);
    type_note(s, "tilted");
    scene::Scene draft;
    add_survey_overlay(s, draft);
    const auto has = [&](scene::Role role) {
        return std::any_of(draft.items.begin(), draft.items.end(),
                           [&](const scene::Item& item) { return item.role == role; });
    };
    CHECK_FALSE(has(scene::Role::BadgeNote)); // that of a note on the chart
    CHECK(has(scene::Role::Marquee));
    REQUIRE(draft.texts.size() == 1);
    CHECK(draft.texts[0].text == "not on the chart yet");
}

TEST_CASE("a place chosen for a mark waits while another part is looked at and is asked about") {
    const ScratchFolder folder;
    Session s;
    open_saved(s, folder);
    s.show_stage(scene::Stage::Orient);
    s.editor.select({Id{"r1"}});
    draft_place(s, part_named(s.editor.chart(), "R1"), 0);
    const double chosen = s.orient.orientation.bearing.degrees();
    s.editor.select({Id{"r2"}});
    orient_draft(s, part_named(s.editor.chart(), "R2"));
    CHECK(parts_with_drafts(s) == std::vector{Id{"r1"}});
    CHECK(names_of(drafts_in_hand(s)) == "the mark of R1");
    ask_or_do(s, AfterSaving::Quit);
    CHECK_FALSE(s.wants_quit);
    s.editor.select({Id{"r1"}});
    const OrientDraft& back = orient_draft(s, part_named(s.editor.chart(), "R1"));
    CHECK(back.has_place);
    CHECK(back.orientation.bearing.degrees() == doctest::Approx(chosen));
    draft_place(s, part_named(s.editor.chart(), "R1"), 2);
    s.editor.select({Id{"r2"}});
    draft_place(s, part_named(s.editor.chart(), "R2"), 4);
    CHECK(names_of(drafts_in_hand(s)) == "the mark of R2 and the mark of R1");
    save_with_drafts(s, AfterSaving::Quit);
    CHECK(s.wants_quit);
    CHECK(record_of(s, "R1").state == RecordState::Recorded);
    CHECK(record_of(s, "R2").state == RecordState::Recorded);
    CHECK(drafts_in_hand(s).empty());
}

TEST_CASE("a kind of mark without a place is asked for its place before it is saved") {
    const ScratchFolder folder;
    Session s;
    open_saved(s, folder);
    s.show_stage(scene::Stage::Orient);
    s.editor.select({Id{"r1"}});
    draft_mark(s, part_named(s.editor.chart(), "R1"), document::MarkKind::Bar);
    save_with_drafts(s, AfterSaving::Quit);
    CHECK_FALSE(s.wants_quit);
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text.starts_with("The mark of R1 has no place yet"));
}

TEST_CASE("another chart knows nothing of what was typed on the last one") {
    const ScratchFolder folder;
    Session s;
    open_saved(s, folder);
    type_note(s, "tilted");
    s.show_stage(scene::Stage::Orient);
    s.editor.select({Id{"r1"}});
    draft_place(s, part_named(s.editor.chart(), "R1"), 0);
    open_saved(s, folder);
    CHECK(is_all_kept(s));
    CHECK_FALSE(s.desks.get<SurveyDesk>().pin.note);
}

TEST_CASE("a note begun for another part is that part's, and the typed one waits for its own") {
    const ScratchFolder folder;
    Session s;
    open_saved(s, folder);
    type_note(s, "tilted");
    PinDesk& pin = s.desks.get<SurveyDesk>().pin;
    const int form = pin.number;
    s.editor.select({Id{"r3"}});
    begin_note(s, {10, 0}, Side::Top, Id{"r3"});
    CHECK(is_pin_shown(s));
    CHECK(pin.number != form); // no letter of the last form gets into this one
    CHECK(pin.note->target == Id{"r3"});
    CHECK(pin.note->text.empty());
    CHECK(s.editor.notice()->text == "The note about R2 waits; it is not on the chart yet.");
    pin.note->text = "solder bridge";
    begin_reading(s, {0, 0}, Side::Top, Id{"r1"}, "2");
    pin.value = "0.482";
    CHECK(names_of(drafts_in_hand(s)) == "the reading at R1, pad 2, the note about R2 and the note about R3");
    begin_note_on_part(s); // of R3 again: the one that waits for it
    CHECK(pin.note->text == "solder bridge");
    REQUIRE(put_down_note(s));
    CHECK(s.editor.chart().notes[0].target == Id{"r3"});
    REQUIRE(put_down_drafts(s));
    CHECK(s.editor.chart().notes.size() == 2);
    CHECK(s.editor.chart().readings.size() == 1);
}

TEST_CASE("Escape leaves the form of a note and drops none of what is typed") {
    const ScratchFolder folder;
    Session s;
    open_saved(s, folder);
    type_note(s, "tilted");
    CHECK(survey_key(s, {Key::Escape}));
    CHECK_FALSE(is_pin_shown(s));
    CHECK(names_of(drafts_in_hand(s)) == "the note about R2");
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text.starts_with("The note about R2 waits"));
    go_on_with_pin(s);
    CHECK(s.desks.get<SurveyDesk>().pin.note->text == "tilted");
    s.desks.get<SurveyDesk>().pin.note->text.clear();
    CHECK(survey_key(s, {Key::Escape}));
    CHECK_FALSE(s.desks.get<SurveyDesk>().pin.note); // nothing would be missed
}

TEST_CASE("saving puts down what is complete and names what is left out of the file, with the reason") {
    const ScratchFolder folder;
    Session s;
    open_saved(s, folder);
    s.editor.select({Id{"r3"}});
    type_note(s, "flux all round");
    begin_reading(s, {0, 0}, Side::Top, Id{"r1"}, "2");
    s.desks.get<SurveyDesk>().pin.value = "0.482";
    s.show_stage(scene::Stage::Orient);
    s.editor.select({Id{"r1"}});
    draft_place(s, part_named(s.editor.chart(), "R1"), 0);
    s.editor.select({Id{"r2"}});
    draft_mark(s, part_named(s.editor.chart(), "R2"), document::MarkKind::Bar);
    save(s);
    const auto written = json::load_chart(s.editor.path());
    REQUIRE(written);
    CHECK(written->notes.size() == 1);
    CHECK(written->readings.size() == 1);
    CHECK(part_named(*written, "R1").orientation.state == RecordState::Recorded);
    CHECK(part_named(*written, "R2").orientation.state == RecordState::NotRecorded);
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text == "Saved as row.chart.json without the mark of R2. Its place is not chosen yet.");
    CHECK(s.editor.selection() == std::vector{Id{"r2"}});
    CHECK(parts_with_drafts(s) == std::vector{Id{"r2"}}); // and it is still there
}

TEST_CASE("a reading that is none is named when the chart is saved without it") {
    const ScratchFolder folder;
    Session s;
    open_saved(s, folder);
    begin_reading(s, {0, 0}, Side::Top, Id{"r1"}, "2");
    s.desks.get<SurveyDesk>().pin.value = "about half";
    save(s);
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text.starts_with(
        "Saved as row.chart.json without the reading at R1, pad 2. \"about half\" is no reading"));
    CHECK(is_pin_shown(s));
}

TEST_CASE("drafts come back as drafts after a window that was killed, also where nothing else was left behind") {
    const ScratchFolder folder, state;
    {
        Session s;
        open_saved(s, folder);
        type_note(s, "a \"bridge\" \\ at pin 2");
        begin_reading(s, {0, 0}, Side::Top, Id{"r1"}, "2");
        s.desks.get<SurveyDesk>().pin.value = "about half a volt";
        s.show_stage(scene::Stage::Orient);
        s.editor.select({Id{"r1"}});
        draft_place(s, part_named(s.editor.chart(), "R1"), 3);
        s.editor.select({Id{"r3"}});
        draft_mark(s, part_named(s.editor.chart(), "R3"), document::MarkKind::Bar);
        REQUIRE(s.editor.is_saved());
        Keeper(state.path()).look(s); // and no end: killed
    }
    const std::vector<LostWork> lost = lost_work(Keeper::journal_folder(state.path()));
    REQUIRE(lost.size() == 1);
    CHECK(chart_of(lost[0])->extras.empty());
    Session s;
    REQUIRE(take_back(s, lost[0]));
    CHECK(s.editor.is_saved()); // the chart itself is as in its file
    const std::string names = names_of(drafts_in_hand(s));
    CHECK(names == "the note about R2, the reading at R1, pad 2, the mark of R1 and the mark of R3");
    CHECK(s.editor.notice()->text.ends_with("Not on the chart: " + names + "."));
    SurveyDesk& desk = s.desks.get<SurveyDesk>();
    CHECK(desk.waiting.at(0).note->text == "a \"bridge\" \\ at pin 2");
    CHECK(desk.waiting.at(1).value == "about half a volt");
    CHECK(has_drafted_place(s, Id{"r1"}));
    CHECK_FALSE(has_drafted_place(s, Id{"r3"}));
    CHECK(unrecorded_draft(s, Id{"r1"})->orientation.extras.empty());
    CHECK(unrecorded_draft(s, Id{"r3"})->orientation.mark == document::MarkKind::Bar);

    // A second kill forgets them no more than the first.
    { Keeper(state.path()).look(s); }
    REQUIRE(lost_work(Keeper::journal_folder(state.path())).size() == 1);
    // Dropped, they leave nothing to be offered.
    Keeper last(state.path());
    REQUIRE(take_back(s, lost_work(Keeper::journal_folder(state.path())).front()));
    last.look(s);
    drop_pins(s);
    desk.waiting.clear();
    s.desks.get<OrientDesk>().waiting.clear();
    s.orient = {};
    last.look(s);
    last.end();
    CHECK(lost_work(Keeper::journal_folder(state.path())).empty());
}

TEST_CASE("what was left behind goes into the bin with its drafts, and opened from there has them as drafts") {
    const ScratchFolder folder, state;
    {
        Session s;
        open_saved(s, folder);
        s.editor.select({Id{"r3"}});
        s.editor.nudge({0, 1});
        type_note(s, "flux all round");
        begin_reading(s, {0, 0}, Side::Top, Id{"r1"}, "2");
        s.desks.get<SurveyDesk>().pin.value = "about half a volt";
        s.show_stage(scene::Stage::Orient);
        s.editor.select({Id{"r1"}});
        draft_place(s, part_named(s.editor.chart(), "R1"), 3);
        Keeper(state.path()).look(s); // and no end: killed
    }
    const auto binned = put_into_bin(lost_work(Keeper::journal_folder(state.path())).at(0));
    REQUIRE(binned);
    Session s;
    s.editor.tell(Severity::Note, "of another chart");
    REQUIRE(open_chart(s, binned->string()));
    CHECK(s.editor.is_saved());
    CHECK(s.editor.chart().extras.empty());
    CHECK(part_named(s.editor.chart(), "R3").placement.at.y == doctest::Approx(1.0));
    const std::string names = names_of(drafts_in_hand(s));
    CHECK(names == "the note about R2, the reading at R1, pad 2 and the mark of R1");
    CHECK(s.editor.notice()->text == "Not on the chart: " + names + ".");
    CHECK(s.desks.get<SurveyDesk>().waiting.at(1).value == "about half a volt");
    ask_or_do(s, AfterSaving::Quit);
    CHECK_FALSE(s.wants_quit); // asked about before they would be lost
}

TEST_CASE("a mark that is moved as a draft is not told to be on record") {
    const ScratchFolder folder;
    Session s;
    open_saved(s, folder);
    s.show_stage(scene::Stage::Orient);
    s.editor.select({Id{"r1"}});
    draft_mark(s, part_named(s.editor.chart(), "R1"), document::MarkKind::Dot);
    draft_place(s, part_named(s.editor.chart(), "R1"), 0);
    REQUIRE(record_drafts(s));
    const document::Footprint part = part_named(s.editor.chart(), "R1");
    analysis::PartFit fit;
    fit.is_complete = fit.needs_record = fit.has_record = true;
    fit.seating_turns = {{}, {}};
    (void)orient_draft(s, part);
    CHECK(verdict_in_hand(s, part, fit).tone == FitTone::Recorded);
    draft_place(s, part, 4);
    const FitVerdict says = verdict_in_hand(s, part, fit);
    CHECK(says.tone == FitTone::Open);
    CHECK(says.sentence == "What you changed is not recorded yet.");
    CHECK(says.reason.starts_with("On record: dot"));
}

} // namespace
} // namespace padchart::app
