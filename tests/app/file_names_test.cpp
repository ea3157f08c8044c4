// What is written from the window goes where the user means it to, and never over somebody else's file.

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>

#include "app/documents.hpp"
#include "app/file_names.hpp"
#include "app/import_flow.hpp"
#include "app/journal.hpp"
#include "app/keeper.hpp"
#include "app/session.hpp"
#include "app/start_desk.hpp"
#include "document/edits.hpp"
#include "support.hpp"
#include "json/chart_file.hpp"

using namespace padchart;
using namespace padchart::app;
namespace fs = std::filesystem;

namespace {

constexpr const char* kTrace = R"(<?xml version="1.0"?>
<svg xmlns="http://www.w3.org/2000/svg" width="10mm" height="10mm" viewBox="0 0 10 10"><rect width="3" height="2"/></svg>
)";

std::string put(const fs::path& path, const std::string& text) {
    std::ofstream(path, std::ios::binary) << text;
    return path.string();
}

std::string shown_path(const Session& s) {
    return std::get<FileDialog>(s.dialog).path;
}

bool says(const std::optional<std::string>& reason, const char* words) {
    return reason && reason->find(words) != std::string::npos;
}

} // namespace

TEST_CASE("the window writes over no trace and no photo") {
    const ScratchFolder folder;
    const std::string trace = put(folder.path() / "corner.svg", kTrace);
    const std::string photo = put(folder.path() / "board.png", "\x89PNG\r\n\x1a\n somebody's photo");
    CHECK(says(why_not_written(FileTask::WriteSheet, trace), "Padchart did not write it"));
    CHECK(says(why_not_written(FileTask::WriteSheet, trace), "e.g. corner.map.svg"));
    CHECK(says(why_not_written(FileTask::WriteSheet, photo), "may be a trace or a photograph"));
    CHECK(says(why_not_written(FileTask::WriteCard, photo), "e.g. board.card.png"));
    const std::string page = put(folder.path() / "notes.html", "<html><p>somebody's words</p></html>");
    CHECK(says(why_not_written(FileTask::WriteSheet, page), "is no page of a chart"));
    // Under a chart's name as well.
    CHECK(says(why_not_written(FileTask::SaveAs, put(folder.path() / "x.chart.json", kTrace)), "is no chart"));
    CHECK(says(why_not_written(FileTask::SavePattern, put(folder.path() / "x.pattern.json", kTrace)), "is no pattern"));
}

TEST_CASE("a picture, a page and a chart of its own the window may write over") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(row_of_chips());
    const auto at = [&folder](const char* name) { return (folder.path() / name).string(); };
    REQUIRE(s.editor.save_as(at("row.chart.json")));
    CHECK_FALSE(why_not_written(FileTask::SaveAs, at("row.chart.json")));
    for (const char* name : {"row.svg", "row.png", "row.pdf", "row.html"}) {
        CAPTURE(name);
        CHECK_FALSE(why_not_written(FileTask::WriteSheet, at(name))); // nothing is there yet
        REQUIRE(write_sheet(s, at(name)));
        CHECK_FALSE(why_not_written(FileTask::WriteSheet, at(name)));
        CHECK(offered_name(FileTask::WriteSheet, at(name)) == at(name));
    }
}

TEST_CASE("a wrong ending is told before anything else") {
    const ScratchFolder folder;
    const std::string trace = put(folder.path() / "corner.svg", kTrace);
    CHECK(completed_path(FileTask::SaveAs, trace) == trace);
    CHECK(says(why_not_written(FileTask::SaveAs, trace), "must end with .chart.json, e.g. corner.chart.json."));
    CHECK(says(why_not_written(FileTask::WriteSheet, "row.chart.json"), "must end with .pdf, .html, .svg or .png."));
    CHECK_FALSE(why_not_written(FileTask::WriteSheet, "row.PDF"));
    CHECK(completed_path(FileTask::SaveAs, "row") == "row.chart.json");
    CHECK(completed_path(FileTask::SaveAs, "row rev. C") == "row rev. C.chart.json");
    CHECK(completed_path(FileTask::SaveAs, "row.chart.json") == "row.chart.json");
    CHECK(says(why_not_written(FileTask::SaveAs, ".chart.json"), "must end"));
}

TEST_CASE("the map's name is not offered where the trace lies") {
    const ScratchFolder folder;
    put(folder.path() / "corner.svg", kTrace);
    Session s;
    s.editor.start_new(row_of_chips());
    REQUIRE(s.editor.save_as(folder.path() / "corner.chart.json"));
    ask_for_sheet(s, ".svg");
    CHECK(shown_path(s) == (folder.path() / "corner.map.svg").string());
    put(folder.path() / "corner.map.svg", kTrace);
    ask_for_sheet(s, ".svg");
    CHECK(shown_path(s) == (folder.path() / "corner.map-2.svg").string());
    ask_for_sheet(s, ".pdf");
    CHECK(shown_path(s) == (folder.path() / "corner.pdf").string());
}

TEST_CASE("a new import is saved beside its trace under its name") {
    const ScratchFolder folder;
    const std::string trace = put(folder.path() / "power-corner.svg", kTrace);
    Session s;
    REQUIRE(begin_import(s, trace));
    wait_for_import(s);
    REQUIRE(accept_import(s));
    save(s);
    CHECK(shown_path(s) == (folder.path() / "power-corner.chart.json").string());
    ask_for_sheet(s, ".svg");
    CHECK(shown_path(s) == (folder.path() / "power-corner.map.svg").string());
    put(folder.path() / "power-corner.chart.json", "{}");
    save(s);
    CHECK(shown_path(s) == (folder.path() / "power-corner-2.chart.json").string());
    // The next chart has nothing to do with it.
    s.editor.start_new(row_of_chips());
    save(s);
    CHECK(shown_path(s) == fs::current_path().string() + "/");
}

TEST_CASE("a chart out of the bin is offered the name its file had, and no name that is taken") {
    const ScratchFolder folder, state;
    const fs::path file = folder.path() / "row.chart.json";
    {
        Session s;
        s.editor.start_new(row_of_chips());
        REQUIRE(s.editor.save_as(file));
        s.editor.select({document::Id{"r1"}});
        s.editor.nudge({0, 1});
        Keeper(state.path()).look(s); // and no end: killed
    }
    const auto binned = put_into_bin(lost_work(Keeper::journal_folder(state.path())).at(0));
    REQUIRE(binned);
    Session s;
    fetch_from_bin(s, *binned);
    CHECK(s.editor.path().empty());
    CHECK(s.editor.chart().extras.empty());
    save(s);
    CHECK(shown_path(s) == (folder.path() / "row-2.chart.json").string());
    fs::remove(file);
    save(s);
    CHECK(shown_path(s) == file.string());
    ask_for_sheet(s, ".pdf");
    CHECK(shown_path(s) == (folder.path() / "row.pdf").string());
    // The next chart has nothing to do with it.
    s.editor.start_new(row_of_chips());
    save(s);
    CHECK(shown_path(s) == fs::current_path().string() + "/");
}

TEST_CASE("a chart that never had a file is offered its title as a name") {
    Session s;
    s.editor.start_new(row_of_chips());
    const auto offered = [&s](const char* board, const char* title) {
        document::Title words;
        words.board = board;
        words.title = title;
        REQUIRE(s.editor.commit(document::set_title(s.editor.chart(), words), "Region"));
        return offered_chart(s, "/none/");
    };
    CHECK(offered("River logger", "Power / \"corner\"") == "/none/River-logger-Power-corner.chart.json");
    CHECK(offered("", "Prüfling 2") == "/none/Prüfling-2.chart.json");
    CHECK(offered("", "..") == "/none/");
    const std::string longest = offered("", (std::string(59, '2') + "üü").c_str());
    CHECK(longest.size() <= std::string("/none/.chart.json").size() + 60);
    CHECK(longest.ends_with("2.chart.json")); // no half letter
}
