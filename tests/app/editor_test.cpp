#include <unistd.h>

#include <array>
#include <filesystem>

#include "support.hpp"

#include "json/chart_file.hpp"

namespace padchart::app {
namespace {

using document::Id;
using geometry::Vec2;

Editor editor_with_row() {
    Editor editor;
    editor.start_new(row_of_chips());
    return editor;
}

TEST_CASE("a new chart is saved until something is done to it") {
    Editor editor = editor_with_row();
    CHECK(editor.is_saved());
    editor.select({Id{"r1"}});
    CHECK(editor.is_saved()); // looking is no change
    editor.nudge({0.05, 0});
    CHECK_FALSE(editor.is_saved());
    editor.undo();
    CHECK(editor.is_saved());
}

TEST_CASE("a chart that came from a trace is not saved") {
    Editor editor;
    editor.start_from(row_of_chips(), "Import row.svg");
    CHECK_FALSE(editor.is_saved());
}

TEST_CASE("many nudges are one step and one undo takes them all back") {
    Editor editor = editor_with_row();
    const std::size_t steps = editor.history().steps().size();
    editor.select({Id{"r1"}});
    for (int i = 0; i < 10; ++i)
        editor.nudge({0.05, 0});
    CHECK(part_named(editor.chart(), "R1").placement.at.x == doctest::Approx(0.5)); // ten times 0.05
    CHECK(editor.history().steps().size() == steps + 1);
    editor.undo();
    CHECK(part_named(editor.chart(), "R1").placement.at == Vec2{0, 0});
}

TEST_CASE("a nudge while the chart is on its way to the file begins a step of its own, and undo leads back to what was "
          "saved") {
    const ScratchFolder folder;
    Editor editor = editor_with_row();
    editor.select({Id{"r1"}});
    editor.nudge({0.05, 0});
    const Saving saving = editor.begin_saving(folder.path() / "row.chart.json", false);
    const std::size_t steps = editor.history().steps().size();
    editor.nudge({0.05, 0});
    editor.nudge({0.05, 0});
    REQUIRE(editor.end_saving(saving, Editor::write(saving)));
    CHECK(editor.history().steps().size() == steps + 1);
    CHECK_FALSE(editor.is_saved());
    editor.undo();
    CHECK(editor.is_saved());
    CHECK(part_named(editor.chart(), "R1").placement.at.x == doctest::Approx(0.05));
}

TEST_CASE("undo selects what the step had touched and redo does so again") {
    Editor editor = editor_with_row();
    editor.select({Id{"r2"}});
    editor.turn(Angle::degrees(90), document::Side::Top);
    editor.select({Id{"r3"}});
    editor.undo();
    CHECK(editor.selection() == std::vector{Id{"r2"}});
    CHECK(part_named(editor.chart(), "R2").placement.turn == Angle());
    editor.select({});
    editor.redo();
    CHECK(editor.selection() == std::vector{Id{"r2"}});
    CHECK(part_named(editor.chart(), "R2").placement.turn == Angle::degrees(90));
}

TEST_CASE("a preview is shown but is no step until it is committed") {
    Editor editor = editor_with_row();
    editor.select({Id{"r1"}});
    const std::size_t steps = editor.history().steps().size();
    editor.preview(document::move_parts(editor.chart(), editor.selection(), {1, 2}));
    CHECK(part_named(editor.shown(), "R1").placement.at == Vec2{1, 2});
    CHECK(part_named(editor.chart(), "R1").placement.at == Vec2{0, 0});
    editor.drop_preview();
    CHECK(editor.history().steps().size() == steps);
    editor.preview(document::move_parts(editor.chart(), editor.selection(), {1, 2}));
    CHECK(editor.commit_preview("Move R1"));
    CHECK(editor.history().steps().size() == steps + 1);
    CHECK(editor.history().current().label == "Move R1");
}

TEST_CASE("a gesture that ends where it began makes no step") {
    Editor editor = editor_with_row();
    editor.select({Id{"r1"}});
    editor.preview(document::move_parts(editor.chart(), editor.selection(), {0, 0}));
    CHECK_FALSE(editor.commit_preview("Move R1"));
    CHECK(editor.is_saved());
}

TEST_CASE("a refused edit says why and changes nothing") {
    Editor editor = editor_with_row();
    const auto before = editor.snapshot();
    CHECK_FALSE(editor.commit(document::rename_part(editor.chart(), Id{"nobody"}, "X1"), "Name"));
    REQUIRE(editor.notice());
    CHECK(editor.notice()->severity == Severity::Fault);
    CHECK_FALSE(editor.notice()->text.empty());
    CHECK(editor.snapshot() == before);
}

TEST_CASE("deleting takes the parts out of the selection and undo brings them back") {
    Editor editor = editor_with_row();
    editor.select({Id{"r1"}, Id{"r3"}});
    editor.remove_selected();
    CHECK(editor.selection().empty());
    CHECK(editor.chart().parts.size() == 2);
    editor.undo();
    CHECK(editor.chart().parts.size() == 4);
    CHECK(editor.selection() == std::vector{Id{"r1"}, Id{"r3"}});
}

TEST_CASE("added parts get the letter of their class and the first free number") {
    Editor editor = editor_with_row();
    document::Footprint pattern = patterns::generate("chip-1608M").value();
    pattern.part_class = document::PartClass::Resistor;
    REQUIRE(editor.add_part(pattern, {{1, 1}, Angle(), document::Side::Top}));
    CHECK(editor.selected_part()->name == "R4"); // R1 to R3 and R9 are taken
    pattern.part_class = document::PartClass::CeramicCapacitor;
    REQUIRE(editor.add_part(pattern, {{2, 1}, Angle(), document::Side::Top}));
    CHECK(editor.selected_part()->name == "C1");
    CHECK(editor.chart().parts.size() == 6);
}

TEST_CASE("select all takes the side that is seen") {
    Editor editor = editor_with_row();
    editor.select_all(document::Side::Bottom);
    CHECK(editor.selection() == std::vector{Id{"r9"}});
    editor.select_all(document::Side::Top);
    CHECK(editor.selection().size() == 3);
}

TEST_CASE("ids that no part bears cannot be selected") {
    Editor editor = editor_with_row();
    editor.select({Id{"r1"}, Id{"ghost"}});
    CHECK(editor.selection() == std::vector{Id{"r1"}});
}

TEST_CASE("turning four times by a quarter is where it was") {
    Editor editor = editor_with_row();
    editor.select({Id{"r1"}, Id{"r2"}});
    const document::Chart before = editor.chart();
    for (int i = 0; i < 4; ++i)
        editor.turn(Angle::degrees(90), document::Side::Top);
    for (const char* name : {"R1", "R2"}) {
        const Vec2 now = part_named(editor.chart(), name).placement.at;
        const Vec2 then = part_named(before, name).placement.at;
        CHECK(now.x == doctest::Approx(then.x));
        CHECK(now.y == doctest::Approx(then.y));
        CHECK(part_named(editor.chart(), name).placement.turn.wrapped() == Angle());
    }
}

TEST_CASE("what was saved is what is opened again") {
    const ScratchFolder folder;
    Editor editor = editor_with_row();
    editor.select({Id{"r2"}});
    editor.set_presence(document::Presence::Missing);
    REQUIRE(editor.save_as(folder.path() / "row.chart.json"));
    CHECK(editor.is_saved());
    Editor other;
    REQUIRE(other.open(folder.path() / "row.chart.json"));
    CHECK(other.chart() == editor.chart());
    CHECK(other.is_saved());
    CHECK(part_named(other.chart(), "R2").condition.presence == document::Presence::Missing);
}

TEST_CASE("a file that cannot be opened leaves the chart as it is") {
    Editor editor = editor_with_row();
    const auto before = editor.snapshot();
    const Result<void> opened = editor.open("/no/such/folder/x.chart.json");
    REQUIRE_FALSE(opened);
    CHECK_FALSE(opened.error().message.empty());
    CHECK(editor.snapshot() == before);
}

TEST_CASE("the version tells every change of what is shown") {
    Editor editor = editor_with_row();
    auto version = editor.version();
    const auto changed = [&] { return std::exchange(version, editor.version()) != editor.version(); };
    editor.select({Id{"r1"}});
    CHECK(changed());
    editor.select({Id{"r1"}});
    CHECK_FALSE(changed());
    editor.preview(document::move_parts(editor.chart(), editor.selection(), {1, 0}));
    CHECK(changed());
    editor.drop_preview();
    CHECK(changed());
    editor.nudge({1, 0});
    CHECK(changed());
    editor.undo();
    CHECK(changed());
}

TEST_CASE("names of selections read as people say them") {
    const document::Chart chart = row_of_chips();
    CHECK(name_of(chart, std::array{Id{"r1"}}) == "R1");
    CHECK(name_of(chart, std::array{Id{"r1"}, Id{"r3"}}) == "R1 and R3");
    CHECK(name_of(chart, std::array{Id{"r1"}, Id{"r2"}, Id{"r3"}}) == "3 parts");
}

TEST_CASE("a chart somebody else has changed meanwhile is not written over") {
    const std::filesystem::path path =
        std::filesystem::temp_directory_path() / ("padchart-editor-" + std::to_string(::getpid()) + ".chart.json");
    REQUIRE(json::save_chart(document::Chart{}, path));
    Editor editor;
    REQUIRE(editor.open(path));
    document::Chart theirs;
    theirs.title.title = "theirs";
    REQUIRE(json::save_chart(theirs, path));
    const Result<void> refused = editor.save_again();
    REQUIRE_FALSE(refused);
    CHECK(refused.error().message.starts_with("this file was changed outside this window"));
    CHECK(json::load_chart(path)->title.title == "theirs");
    // Stated again under the same name it is meant, and from then on the file is ours.
    CHECK(editor.save_as(path));
    CHECK(editor.save_again());
    std::filesystem::remove(path);
}

TEST_CASE("a jump to a step shows its chart and what was touched on the way back") {
    Editor editor;
    editor.start_new(row_of_chips());
    editor.select({document::Id{"r1"}});
    editor.nudge({1, 0});
    editor.select({document::Id{"r2"}});
    editor.turn(Angle::degrees(90), document::Side::Top);
    const document::Chart end = editor.chart();
    editor.go_to_step(0);
    CHECK(editor.chart() == row_of_chips());
    CHECK(editor.selection() == std::vector{document::Id{"r1"}});
    CHECK(editor.is_saved());
    editor.go_to_step(2);
    CHECK(editor.chart() == end);
    CHECK(editor.selection() == std::vector{document::Id{"r2"}});
}

} // namespace
} // namespace padchart::app
