#include "support.hpp"

#include "app/actions.hpp"
#include "app/conflict_desk.hpp"
#include "json/merge.hpp"

namespace padchart::app {
namespace {

using document::Footprint;
using document::Id;

document::Chart with(const document::Chart& chart, const char* name, const std::function<void(Footprint&)>& how) {
    return document::change_part(chart, part_named(chart, name).id, how).value();
}

/// Both hands gave R1 a value and R2 a mark, each another.
document::Chart in_conflict() {
    const document::Chart base = row_of_chips();
    const auto marked = [](document::MarkKind mark, double bearing_deg, document::Meaning meaning) {
        return [=](Footprint& part) {
            part.orientation.state = document::RecordState::Recorded;
            part.orientation.mark = mark;
            part.orientation.bearing = Angle::degrees(bearing_deg);
            part.orientation.meaning = meaning;
        };
    };
    document::Chart ours = with(base, "R1", [](Footprint& part) { part.value = "10k"; });
    document::Chart theirs = with(base, "R1", [](Footprint& part) { part.value = "12k"; });
    ours = with(ours, "R2", marked(document::MarkKind::Band, 0, document::Meaning::Cathode));
    theirs = with(theirs, "R2", marked(document::MarkKind::Dot, 180, document::Meaning::Pin1));
    return json::merge(base, ours, theirs, {"bench 1", "bench 2"}).value().chart;
}

void act(Session& s, const char* id) {
    const Action* action = find_action(id);
    REQUIRE(action != nullptr);
    REQUIRE(action->enabled(s));
    run(*action, s);
}

TEST_CASE("what called for the settling is no longer told while one settles") {
    Session s;
    s.editor.start_new(in_conflict());
    s.editor.tell(Severity::Warning, std::string(kToBeSettled) + ", with Ctrl+M: 2 conflicts of a merge.");
    act(s, "conflicts");
    CHECK_FALSE(s.editor.notice());
    s.editor.tell(Severity::Warning, "Something else.");
    act(s, "conflicts");
    CHECK(s.editor.notice());
}

TEST_CASE("conflicts are settled one statement after the other and each can be undone") {
    Session s;
    s.editor.start_new(in_conflict());
    CHECK(conflicts_in_words(s.editor.chart()) == "2 conflicts of a merge");
    act(s, "conflicts");
    CHECK(s.panel == Panel::Conflicts);
    CHECK(s.editor.is_selected(Id{"r1"}));
    act(s, "settle-theirs");
    CHECK(part_named(s.editor.chart(), "R1").value == "12k");
    CHECK(conflicts_in_words(s.editor.chart()) == "1 conflict of a merge");
    CHECK(s.editor.is_selected(Id{"r2"})); // the next one
    act(s, "settle-theirs");
    CHECK(part_named(s.editor.chart(), "R2").orientation.mark == document::MarkKind::Dot);
    CHECK(part_named(s.editor.chart(), "R2").orientation.meaning == document::Meaning::Pin1);
    CHECK(s.editor.chart().conflicts.empty());
    s.editor.undo();
    s.editor.undo();
    CHECK(s.editor.chart() == in_conflict());
}

TEST_CASE("both sides are ready to be drawn as they have it") {
    Session s;
    s.editor.start_new(in_conflict());
    ConflictDesk& desk = s.desks.get<ConflictDesk>();
    act(s, "conflicts");
    act(s, "next-conflict");
    const auto& open = desk.current(s.editor.snapshot());
    REQUIRE(open);
    CHECK(open->what == "R2, orientation: mark, bearing deg and meaning");
    CHECK(open->ours_label == "bench 1");
    REQUIRE(open->part[0]);
    REQUIRE(open->part[1]);
    CHECK_FALSE(open->part[2]); // the record from before is not known as a whole
    CHECK(open->part[0]->orientation.mark == document::MarkKind::Band);
    CHECK(open->part[1]->orientation.mark == document::MarkKind::Dot);
}

TEST_CASE("a value of one's own settles a field and the wrong kind is told") {
    Session s;
    s.editor.start_new(in_conflict());
    act(s, "conflicts");
    settle_conflict_with(s, "11k");
    CHECK(part_named(s.editor.chart(), "R1").value == "11k");
    settle_conflict_with(s, "anything"); // a statement of three fields has no one value
    CHECK(conflicts_in_words(s.editor.chart()) == "1 conflict of a merge");
}

TEST_CASE("a chart without conflicts has nothing to settle") {
    Session s;
    s.editor.start_new(row_of_chips());
    CHECK_FALSE(find_action("conflicts")->enabled(s));
    settle_conflict(s, json::Settle::Ours);
    CHECK(s.editor.is_saved());
}

TEST_CASE("every answer to a conflict has a key, and one that nobody knows says so") {
    Session s;
    s.editor.start_new(in_conflict());
    act(s, "conflicts");
    REQUIRE(action_for(alt(Key::Digit2)) != nullptr);
    CHECK(action_for(alt(Key::Digit2))->id == "settle-theirs");
    CHECK(find_action("settle-base")->enabled(s)); // R1 had no value
    run(*action_for(alt(Key::PageDown)), s);
    CHECK(s.editor.is_selected(Id{"r2"}));
    run(*find_action("settle-base"), s); // half a mark is none
    CHECK(s.editor.notice()->text ==
          "Settle: as it was before both is not possible just now: nobody knows what it was before both.");
    run(*action_for(alt(Key::PageUp)), s);
    run(*action_for(alt(Key::Digit2)), s);
    CHECK(part_named(s.editor.chart(), "R1").value == "12k");
}

} // namespace
} // namespace padchart::app
