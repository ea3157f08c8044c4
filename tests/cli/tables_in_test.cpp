#include <doctest/doctest.h>

#include <string>

#include "cli/csv.hpp"
#include "cli/run_support.hpp"

using padchart::cli::csv_line;
using padchart::cli::CsvRow;
using padchart::cli::read_csv;
using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::contains;
using padchart::tests::read_text;
using padchart::tests::TemporaryFolder;

namespace {

constexpr const char* kChart = R"({"format": "padchart", "version": 1,
"parts": [{"id": "r7", "name": "R7", "at_mm": [4, 5]}, {"id": "c1", "name": "C1", "at_mm": [3, 3]}],
"keep_outs": [{"id": "k1", "name": "antenna foam", "reason": "label-or-foam", "limit_c": 80,
    "outline_mm": [[[0, 0], [4, 0], [4, 2], [0, 2]]]}],
"readings": [{"id": "m1", "at_mm": [1, 1], "target": "r7", "quantity": "diode-drop", "value": 0.482, "unit": "V"}]})";

/// The chart with one table printed, edited and taken back.
struct TakenBack {
    Answer answer;
    std::string chart;
};
TakenBack taken_back(const std::string& table, const std::string& csv) {
    const TemporaryFolder folder;
    const std::string chart = folder.write("a.chart.json", kChart);
    const std::string out = folder.file("b.chart.json");
    TakenBack result;
    result.answer = call({"parts", chart, "--table", table, "--from", folder.write("t.csv", csv), "-o", out});
    if (result.answer.code != 2) result.chart = read_text(out);
    return result;
}

} // namespace

TEST_CASE("tables of keep-outs and readings come back as printed without a change") {
    const TemporaryFolder folder;
    const std::string chart = folder.write("a.chart.json", kChart);
    for (const std::string table : {"keep-outs", "readings"}) {
        const std::string csv = folder.write("t.csv", call({"parts", chart, "--table", table, "--csv"}).out);
        const std::string out = folder.file(table + ".chart.json");
        const Answer answer = call({"parts", chart, "--table", table, "--from", csv, "-o", out});
        CHECK(answer.code == 0);
        CHECK(answer.out == "1 " + table.substr(0, table.size() - 1) + " in the table, 0 cells changed, 0 refused\n");
        const std::string again = folder.file(table + "2.chart.json");
        CHECK(call({"parts", out, "--table", table, "--from", csv, "-o", again}).code == 0);
        CHECK(read_text(out) == read_text(again));
    }
}

TEST_CASE("a keep-out's words and limits come back and its place does not") {
    const auto good = taken_back("keep-outs", "id;limit_c;measure;through_board;note\nk1;85,5;removed;yes;foam off\n");
    CHECK(good.answer.code == 0);
    CHECK(contains(good.answer.out, "antenna foam limit_c: \"80\" is now \"85,5\""));
    CHECK(contains(good.chart, "\"limit_c\": 85.5"));
    CHECK(contains(good.chart, "\"measure\": \"removed\""));
    CHECK(contains(good.chart, "\"through_board\": true"));
    const auto bad = taken_back("keep-outs", "id,measure,centre_x_mm,limit_c\nk1,taped,9,hot\n");
    CHECK(bad.answer.code == 1);
    CHECK(contains(bad.answer.err, "row 2, measure: \"taped\" is not known here; right would be one of none, removed"));
    CHECK(contains(bad.answer.err, "row 2, centre_x_mm: \"9\" is not taken back"));
    CHECK(contains(bad.answer.err, "row 2, limit_c: \"hot\" is no number"));
    CHECK(contains(bad.chart, "\"limit_c\": 80"));
}

TEST_CASE("a reading is corrected and new rows are new readings") {
    const auto result = taken_back("readings", "id,part,quantity,value,unit,meter,power\n"
                                               "m1,R7,diode-drop,OL,V,bench meter 3,off\n"
                                               ",C1,resistance-to-ground,12.5,kohm,bench meter 3,off\n"
                                               ",,voltage,3.3,V,,\n"
                                               ",X9,voltage,3.3,V,,\n"
                                               ",C1,voltage,high,V,,\n");
    CHECK(result.answer.code == 1);
    CHECK(contains(result.answer.out, "reading at R7 value: \"0.482\" is now \"OL\""));
    CHECK(contains(result.answer.out, "2 readings in the table, 3 cells changed, 1 added, 3 refused"));
    CHECK(contains(result.answer.err, "row 4, part: is empty; a new reading needs a part, or x_mm and y_mm"));
    CHECK(contains(result.answer.err, "row 5, part: 0 parts of the chart are called \"X9\""));
    CHECK(contains(result.answer.err, "row 6, value: \"high\" is no reading"));
    CHECK(contains(result.chart, "\"target\": \"c1\""));
    CHECK(contains(result.chart, "\"value\": 12.5"));
}

TEST_CASE("a comma that could be a thousands mark is asked about, and is a decimal sign between semicolons") {
    const auto unclear = taken_back("readings", "id,value\nm1,\"1,200\"\n");
    CHECK(unclear.answer.code == 1);
    CHECK(contains(unclear.answer.err, "row 2, value: \"1,200\" could be 1200 or 1.200"));
    CHECK(contains(unclear.chart, "0.482"));
    CHECK(contains(taken_back("readings", "id;value\nm1;1,200\n").chart, "\"value\": 1.2"));
    CHECK(contains(taken_back("readings", "id,value\nm1,\"0,412\"\n").chart, "\"value\": 0.412"));
}

TEST_CASE("a date as spreadsheets rewrite it, and a place no board has, cost their cell and nothing else") {
    const auto result = taken_back("readings", "id,value,date,x_mm,meter\nm1,OL,14.03.2026,99999999,meter 4\n");
    CHECK(result.answer.code == 1);
    CHECK(contains(result.answer.err, "row 2, date: \"14.03.2026\" is not a day"));
    CHECK(contains(result.answer.err, "row 2, x_mm: \"99999999\""));
    CHECK(contains(result.chart, "\"meter 4\""));
    CHECK(contains(result.chart, "\"OL\""));
}

TEST_CASE("options that would do nothing are refused") {
    const TemporaryFolder folder;
    const std::string chart = folder.write("a.chart.json", kChart);
    CHECK(call({"parts", chart, "--csv", "-o", folder.file("p.csv")}).code == 2);
    CHECK(call({"parts", chart, "--csv", "--json"}).code == 2);
    CHECK(call({"parts", chart, "--table", "readings", "--zero", "a"}).code == 2);
}

// The four signs: what spreadsheets are known to read as the beginning of a formula (common practice, no source).
TEST_CASE("no cell begins a formula in a spreadsheet and all read back as they were") {
    const CsvRow row{"=1+1", "+SUM(A1)", "-cmd", "@x", "-0.3", "+5", "'", "'=x", "''", "\t=x", "plain", "'plain", "-"};
    const std::string line = csv_line(row);
    CHECK(line.find("'=1+1,'+SUM(A1),'-cmd,'@x,-0.3,+5,',''=x,") == 0);
    CHECK(read_csv(line).value().front() == row);
}
