// Settling what a merge left open. The rules are this project's own.

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include "document/edits.hpp"
#include "json/chart_file.hpp"
#include "json/merge.hpp"
#include "json/random_chart.hpp"
#include "json/random_edit.hpp"
#include "json/settle.hpp"

using namespace padchart;
using namespace padchart::document;
using json::Settle;

namespace {

Chart chart_of(const std::string& part_fields, const std::string& more = "") {
    return json::read_chart(
               R"({"format": "padchart", "version": 1, "parts": [{"id": "r7", "name": "R7", "at_mm": [1, 2])" +
               part_fields + R"(}, {"id": "c1", "name": "C1", "at_mm": [3, 3]}])" + more + "}")
        .value();
}

Chart merged(const Chart& base, const Chart& ours, const Chart& theirs) {
    return json::merge(base, ours, theirs, {"bench 1", "bench 2"}).value().chart;
}

const Footprint& r7(const Chart& chart) {
    return chart.parts[find_part(chart, {"r7"}).value()];
}

} // namespace

TEST_CASE("a field becomes what one of the two says or what both began with and the conflict goes") {
    const Chart chart =
        merged(chart_of(R"(, "value": "1k")"), chart_of(R"(, "value": "10k")"), chart_of(R"(, "value": "12k")"));
    REQUIRE(chart.conflicts.size() == 1);
    CHECK(json::kind_of(chart.conflicts[0]) == json::ConflictKind::Field);
    for (const auto& [choice, value] :
         {std::pair{Settle::Ours, "10k"}, {Settle::Theirs, "12k"}, {Settle::Base, "1k"}, {Settle::AsItIs, "10k"}}) {
        const Chart settled = json::settle(chart, 0, choice).value();
        CHECK(r7(settled).value == value);
        CHECK(settled.conflicts.empty());
        Chart rest = settled;
        rest.parts.replace(0, chart.parts[0]);
        rest.conflicts = chart.conflicts;
        CHECK(rest == chart); // nothing else has changed
    }
}

TEST_CASE("a field that one side took out is taken out and comes back with what both began with") {
    const Chart chart = merged(chart_of(R"(, "value": "1k")"), chart_of(""), chart_of(R"(, "value": "12k")"));
    REQUIRE(chart.conflicts.size() == 1);
    CHECK(r7(json::settle(chart, 0, Settle::Ours).value()).value.empty());
    CHECK(r7(json::settle(chart, 0, Settle::Theirs).value()).value == "12k");
    CHECK(r7(json::settle(chart, 0, Settle::Base).value()).value == "1k");
}

TEST_CASE("a mark with its bearing and meaning is settled as one statement") {
    const auto record = [](const char* mark, int bearing, const char* meaning) {
        return chart_of(R"(, "orientation": {"state": "recorded", "mark": ")" + std::string(mark) +
                        R"(", "bearing_deg": )" + std::to_string(bearing) + R"(, "meaning": ")" + meaning + "\"}");
    };
    const Chart chart = merged(chart_of(""), record("band", 90, "cathode"), record("dot", 180, "pin-1"));
    REQUIRE(chart.conflicts.size() == 3);
    CHECK(json::statement_of(chart, 1) == std::vector<std::size_t>{0, 1, 2});
    const Chart settled = json::settle(chart, 1, Settle::Theirs).value();
    CHECK(settled.conflicts.empty());
    CHECK(r7(settled).orientation.mark == MarkKind::Dot);
    CHECK(r7(settled).orientation.bearing.degrees() == 180);
    CHECK(r7(settled).orientation.meaning == Meaning::Pin1);
    CHECK_FALSE(json::knows_base(chart, chart.conflicts[0])); // the state, which both say alike, would stay
    CHECK_FALSE(json::settle(chart, 0, Settle::Base));
}

TEST_CASE("a part that one side took off and the other edited goes or stays") {
    const Chart base = chart_of("");
    const std::array<Id, 1> gone{Id{"r7"}};
    const Chart chart = merged(base, document::remove(base, gone).value(), chart_of(R"(, "value": "12k")"));
    REQUIRE(chart.conflicts.size() == 1);
    CHECK(json::kind_of(chart.conflicts[0]) == json::ConflictKind::Deleted);
    CHECK_FALSE(find_part(json::settle(chart, 0, Settle::Ours).value(), {"r7"}));
    CHECK(r7(json::settle(chart, 0, Settle::Theirs).value()).value == "12k");
}

TEST_CASE("of two notes that came by one id either goes or both stay") {
    const auto with_note = [](const std::string& text) {
        return chart_of("", R"(, "notes": [{"id": "n1", "at_mm": [1, 1], "text": ")" + text + "\"}]");
    };
    const Chart chart = merged(chart_of(""), with_note("hot here"), with_note("look again"));
    REQUIRE(chart.conflicts.size() == 1);
    REQUIRE(chart.notes.size() == 2);
    CHECK(json::kind_of(chart.conflicts[0]) == json::ConflictKind::Twins);
    CHECK(json::settle(chart, 0, Settle::AsItIs).value().notes.size() == 2);
    const Chart ours = json::settle(chart, 0, Settle::Ours).value();
    REQUIRE(ours.notes.size() == 1);
    CHECK(ours.notes[0].text == "hot here");
    const Chart theirs = json::settle(chart, 0, Settle::Theirs).value();
    REQUIRE(theirs.notes.size() == 1);
    CHECK(theirs.notes[0].text == "look again");
}

TEST_CASE("a field of the chart itself is settled and its things stay") {
    const auto titled = [](const std::string& serial) {
        return chart_of("", R"(, "title": {"serial": ")" + serial + "\"}");
    };
    const Chart chart = merged(titled("1"), titled("2"), titled("3"));
    REQUIRE(chart.conflicts.size() == 1);
    const Chart settled = json::settle(chart, 0, Settle::Theirs).value();
    CHECK(settled.title.serial == "3");
    CHECK(settled.parts == chart.parts);
}

TEST_CASE("a value of one's own is taken where it fits and refused where it does not") {
    const Chart chart =
        merged(chart_of(R"(, "turn_deg": 1)"), chart_of(R"(, "turn_deg": 2)"), chart_of(R"(, "turn_deg": 3)"));
    REQUIRE(chart.conflicts.size() == 1);
    CHECK(json::as_json_like("2", "4,5") == "4.5");
    CHECK_FALSE(json::as_json_like("2", "four"));
    CHECK(json::as_json_like("\"x\"", "say \"four\"") == "\"say \\\"four\\\"\"");
    CHECK(r7(json::settle_with(chart, 0, "4.5").value()).placement.turn.degrees() == 4.5);
    CHECK_FALSE(json::settle_with(chart, 0, "\"four\""));
    CHECK_FALSE(json::settle_with(chart, 0, "{")); // no JSON at all
}

TEST_CASE("a thing that is gone can be settled as it is only") {
    Chart chart =
        merged(chart_of(R"(, "value": "1k")"), chart_of(R"(, "value": "10k")"), chart_of(R"(, "value": "12k")"));
    chart.parts.erase(0);
    CHECK_FALSE(json::settle(chart, 0, Settle::Theirs));
    CHECK(json::settle(chart, 0, Settle::AsItIs).value().conflicts.empty());
}

TEST_CASE("settling everything as ours leaves no conflict and changes no field that was not in one") {
    CHECK(rc::check([] {
        const Chart base = json::random_chart();
        const Result<json::MergeResult> result =
            json::merge(base, json::randomly_edited(base, "ours-", 4), json::randomly_edited(base, "theirs-", 4));
        RC_ASSERT(result.has_value());
        Chart chart = result->chart;
        while (!chart.conflicts.empty()) {
            const std::size_t before = chart.conflicts.size();
            const bool is_field = json::kind_of(chart.conflicts[0]) == json::ConflictKind::Field;
            Result<Chart> next = json::settle(chart, 0, is_field ? Settle::Ours : Settle::AsItIs);
            if (!next) next = json::settle(chart, 0, Settle::AsItIs); // an earlier chart's conflict
            RC_ASSERT(next.has_value());
            RC_ASSERT(next->conflicts.size() < before);
            RC_ASSERT(!document::fault_of(*next));
            chart = *next;
        }
        // Without earlier conflicts in the base the merge holds ours already.
        if (base.conflicts.empty() && result->conflicts.size() == result->chart.conflicts.size()) {
            Chart expected = result->chart;
            expected.conflicts.clear();
            RC_ASSERT(chart == expected);
        }
    }));
}

TEST_CASE("values are spoken without the marks of the file") {
    CHECK(json::value_in_words("") == "nothing");
    CHECK(json::value_in_words("\"10k\"") == "10k");
    CHECK(json::value_in_words("4.7") == "4.7");
    CHECK(json::value_in_words("[1, 2, 3, 4, 5]") == "a list of 5");
    CHECK(json::value_in_words("[[1, 2]]") == "a list of 1");
    CHECK(json::value_in_words("[7.09, 9]") == "7.09, 9");
    CHECK(json::value_in_words(R"({"id": "n1", "text": "hot here"})") == "hot here");
}
