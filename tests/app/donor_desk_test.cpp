#include "support.hpp"

#include "app/actions.hpp"
#include "app/documents.hpp"
#include "app/today.hpp"
#include "json/chart_file.hpp"

namespace padchart::app {
namespace {

using document::Footprint;

/// One gull wing; its mark is on record where `recorded`, its pads bear numbers where `numbered`.
document::Chart board_with_u3(double turn_deg, bool recorded, bool numbered) {
    Footprint part = part_of("soic-8", "U3", {5, 5});
    part.placement.turn = Angle::degrees(turn_deg);
    if (!numbered)
        for (document::Pad& pad : part.pads)
            pad.number.clear();
    if (recorded) {
        part.orientation.state = document::RecordState::Recorded;
        part.orientation.mark = document::MarkKind::Dot;
        part.orientation.bearing = Angle::degrees(135);
        part.orientation.meaning = document::Meaning::Pin1;
    }
    return document::add_part(new_chart(), part).value();
}

std::string donor_file(const ScratchFolder& folder, bool numbered) {
    const std::string path = (folder.path() / "donor.chart.json").string();
    REQUIRE(json::save_chart(board_with_u3(90, true, numbered), path));
    return path;
}

void open_for_u3(Session& s, const std::string& path, bool numbered) {
    s.editor.start_new(board_with_u3(0, false, numbered));
    s.editor.select({document::Id{"u3"}});
    REQUIRE(finish_file_dialog(s, FileTask::OpenDonor, path));
    REQUIRE(s.panel == Panel::Donor);
    s.donor.ask_for(*s.editor.selected_part());
}

TEST_CASE("a donor's record is taken in one step where pad numbers settle it") {
    const ScratchFolder folder;
    Session s;
    open_for_u3(s, donor_file(folder, true), true);
    CHECK(s.donor.donor_part() == document::Id{"u3"}); // its namesake
    run(*find_action("use-donor-record"), s);
    const document::Orientation& record = part_named(s.editor.chart(), "U3").orientation;
    CHECK(record.state == document::RecordState::Recorded);
    CHECK(record.bearing.degrees() == doctest::Approx(135));
    CHECK(record.evidence.kind == document::EvidenceKind::SeenOnDonor);
    CHECK(s.panel == Panel::Stage);
    s.editor.undo();
    CHECK(s.editor.is_saved());
}

TEST_CASE("the evidence bears the day somebody looked at the donor, and today where none is told") {
    const ScratchFolder folder;
    Session s;
    open_for_u3(s, donor_file(folder, true), true);
    const auto day = [&] { return s.donor.answer(s.editor.snapshot()).value().orientation.evidence.date; };
    CHECK(day() == today());
    s.donor.date = "2031-04-02";
    CHECK(day() == "2031-04-02");
}

TEST_CASE("without numbers the donor settles nothing and nothing is recorded") {
    const ScratchFolder folder;
    Session s;
    open_for_u3(s, donor_file(folder, false), false);
    const auto& answer = s.donor.answer(s.editor.snapshot());
    REQUIRE(answer);
    CHECK_FALSE(answer->is_certain);
    CHECK(answer->possible.size() == 2);
    run(*find_action("use-donor-record"), s);
    CHECK(s.editor.is_saved());
    CHECK(s.editor.notice());
}

TEST_CASE("a pattern saved from a part comes back on the pointer") {
    const ScratchFolder folder;
    const std::string path = (folder.path() / "eight.pattern.json").string();
    Session s;
    s.editor.start_new(board_with_u3(30, true, true));
    CHECK_FALSE(finish_file_dialog(s, FileTask::SavePattern, path)); // nothing is selected
    s.editor.select({document::Id{"u3"}});
    CHECK_FALSE(finish_file_dialog(s, FileTask::SavePattern, (folder.path() / "eight").string()));
    REQUIRE(finish_file_dialog(s, FileTask::SavePattern, path));
    REQUIRE(finish_file_dialog(s, FileTask::LoadPattern, path));
    CHECK_FALSE(s.tool->is_selecting());
    CHECK_FALSE(finish_file_dialog(s, FileTask::LoadPattern, (folder.path() / "none.pattern.json").string()));
}

TEST_CASE("the card of the selected part is written and other endings are refused") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(board_with_u3(0, true, true));
    CHECK_FALSE(finish_file_dialog(s, FileTask::WriteCard, (folder.path() / "card.pdf").string()));
    s.editor.select({document::Id{"u3"}});
    CHECK_FALSE(finish_file_dialog(s, FileTask::WriteCard, (folder.path() / "card.txt").string()));
    REQUIRE(finish_file_dialog(s, FileTask::WriteCard, (folder.path() / "card.pdf").string()));
    CHECK(std::filesystem::file_size(folder.path() / "card.pdf") > 1000);
}

} // namespace
} // namespace padchart::app
