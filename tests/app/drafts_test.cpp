#include "support.hpp"

#include "app/documents.hpp"
#include "app/drafts.hpp"
#include "app/orient_desk.hpp"
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
    s.editor.select({Id{"r3"}});
    begin_note(s, {10, 0}, Side::Top, Id{"r3"});
    CHECK(s.desks.get<SurveyDesk>().pin.note->text == "tilted");
    CHECK(s.editor.selection() == std::vector{Id{"r2"}});
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->text.starts_with("The note about R2 is not on the chart yet"));
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

} // namespace
} // namespace padchart::app
