#include <doctest/doctest.h>

#include <string>

#include "base/base64.hpp"
#include "support/sample_chart.hpp"
#include "json/chart_file.hpp"
#include "json/chart_in_page.hpp"
#include "json/notes_file.hpp"

using namespace padchart;
using namespace padchart::json;
using document::Chart;
using document::Id;
using document::Note;

namespace {

std::string page_around(const std::string& element) {
    return "<!doctype html>\n<html><head></head><body><p>Power corner</p>\n" + element + "</body></html>\n";
}

Note note(std::string id, std::string text, std::string target = {}) {
    Note out;
    out.id = {std::move(id)};
    out.text = std::move(text);
    out.target = {std::move(target)};
    out.at = {1.5, 2.25};
    out.author = "R. Avel";
    out.date = "2031-05-01";
    return out;
}

NotesFile notes_of(std::initializer_list<Note> list) {
    NotesFile out;
    const Chart chart = test::sample_chart();
    out.title = chart.title.title;
    out.board = chart.title.board;
    for (const Note& one : list)
        out.notes.add(one);
    return out;
}

std::size_t count_of(const Chart& chart, const std::string& text) {
    std::size_t count = 0;
    for (const Note& one : chart.notes)
        count += one.text == text;
    return count;
}

} // namespace

TEST_CASE("a chart comes out of a page byte by byte") {
    std::string bytes = write_chart(test::sample_chart());
    bytes.insert(1, "\n\n  \t"); // not as this program would write it
    for (const std::string& text : {bytes, std::string(), std::string("\0\xFF</script>\r\n", 14)}) {
        const std::string page = page_around(chart_element(text, "a \"b\" <c>.chart.json"));
        CHECK(is_page(page));
        const Result<std::string> back = chart_bytes_in_page(page);
        REQUIRE(back.has_value());
        CHECK(*back == text);
    }
    CHECK_FALSE(is_page(bytes));
}

TEST_CASE("a page whose chart was cut or altered is refused") {
    const std::string element = chart_element(write_chart(test::sample_chart()), "a.chart.json");
    std::string altered = page_around(element);
    const std::size_t at = altered.find(">\n", altered.find(kChartElement)) + 40;
    altered[at] = altered[at] == 'A' ? 'B' : 'A';
    const std::string cut = page_around(element).substr(0, page_around(element).size() / 2);
    for (const std::string& page : {altered, cut}) {
        const Result<std::string> back = chart_bytes_in_page(page);
        REQUIRE_FALSE(back.has_value());
        CHECK(back.error().message.find("cut or altered") != std::string::npos);
    }
    const Result<std::string> none = chart_bytes_in_page("<html></html>");
    REQUIRE_FALSE(none.has_value());
    CHECK(none.error().message.find("holds no chart") != std::string::npos);
}

TEST_CASE("a chart is not saved over a page") {
    for (const char* name : {"/tmp/x.html", "/tmp/x.HTM"}) {
        const Result<void> saved = save_chart(test::sample_chart(), name);
        REQUIRE_FALSE(saved.has_value());
        CHECK(saved.error().message.find("not saved over a page") != std::string::npos);
    }
}

TEST_CASE("notes are read as they were written") {
    const NotesFile notes = notes_of({note("note-a", "one \"two\"\nthree \xCE\xA9"), note("note-b", "four")});
    const std::string text = write_notes(notes);
    CHECK(is_notes(text));
    CHECK_FALSE(is_notes(write_chart(test::sample_chart())));
    const Result<NotesFile> back = read_notes(text);
    REQUIRE(back.has_value());
    CHECK(back->notes == notes.notes);
    CHECK(back->title == notes.title);
    CHECK(write_notes(*back) == text);
}

TEST_CASE("notes come out of a mail that quoted and wrapped them") {
    const NotesFile notes = notes_of({note("note-a", "one")});
    std::string mail = "Hello\r\n> " + std::string(kNotesBegin) + "\r\n";
    const std::string letters = to_base64(write_notes(notes));
    for (std::size_t i = 0; i < letters.size(); i += 31)
        mail += "> " + letters.substr(i, 31) + "\r\n";
    mail += "> " + std::string(kNotesEnd) + "\r\nbye";
    CHECK(is_notes(mail));
    const Result<NotesFile> back = read_notes(mail);
    REQUIRE(back.has_value());
    CHECK(back->notes == notes.notes);
    std::string cut = mail;
    cut.erase(cut.find("\r\n> ", 60) + 4, 3);
    const Result<NotesFile> lost = read_notes(cut, "mail.txt");
    REQUIRE_FALSE(lost.has_value());
    CHECK(lost.error().where == "mail.txt");
}

TEST_CASE("readings and ticks go with the notes and come into the chart once") {
    document::Reading reading;
    reading.id = {"reading-a"};
    reading.value = 0.512;
    reading.unit = "V";
    reading.note = "read by R. Avel";
    document::Tick tick;
    tick.id = {"tick-a"};
    tick.task = "bridges";
    tick.done = true;
    tick.by = "R. Avel";
    tick.date = "2031-05-01";
    NotesFile notes = notes_of({note("note-a", "one")});
    CHECK(write_notes(notes).find("\"version\": 1") != std::string::npos);
    notes.readings.add(reading);
    notes.ticks.add(tick);
    const std::string text = write_notes(notes);
    CHECK(text.find("\"version\": 2") != std::string::npos);
    const Result<NotesFile> back = read_notes(text);
    REQUIRE(back.has_value());
    CHECK(back->readings == notes.readings);
    CHECK(back->ticks == notes.ticks);
    const Chart chart = test::sample_chart();
    const AddedNotes once = add_notes(chart, notes, "").value();
    CHECK(once.added == 1);
    CHECK(once.readings_added == 1);
    CHECK(once.ticks_added == 1);
    CHECK(once.chart.readings.size() == chart.readings.size() + 1);
    const AddedNotes twice = add_notes(once.chart, notes, "").value();
    CHECK(twice.chart == once.chart);
    CHECK(twice.already_there == 3);
    NotesFile taken = notes;
    document::Reading other = reading;
    other.value = 0.6;
    taken.readings.replace(0, other);
    const Chart both = add_notes(once.chart, taken, "").value().chart;
    REQUIRE(both.readings.size() == chart.readings.size() + 2);
    CHECK(both.readings[both.readings.size() - 1].id != reading.id);
}

TEST_CASE("a line two people ticked off keeps the first and says the other") {
    const auto tick = [](const char* by, bool done, const char* words = "") {
        document::Tick out;
        out.id = {by == std::string_view("bench 1") ? "tick-1" : "tick-2"};
        out.task = "bridges";
        out.done = done;
        out.by = by;
        out.date = "2031-05-01";
        out.note = words;
        return out;
    };
    const auto with = [&](const document::Tick& there, const document::Tick& sent) {
        Chart chart = test::sample_chart();
        chart.ticks = {};
        chart.ticks.add(there);
        NotesFile notes = notes_of({});
        notes.ticks.add(sent);
        const AddedNotes once = add_notes(chart, notes, "").value();
        CHECK(add_notes(once.chart, notes, "").value().chart == once.chart);
        REQUIRE(once.chart.ticks.size() == 1);
        return once.chart.ticks[0];
    };
    const document::Tick second = with(tick("bench 1", true), tick("R. Avel", true, "under the lens"));
    CHECK(second.by == "bench 1");
    CHECK(second.note == "under the lens; R. Avel, 2031-05-01: done");
    const document::Tick over = with(tick("bench 1", false, "C7 left"), tick("R. Avel", true));
    CHECK(over.done);
    CHECK(over.by == "R. Avel");
    CHECK(over.note == "C7 left; bench 1, 2031-05-01: not done");
    CHECK(with(tick("bench 1", true), tick("R. Avel", false)).note == "R. Avel, 2031-05-01: not done");
}

TEST_CASE("what is no file of notes is refused with its place") {
    for (const char* text : {"{}", "[]", "", "{\"format\": \"padchart-notes\", \"version\": 3, \"notes\": []}",
                             "{\"format\": \"padchart-notes\", \"version\": 1, \"notes\": [{\"id\": \"N 1\"}]}",
                             "{\"format\": \"padchart-notes\", \"version\": 1, \"notes\": [{\"id\": \"n\", \"text\": "
                             "\"x\", \"at_mm\": [1e9, 0]}]}"}) {
        const Result<NotesFile> notes = read_notes(text, "n.json");
        CHECK_FALSE(notes.has_value());
        if (!notes) CHECK(notes.error().where.starts_with("n.json"));
    }
}

TEST_CASE("no note is lost and none stands twice") {
    const Chart chart = test::sample_chart();
    const std::string part = chart.parts[0].id.text;
    const NotesFile notes = notes_of({note("note-a", "one", part), note("note-b", "two")});
    const Result<AddedNotes> once = add_notes(chart, notes, {});
    REQUIRE(once.has_value());
    CHECK(once->added == 2);
    CHECK(once->chart.notes.size() == chart.notes.size() + 2);
    CHECK(once->chart.parts == chart.parts);
    CHECK(count_of(once->chart, "one") == 1);
    const Result<AddedNotes> twice = add_notes(once->chart, notes, {});
    REQUIRE(twice.has_value());
    CHECK(twice->added == 0);
    CHECK(twice->already_there == 2);
    CHECK(twice->chart == once->chart);
}

TEST_CASE("two notes that came by the same id both stay") {
    Chart chart = test::sample_chart();
    chart.notes.add(note("note-a", "mine"));
    const Result<AddedNotes> both = add_notes(chart, notes_of({note("note-a", "yours")}), {});
    REQUIRE(both.has_value());
    CHECK(both->added == 1);
    CHECK(count_of(both->chart, "mine") == 1);
    CHECK(count_of(both->chart, "yours") == 1);
    const Result<AddedNotes> again = add_notes(both->chart, notes_of({note("note-a", "yours")}), {});
    REQUIRE(again.has_value());
    CHECK(again->added == 0);
}

TEST_CASE("a note on a part that is gone keeps its words and its place and it is said") {
    const Chart chart = test::sample_chart();
    const NotesFile notes = notes_of({note("note-a", "on something", "part-gone")});
    const Result<AddedNotes> added = add_notes(chart, notes, {});
    REQUIRE(added.has_value());
    CHECK(count_of(added->chart, "on something") == 1);
    CHECK(added->chart.notes[added->chart.notes.size() - 1].target.is_empty());
    REQUIRE(added->remarks.size() == 1);
    CHECK(added->remarks[0].code == "notes-target-gone");
    CHECK(add_notes(added->chart, notes, {})->added == 0);
}

TEST_CASE("the author is marked and another chart is told") {
    NotesFile notes = notes_of({note("note-a", "one"), note("note-b", "two")});
    Note nameless = note("note-c", "three");
    nameless.author.clear();
    notes.notes.add(nameless);
    notes.author = "the bench by the door";
    notes.sha256 = "aa";
    const Result<AddedNotes> added = add_notes(test::sample_chart(), notes, "bb");
    REQUIRE(added.has_value());
    const document::Items<Note>& all = added->chart.notes;
    CHECK(all[all.size() - 1].author == "the bench by the door");
    CHECK(all[all.size() - 2].author == "R. Avel");
    REQUIRE(added->remarks.size() == 1);
    CHECK(added->remarks[0].code == "notes-other-state");
    notes.title = "Something else";
    CHECK(add_notes(test::sample_chart(), notes, "bb")->remarks[0].code == "notes-other-chart");
    notes.author.clear();
    const Result<AddedNotes> unnamed = add_notes(test::sample_chart(), notes, "bb");
    CHECK(unnamed->chart.notes[unnamed->chart.notes.size() - 1].author == "unnamed colleague");
}
