// The one-file page, its way back, and the index, by the command line; the page itself is tried in tests/page.

#include <doctest/doctest.h>

#include "cli/run_support.hpp"
#include "json/chart_file.hpp"
#include "json/notes_file.hpp"

using namespace padchart;
using namespace padchart::tests;

namespace {

std::string notes_text(const std::string& text, const std::string& author) {
    json::NotesFile notes;
    const Result<document::Chart> chart = json::load_chart(demo_chart_path());
    notes.title = chart->title.title;
    notes.board = chart->title.board;
    notes.author = author;
    document::Note note;
    note.id = {"note-from-afar"};
    note.text = text;
    note.at = {12.0, 8.0};
    note.target = chart->parts[0].id;
    notes.notes.add(note);
    return json::write_notes(notes);
}

/// What each stage comes to stands above the map, where it is seen before one scrolls.
void check_verdicts(std::string page) {
    page.resize(page.find("<figure"));
    CHECK(contains(page, "Parts 51 of 57 checked; 1 missing."));
    CHECK(contains(page, "16 parts can be soldered back the wrong way round; 5 not on record."));
    CHECK(contains(page, "Shield J5 before you start: it may reach"));
    CHECK(contains(page, "Not compared with before: no chart from before the heat was kept."));
    CHECK(contains(page, "Come from the north"));
}

} // namespace

TEST_CASE("a page gives its chart back byte by byte and stands in for it, and says first what each stage comes to") {
    const TemporaryFolder folder;
    const std::string page = folder.file("logger.HTML");
    const Answer made = call({"sheet", demo_chart_path(), "-o", page});
    CHECK(made.code == 0);
    CHECK(contains(made.out, "logger.HTML, "));
    check_verdicts(read_text(page));
    const std::string back = folder.file("back.chart.json");
    CHECK(call({"extract", page, "-o", back}).code == 0);
    CHECK(read_text(back) == read_text(demo_chart_path()));
    CHECK(call({"extract", page, "-o", back}).code == 2); // there already
    CHECK(call({"extract", page, "-o", back, "--force"}).code == 0);
    CHECK(call({"parts", page, "--csv"}).out == call({"parts", demo_chart_path(), "--csv"}).out);
    // A page of a page holds the first one's chart.
    CHECK(call({"sheet", page, "-o", folder.file("second.html")}).code == 0);
    CHECK(call({"extract", folder.file("second.html"), "-o", folder.file("b2.chart.json")}).code == 0);
    CHECK(read_text(folder.file("b2.chart.json")) == read_text(demo_chart_path()));
    const Answer plain = call({"check", folder.write("other.html", "<html><p>no chart</p></html>")});
    CHECK(plain.code == 2);
    CHECK(contains(plain.err, "holds no chart"));
}

TEST_CASE("an ending counts whatever its case") {
    const TemporaryFolder folder;
    CHECK(call({"sheet", demo_chart_path(), "-o", folder.file("x.PDF")}).code == 0);
    CHECK(read_text(folder.file("x.PDF")).substr(0, 5) == "%PDF-");
    CHECK(call({"card", demo_chart_path(), "--part", "C9", "-o", folder.file("c.Svg")}).code == 0);
    CHECK(contains(read_text(folder.file("c.Svg")), "<svg"));
}

TEST_CASE("notes sent back go into the chart once with who wrote them") {
    const TemporaryFolder folder;
    const std::string notes = folder.write("n.notes.json", notes_text("look at pad 3", "R. Avel"));
    const std::string out = folder.file("out.chart.json");
    const Answer merged = call({"merge", demo_chart_path(), "--notes", notes, "-o", out});
    CHECK(merged.code == 0);
    CHECK(contains(merged.out, "1 note added"));
    const Result<document::Chart> chart = json::load_chart(out);
    REQUIRE(chart.has_value());
    const document::Note& note = chart->notes[chart->notes.size() - 1];
    CHECK(note.text == "look at pad 3");
    CHECK(note.author == "R. Avel");
    CHECK(note.target == chart->parts[0].id);
    const Answer again = call({"merge", out, "--notes", notes, "--notes", notes, "-o", folder.file("out2.chart.json")});
    CHECK(again.code == 0);
    CHECK(contains(again.out, "0 notes added, 1 there already"));
    CHECK(read_text(folder.file("out2.chart.json")) == read_text(out));
}

TEST_CASE("notes stand for the other side of a three way merge") {
    const TemporaryFolder folder;
    const std::string notes = folder.write("n.notes.json", notes_text("look at pad 3", "R. Avel"));
    const std::string sent = folder.write("sent.notes.json", notes_text("x", "y"));
    const std::string ours = folder.file("ours.chart.json");
    CHECK(call({"merge", demo_chart_path(), "--notes", sent, "-o", ours}).code == 0);
    const std::string out = folder.file("out.chart.json");
    CHECK(call({"merge", demo_chart_path(), ours, notes, "-o", out}).code <= 1);
    const Result<document::Chart> chart = json::load_chart(out);
    REQUIRE(chart.has_value());
    std::string all;
    for (const document::Note& note : chart->notes)
        all += note.text + "|";
    CHECK(contains(all, "look at pad 3"));
    CHECK(contains(all, "x|"));
}

TEST_CASE("what cannot be merged says why") {
    const TemporaryFolder folder;
    const std::string notes = folder.write("n.notes.json", notes_text("x", "y"));
    CHECK(call({"merge", demo_chart_path(), "-o", folder.file("o")}).code == 129);
    CHECK(call({"merge", demo_chart_path(), "--notes", demo_chart_path(), "-o", folder.file("o")}).code == 2);
    const Answer page = call({"merge", demo_chart_path(), "--notes", notes, "-o", folder.file("o.html")});
    CHECK(page.code == 2);
    CHECK(contains(page.err, "not saved over a page"));
}

TEST_CASE("the index lists every chart of a folder and the broken ones as such") {
    const TemporaryFolder folder;
    std::filesystem::create_directories(folder.path() / "shop" / "a b");
    std::filesystem::copy(demo_chart_path(), folder.path() / "shop" / "a b" / "logger.chart.json");
    (void)folder.write("shop/<b>broken.chart.json", "{\"format\": ");
    (void)folder.write("shop/a b/logger.pdf", "a sheet made earlier");
    const std::string index = folder.file("index.html");
    const Answer made = call({"sheet", "--all", folder.file("shop"), "-o", index});
    CHECK(made.code == 1);
    CHECK(contains(made.out, "2 charts, 1 could not be read"));
    const std::string html = read_text(index);
    for (const char* what : {"Power corner", "River logger, revision C", "Could not be read",
                             "&lt;b&gt;broken.chart.json", "href=\"index-pages/a%20b/logger.html\"",
                             "href=\"shop/a%20b/logger.chart.json\"", "href=\"shop/a%20b/logger.pdf\""})
        CHECK_MESSAGE(contains(html, what), std::string(what));
    CHECK_FALSE(contains(html, "<b>broken"));
    CHECK_FALSE(contains(html, folder.path().string())); // the index is handed on
    CHECK(contains(html, "could go back wrong"));
    CHECK(contains(html, "default-src 'none'; script-src 'none'"));
    CHECK(call({"extract", folder.file("index-pages/a b/logger.html"), "-o", folder.file("x.chart.json")}).code == 0);
    CHECK(read_text(folder.file("x.chart.json")) == read_text(demo_chart_path()));
    CHECK(call({"sheet", "--all", folder.file("shop"), "-o", folder.file("x.pdf")}).code == 2);
    CHECK(call({"sheet", "--all", folder.file("nothing"), "-o", index}).code == 2);
    CHECK(call({"sheet", "-o", index}).code == 2);
}
