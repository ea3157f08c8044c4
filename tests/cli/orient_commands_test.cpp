// Cards, donors, patterns and zero orientations from the command line.

#include <doctest/doctest.h>

#include <cstdio>
#include <string>

#include "cli/run_support.hpp"
#include "json/chart_file.hpp"
#include "json/pattern_file.hpp"

using namespace padchart;
using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::contains;
using padchart::tests::demo_chart_path;
using padchart::tests::read_text;
using padchart::tests::source_folder;
using padchart::tests::TemporaryFolder;

namespace {

/// The words of a PDF as poppler's pdftotext finds them, an outside reader.
std::string words_of_pdf(const std::string& path) {
    const std::string command = "pdftotext '" + path + "' - 2>/dev/null";
    FILE* pipe = popen(command.c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::string text;
    char part[4096];
    for (std::size_t n = 0; (n = fread(part, 1, sizeof part, pipe)) > 0;)
        text.append(part, n);
    REQUIRE(pclose(pipe) == 0);
    return text;
}

std::string layout(const std::string& name) {
    return (source_folder() / "layouts" / name).string();
}

/// The demo chart with a change, saved.
template <class Change>
std::string changed_demo(const TemporaryFolder& folder, const std::string& name, Change change) {
    Result<document::Chart> chart = json::load_chart(demo_chart_path());
    REQUIRE(chart);
    change(*chart);
    const std::string path = folder.file(name);
    REQUIRE(json::save_chart(*chart, path));
    return path;
}

void change_part(document::Chart& chart, const std::string& name, void (*change)(document::Footprint&)) {
    const auto at = document::find_part_named(chart, name);
    REQUIRE(at);
    document::Footprint part = chart.parts[*at];
    change(part);
    chart.parts.replace(*at, part);
}

} // namespace

TEST_CASE("a card of an unrecorded part is written and its gap is a finding") {
    const TemporaryFolder folder;
    const Answer answer = call({"card", demo_chart_path(), "--part", "TV2", "-o", folder.file("tv2.pdf")});
    CHECK(answer.code == 1);
    CHECK(answer.out == folder.file("tv2.pdf") + ", 1 page\n");
    CHECK(answer.err == "warning: not on record: TV2. Look before the heat goes on.\n");
    const std::string words = words_of_pdf(folder.file("tv2.pdf"));
    CHECK(contains(words, "TV2"));
    CHECK(contains(words, "NOT RECORDED"));
    CHECK(contains(words, "up: cable edge, seen from the top"));
    CHECK(contains(words, "sits too, wrong:"));
    CHECK(contains(words, "180°"));
    CHECK(contains(words, "Second person"));
}

TEST_CASE("a card of a recorded part says what its mark means and is no finding") {
    const TemporaryFolder folder;
    const Answer answer = call({"card", demo_chart_path(), "--part", "C9", "-o", folder.file("c9.pdf"), "--grey"});
    CHECK(answer.code == 0);
    CHECK(answer.err == "");
    const std::string words = words_of_pdf(folder.file("c9.pdf"));
    CHECK(contains(words, "plus is on the mark's side"));
    CHECK(contains(words, "bar of a tantalum is plus"));
    CHECK(contains(words, "fire or venting"));
}

TEST_CASE("all cards lie in one PDF with a page each and pictures are numbered files") {
    const TemporaryFolder folder;
    const Answer pdf = call({"card", demo_chart_path(), "--all", "-o", folder.file("all.pdf")});
    CHECK(pdf.code == 1);
    const std::string words = words_of_pdf(folder.file("all.pdf"));
    for (const char* name : {"U1", "C9", "D2", "LED1", "J9", "BT1", "U4"})
        CHECK(contains(words, std::string(name) + "\n"));
    CHECK_FALSE(contains(words, "R7\n"));
    const Answer png = call({"card", demo_chart_path(), "--part", "C9", "--part", "D2", "-o", folder.file("card.png")});
    CHECK(png.code == 0);
    CHECK(png.out == folder.file("card.png") + "\n" + folder.file("card-2.png") + "\n");
    CHECK(read_text(folder.file("card-2.png")).substr(1, 3) == "PNG");
    const Answer svg = call({"card", demo_chart_path(), "--part", "C9", "-o", folder.file("card.svg")});
    CHECK(svg.code == 0);
    CHECK(contains(read_text(folder.file("card.svg")), "<svg"));
}

TEST_CASE("a card is refused without a part and with an unknown one and with another ending") {
    const TemporaryFolder folder;
    const std::string out = folder.file("x.pdf");
    CHECK(contains(call({"card", demo_chart_path(), "-o", out}).err, "say which part: --part NAME, or --all"));
    CHECK(call({"card", demo_chart_path(), "--all", "--part", "C9", "-o", out}).code == 2);
    const Answer unknown = call({"card", demo_chart_path(), "--part", "C999", "-o", out});
    CHECK(unknown.code == 2);
    CHECK(contains(unknown.err, "no part of the chart is called \"C999\""));
    const Answer ending = call({"card", demo_chart_path(), "--part", "C9", "-o", folder.file("x.txt")});
    CHECK(ending.code == 2);
    CHECK(contains(ending.err, "not one of pdf, svg, png"));
    CHECK(call({"card", demo_chart_path(), "--part", "C9", "-o", folder.file("x.png"), "--dpi", "5"}).code == 2);
    CHECK(std::filesystem::is_empty(folder.path()));
}

TEST_CASE("the sheet carries the cards before its tables") {
    const TemporaryFolder folder;
    REQUIRE(call({"sheet", demo_chart_path(), "-o", folder.file("s.pdf")}).code == 0);
    const std::string words = words_of_pdf(folder.file("s.pdf"));
    const std::size_t cards = words.find("Which way round: parts that also fit turned");
    REQUIRE(cards != std::string::npos);
    CHECK(contains(words.substr(cards), "Second person"));
    CHECK(contains(words.substr(cards), "Beware:"));
}

TEST_CASE("a record is carried over from the same part of a donor by its pad numbers and saved") {
    const TemporaryFolder folder;
    const std::string here = changed_demo(folder, "here.chart.json", [](document::Chart& chart) {
        change_part(chart, "U6", [](document::Footprint& part) { part.orientation = {}; });
    });
    const Answer answer = call({"donor", here, demo_chart_path(), "--part", "U6", "--by", "bench 2", "--date",
                                "2031-04-02", "-o", folder.file("new.chart.json")});
    CHECK(answer.code == 0);
    CHECK(contains(answer.out, "all 8 pad numbers agree in this turn only"));
    const Result<document::Chart> saved = json::load_chart(folder.file("new.chart.json"));
    const Result<document::Chart> donor = json::load_chart(demo_chart_path());
    REQUIRE(saved);
    REQUIRE(donor);
    const auto record_in = [](const document::Chart& chart) {
        return chart.parts[*document::find_part_named(chart, "U6")].orientation;
    };
    CHECK(record_in(*saved).bearing.degrees() == doctest::Approx(record_in(*donor).bearing.degrees()));
    CHECK(record_in(*saved).evidence.kind == document::EvidenceKind::SeenOnDonor);
    CHECK(record_in(*saved).evidence.by == "bench 2");
}

TEST_CASE("a donor that leaves two turns open is a finding and writes nothing unless the place settles it") {
    const TemporaryFolder folder;
    const std::string out = folder.file("new.chart.json");
    const Answer open = call({"donor", demo_chart_path(), demo_chart_path(), "--part", "C9", "-o", out});
    CHECK(open.code == 1);
    CHECK(contains(open.out, "the copper does not say which"));
    CHECK_FALSE(std::filesystem::exists(out));
    const Answer placed =
        call({"donor", demo_chart_path(), demo_chart_path(), "--part", "C9", "--same-kind", "-o", out, "--json"});
    CHECK(placed.code == 0);
    CHECK(contains(placed.out, "\"certain\": true"));
    CHECK(std::filesystem::exists(out));
    const Answer other = call({"donor", demo_chart_path(), demo_chart_path(), "--part", "R30", "--donor-part", "C9"});
    CHECK(other.code == 2);
    CHECK(contains(other.err, "do not lie on those of R30"));
}

TEST_CASE("a traced part is saved as a pattern and shown again") {
    const TemporaryFolder folder;
    const std::string path = folder.file("clamp.pattern.json");
    const Answer saved =
        call({"pattern", demo_chart_path(), "--part", "TV2", "-o", path, "--name", "clamp array, 6 lands"});
    CHECK(saved.code == 0);
    CHECK(saved.out == path + ", 6 pads\n");
    const Result<json::PatternFile> file = json::load_pattern(path);
    REQUIRE(file);
    CHECK(file->pattern.name == "clamp array, 6 lands");
    CHECK(file->note == "lengths right within 1 %");
    CHECK(file->pattern.part_class == document::PartClass::EsdArray);
    const Answer shown = call({"pattern", path});
    CHECK(shown.code == 0);
    CHECK(contains(shown.out, "name      clamp array, 6 lands\nclass     esd-array\npads      6\n"));
    CHECK(contains(shown.out, "seats at  0 180\n"));
}

TEST_CASE("neither a pattern nor a donor's record writes over another file unasked") {
    const TemporaryFolder folder;
    const std::string pattern = folder.write("mine.pattern.json", "mine");
    const std::string chart = folder.write("mine.chart.json", "mine");
    const Answer refused = call({"pattern", demo_chart_path(), "--part", "TV2", "-o", pattern});
    CHECK(refused.code == 2);
    CHECK(contains(refused.err, "it may hold somebody's work"));
    CHECK(call({"donor", demo_chart_path(), demo_chart_path(), "--part", "U6", "-o", chart}).code == 2);
    CHECK(read_text(pattern) == "mine");
    CHECK(read_text(chart) == "mine");
    CHECK(call({"pattern", demo_chart_path(), "--part", "TV2", "-o", pattern, "--force"}).code == 0);
    CHECK(json::load_pattern(pattern));
}

TEST_CASE("a pattern is refused without a scale and under another ending and when its file is broken") {
    const TemporaryFolder folder;
    const std::string unscaled = layout("unscaled-trace.chart.json");
    const Result<document::Chart> chart = json::load_chart(unscaled);
    REQUIRE(chart);
    REQUIRE_FALSE(chart->parts.empty());
    const Answer no_scale =
        call({"pattern", unscaled, "--part", chart->parts[0].id.text, "-o", folder.file("a.pattern.json")});
    CHECK(no_scale.code == 2);
    CHECK(contains(no_scale.err, "the chart has no scale"));
    CHECK(contains(call({"pattern", demo_chart_path(), "--part", "TV2", "-o", folder.file("a.json")}).err,
                   "must end in .pattern.json"));
    CHECK(contains(call({"pattern", demo_chart_path()}).err, "--part NAME and -o FILE.pattern.json are needed"));
    const Answer broken =
        call({"pattern", folder.write("b.pattern.json", "{\"format\": \"padchart\",\n\"version\": 1}")});
    CHECK(broken.code == 2);
    CHECK(contains(broken.err, "b.pattern.json: /format (line 1): found \"padchart\""));
}

TEST_CASE("the part table tells the turn from zero of either level for parts on record") {
    // U6 of the demo: pin 1 upper left in its own frame, placed at 90. Level A (IPC-7351): 90. Level B (IEC 61188-7)
    // lies 90 further on: 0. Own arithmetic.
    const auto row = [](const std::string& csv, const std::string& name) {
        const std::size_t at = csv.find("," + name + ",");
        return csv.substr(at, csv.find("\r\n", at) - at);
    };
    const Answer a = call({"parts", demo_chart_path(), "--csv", "--zero", "a"});
    CHECK(a.code == 0);
    CHECK(contains(a.out, ",turn_from_level_a_deg\r\n"));
    CHECK(row(a.out, "U6").ends_with(",90"));
    CHECK(row(a.out, "TV2").ends_with(",")); // not on record
    const Answer b = call({"parts", demo_chart_path(), "--csv", "--zero", "b"});
    CHECK(row(b.out, "U6").ends_with(",0"));
    CHECK(contains(call({"parts", demo_chart_path(), "--zero", "b"}).out, "level B"));
    CHECK(contains(call({"parts", demo_chart_path(), "--json", "--zero", "a"}).out, "\"turn_from_level_a_deg\": 90"));
    CHECK_FALSE(contains(call({"parts", demo_chart_path(), "--csv"}).out, "turn_from_level"));
    CHECK(call({"parts", demo_chart_path(), "--zero", "c"}).code == 2);
}

TEST_CASE("fit marks the turns that seat only after a slide and those that hang on the measuring") {
    const TemporaryFolder folder;
    document::Chart chart;
    chart.scale = document::Scale{};
    chart.scale->relative_uncertainty = 0.1; // of a land 0.9 mm long
    document::Footprint part;
    part.id.text = "p-1";
    part.name = "Q1";
    // Row 5 of the trade facts' turn table, one land wider than the rest: quarter turns seat 0.05 mm to the side.
    const auto add_land = [&part](geometry::Vec2 at, double length) {
        document::Pad land;
        land.at = at;
        land.shape = {document::ShapeKind::Rectangle, 0.9, length, {}};
        part.pads.push_back(land);
    };
    add_land({-1.0, -0.75}, 1.0);
    add_land({-1.0, 0.95}, 0.6);
    add_land({1.0, 0.95}, 0.6);
    add_land({1.0, -0.95}, 0.6);
    chart.parts.add(part);
    REQUIRE(json::save_chart(chart, folder.file("q.chart.json")));
    const Answer answer = call({"fit", folder.file("q.chart.json")});
    CHECK(answer.code == 1);
    CHECK(contains(answer.out, "Q1         0 90* 180 270*"));
    CHECK(contains(answer.out, "* seats only when the part is slid a little to the side\n"));
    CHECK(contains(answer.out, "nearly: the answer hangs on the measuring, 0.09 mm: measure again\n"));
    CHECK(contains(answer.out, "NOT RECORDED\n"));
}
