// The part table to a spreadsheet and back.

#include <doctest/doctest.h>

#include <random>
#include <sstream>
#include <string>

#include "cli/csv.hpp"
#include "cli/plain_output.hpp"
#include "cli/run_support.hpp"
#include "json/chart_file.hpp"

using padchart::cli::csv_line;
using padchart::cli::CsvRow;
using padchart::cli::read_csv;
using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::contains;
using padchart::tests::read_text;
using padchart::tests::TemporaryFolder;

namespace {

using Rows = std::vector<CsvRow>;

Rows rows_of(const std::string& text) {
    const auto rows = read_csv(text);
    REQUIRE(rows);
    return *rows;
}

std::string fault_of(const std::string& text) {
    const auto rows = read_csv(text);
    REQUIRE(!rows);
    return describe(rows.error());
}

constexpr const char* kChart = R"({"format": "padchart", "version": 1,
  "scale": {"mm_per_unit": 1, "source": "drawn", "relative_uncertainty": 0}, "parts": [
{"id": "r7", "name": "R7", "value": "10k", "role": "pull-up, I2C", "class": "resistor", "at_mm": [1.4, 2]},
{"id": "c1", "name": "C1", "class": "ceramic-capacitor", "at_mm": [3, 4]}],
"readings": [{"id": "m1", "quantity": "diode-drop", "value": "OL", "unit": "V", "at_mm": [1, 2], "target": "r7",
"note": "said \"open\""}],
"keep_outs": [{"id": "k1", "name": "cell", "reason": "cell", "outline_mm": [[[0, 0], [4, 0], [4, 2], [0, 2]]]}]})";

} // namespace

TEST_CASE("the examples of RFC 4180 are read as it says") {
    // RFC 4180, section 2, rules 1 to 7.
    CHECK(rows_of("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n") == Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(rows_of("aaa,bbb,ccc\r\nzzz,yyy,xxx") == Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(rows_of("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx") == Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(rows_of("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx") ==
          Rows{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(rows_of("\"aaa\",\"b\"\"bb\",\"ccc\"") == Rows{{"aaa", "b\"bb", "ccc"}});
}

TEST_CASE("what spreadsheets make of it is read too") {
    CHECK(rows_of("\xEF\xBB\xBFid;name\nr7;\"R;7\"\n") == Rows{{"id", "name"}, {"r7", "R;7"}});
    CHECK(rows_of("id\tname\rr7\tR7\r") == Rows{{"id", "name"}, {"r7", "R7"}});
    CHECK(rows_of("\"a,b,c\";name\n1;2") == Rows{{"a,b,c", "name"}, {"1", "2"}});
    CHECK(rows_of("a,b\n\n1,") == Rows{{"a", "b"}, {""}, {"1", ""}});
    CHECK(rows_of("").empty());
}

TEST_CASE("a quote out of place is named by row and column") {
    CHECK(fault_of("a,b\n1,\"2\n3,4") == "row 2, column 2: a quote is opened and never closed");
    CHECK(fault_of("a,\"b\"c") ==
          "row 1, column 2: something stands after the closing quote; a quote inside quotes is written twice");
}

TEST_CASE("any table reads back as it was written") {
    const Rows rows{{"", "a,b", "say \"hi\""}, {" blank ", "line\nbreak", "\r\n"}, {"", "", ""}};
    std::string text;
    for (const CsvRow& row : rows)
        text += csv_line(row);
    CHECK(rows_of(text) == rows);
}

namespace {

/// Of the characters that have ever made trouble in a table, and some plain ones.
std::string random_text(std::mt19937& random) {
    static const std::vector<std::string> kPieces{
        "\x01",   "\x1B",   "\x7F",   "\n",     "\r",     "\r\n",      "\t",      "\u0080",  "\u009B",
        "\u009F", "\u202A", "\u202E", "\u2066", "\u2069", "\u2028",    "\"",      ",",       ";",
        "'",      "=",      "+",      "-",      "@",      "\\",        "\\u001b", "\\u005c", "u001b",
        " ",      "\uFF1D", "\u20AC", "R7",     "10k",    "\U0001F527"};
    std::string text;
    for (std::size_t length = random() % 7; length > 0; --length)
        text += kPieces[random() % kPieces.size()];
    return text;
}

} // namespace

TEST_CASE("whatever a text holds a cell reads back as it was and shows a terminal nothing that acts on it") {
    std::mt19937 random(20310402);
    for (int round = 0; round < 5000; ++round) {
        const CsvRow row{random_text(random), random_text(random), random_text(random)};
        const std::string line = csv_line(row);
        CAPTURE(line);
        const Rows back = rows_of("a,b,c\r\n" + line);
        REQUIRE(back.size() == 2);
        CHECK(back[1] == row);
        std::ostringstream shown;
        {
            padchart::cli::PlainBuffer buffer(shown);
            std::ostream(&buffer) << line << std::flush;
        }
        CHECK(shown.str() == line); // nothing had to be hidden
        // What a spreadsheet would run, by the first sign of a cell (common practice, no source).
        for (std::size_t i = 0; i < row.size(); ++i)
            CHECK((row[i].empty() || std::string("=@\t\r\n").find(csv_line({&row[i], 1})[0]) == std::string::npos));
    }
}

TEST_CASE("names with characters that act on a terminal go to a table and come back edited or not") {
    std::mt19937 random(7);
    const TemporaryFolder folder;
    for (int round = 0; round < 50; ++round) {
        padchart::document::Chart chart;
        padchart::document::Chart wanted;
        for (int i = 0; i < 4; ++i) {
            padchart::document::Footprint part;
            part.id = {"p" + std::to_string(i)};
            part.name = random_text(random);
            part.role = random_text(random);
            chart.parts.add(part);
            part.name = random_text(random);
            part.value = random_text(random);
            wanted.parts.add(part);
        }
        const std::string before = folder.file("before.chart.json");
        const std::string after = folder.file("after.chart.json");
        REQUIRE(padchart::json::save_chart(chart, before));
        REQUIRE(padchart::json::save_chart(wanted, after));
        const std::string out = folder.file("out.chart.json");
        const std::string as_it_is = folder.write("same.csv", call({"parts", before, "--csv"}).out);
        CHECK(call({"parts", before, "--from", as_it_is, "-o", out, "--force"}).code == 0);
        CHECK(padchart::json::load_chart(out).value() == chart);
        const std::string edited = folder.write("edited.csv", call({"parts", after, "--csv"}).out);
        CHECK(call({"parts", before, "--from", edited, "-o", out, "--force"}).code == 0);
        const auto taken = padchart::json::load_chart(out).value();
        for (std::size_t i = 0; i < 4; ++i) {
            CHECK(taken.parts[i].name == wanted.parts[i].name);
            CHECK(taken.parts[i].value == wanted.parts[i].value);
        }
    }
}

TEST_CASE("the table as printed comes back without a change") {
    const TemporaryFolder folder;
    const std::string chart = folder.write("a.chart.json", kChart);
    const std::string table = folder.write("t.csv", call({"parts", chart, "--csv"}).out);
    const std::string out = folder.file("b.chart.json");
    const Answer answer = call({"parts", chart, "--from", table, "-o", out});
    CHECK(answer.code == 0);
    CHECK(answer.out == "2 parts in the table, 0 cells changed, 0 refused\n");
    CHECK(call({"compare", chart, out}).out.find("no difference") != std::string::npos);
}

TEST_CASE("edits of name class role and value come back by id whatever the order of rows and columns") {
    const TemporaryFolder folder;
    const std::string chart = folder.write("a.chart.json", kChart);
    const std::string table = folder.write("t.csv", "\xEF\xBB\xBFvalue;id;role;class;x_mm;name\r\n"
                                                    "100n;c1;;ceramic-capacitor;3;C1\r\n"
                                                    "12k;r7;\"pull-up; SDA\";sense-resistor;1,4;R70\r\n;;;;;\r\n");
    const std::string out = folder.file("b.chart.json");
    const Answer answer = call({"parts", chart, "--from", table, "-o", out, "--json"});
    CHECK(answer.code == 0);
    const std::string text = read_text(out);
    CHECK(contains(text, "\"name\": \"R70\""));
    CHECK(contains(text, "\"value\": \"12k\""));
    CHECK(contains(text, "\"value\": \"100n\""));
    CHECK(contains(text, "\"role\": \"pull-up; SDA\""));
    CHECK(contains(text, "\"class\": \"sense-resistor\""));
    CHECK(contains(answer.out, "\"before\": \"10k\""));
}

TEST_CASE("what cannot be taken is refused by row and column and the rest is taken") {
    const TemporaryFolder folder;
    const std::string chart = folder.write("a.chart.json", kChart);
    const std::string table = folder.write("t.csv", "id,name,class,x_mm,value\r\n"
                                                    "r7,R7,resitor,9.9,12k\r\n"
                                                    "x9,X9,crystal,1,\r\n"
                                                    ",Q1,transistor,1,\r\n"
                                                    "r7,R8,resistor,1.4,\r\n"
                                                    "c1,C1,ceramic-capacitor,3,a,b\r\n");
    const std::string out = folder.file("b.chart.json");
    const Answer answer = call({"parts", chart, "--from", table, "-o", out});
    CHECK(answer.code == 1);
    CHECK(contains(answer.err, "row 2, class: \"resitor\" is no class; right would be one of resistor"));
    CHECK(contains(answer.err, "row 2, x_mm: \"9.9\" is not taken back, the chart has \"1.400\""));
    CHECK(contains(answer.err, "row 3, id: no part of the chart bears the id \"x9\""));
    CHECK(contains(answer.err, "row 4, id: is empty"));
    CHECK(contains(answer.err, "row 5, id: this part was row 2 already"));
    CHECK(contains(answer.err, "row 6, column 6: the row has 6 cells, the headings are 5"));
    CHECK(contains(answer.out, "R7 value: \"10k\" is now \"12k\""));
    CHECK(contains(answer.out, "1 part in the table, 1 cell changed, 6 refused"));
    CHECK(contains(read_text(out), "\"value\": \"12k\""));
}

TEST_CASE("a table without the columns that matter is refused as a whole") {
    const TemporaryFolder folder;
    const std::string chart = folder.write("a.chart.json", kChart);
    const std::string out = folder.file("b.chart.json");
    const auto refused = [&](const std::string& table) {
        return call({"parts", chart, "--from", folder.write("t.csv", table), "-o", out});
    };
    CHECK(refused("name,value\nR7,1k\n").code == 2);
    CHECK(contains(refused("name,value\nR7,1k\n").err, "no column is headed \"id\""));
    CHECK(contains(refused("id,x_mm\nr7,1\n").err, "no column is headed name, class, role or value"));
    CHECK(contains(refused("id,id,name\n").err, "stands twice"));
    CHECK(call({"parts", chart, "--from", folder.file("none"), "-o", out}).code == 2);
    CHECK(contains(call({"parts", chart, "--from", chart}).err, "--from needs -o"));
}

TEST_CASE("a table that is no UTF-8 is refused before a character is lost and UTF-16 is read") {
    const TemporaryFolder folder;
    const std::string chart = folder.write("a.chart.json", kChart);
    const std::string out = folder.file("b.chart.json");
    const Answer latin = call({"parts", chart, "--from", folder.write("t.csv", "id,value\nr7,10\xB5\n"), "-o", out});
    CHECK(latin.code == 2);
    CHECK(contains(latin.err, "right would be a table saved as UTF-8"));
    std::string wide = "\xFF\xFE";
    for (const char c : std::string("id\tvalue\r\nr7\t22k\r\n"))
        wide += {c, '\0'};
    CHECK(call({"parts", chart, "--from", folder.write("u.csv", wide), "-o", out}).code == 0);
    CHECK(contains(read_text(out), "\"value\": \"22k\""));
}

TEST_CASE("tables of a chart without a scale promise no millimetres and come back as they went") {
    const TemporaryFolder folder;
    std::string text = kChart;
    const std::size_t from = text.find("\"scale\""), to = text.find("\"parts\"");
    const std::string chart = folder.write("a.chart.json", text.erase(from, to - from));
    CHECK(contains(call({"parts", chart}).out, "x units"));
    CHECK(contains(call({"parts", chart, "--json"}).out, "\"at_units\""));
    for (const char* table : {"parts", "readings", "keep-outs"}) {
        const std::string csv = call({"parts", chart, "--table", table, "--csv"}).out;
        const Rows rows = rows_of(csv);
        for (std::size_t column = 0; column < rows[0].size(); ++column)
            if (rows[0][column].find("_mm") != std::string::npos && rows[0][column] != "above_board_mm")
                CHECK(rows[1][column].empty());
        const Answer back = call({"parts", chart, "--table", table, "--from", folder.write("t.csv", csv), "-o",
                                  folder.file("b.chart.json"), "--force"});
        CHECK(back.code == 0);
        CHECK(contains(back.out, "0 cells changed"));
    }
}

TEST_CASE("readings and keep-outs are printed as tables") {
    const TemporaryFolder folder;
    const std::string chart = folder.write("a.chart.json", kChart);
    const Rows readings = rows_of(call({"parts", chart, "--table", "readings", "--csv"}).out);
    REQUIRE(readings.size() == 2);
    CHECK(readings[0].size() == readings[1].size());
    CHECK(readings[1][1] == "R7");
    CHECK(readings[1][7] == "OL");
    CHECK(readings[1].back() == "said \"open\"");
    const Rows keep_outs = rows_of(call({"parts", chart, "--table", "keep-outs", "--csv"}).out);
    REQUIRE(keep_outs.size() == 2);
    CHECK(keep_outs[0].size() == keep_outs[1].size());
    CHECK(keep_outs[1][7] == "8.00"); // 4 mm by 2 mm
    CHECK(contains(call({"parts", chart, "--table", "keep-outs"}).out, "1 row"));
    CHECK(contains(call({"parts", chart, "--table", "readings", "--json"}).out, "\"value\": \"OL\""));
}
