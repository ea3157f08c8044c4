// A chart read in pieces is the chart read whole, and what is wrong in it is told as if it had been read whole.

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "document/chart.hpp"
#include "json/chart_file.hpp"
#include "json/chart_pieces.hpp"
#include "json/tree.hpp"

namespace padchart::json {
namespace {

/// The whole text again.
std::string put_together(const ChartPieces& cut) {
    std::string out = cut.frame;
    for (const std::string_view key : {"parts", "keep_outs"}) {
        std::string items;
        for (const ListPiece& piece : cut.pieces)
            if (piece.key == key) items += (items.empty() ? "" : ",") + std::string(piece.items);
        const std::size_t at = out.find("[", out.find("\"" + std::string(key) + "\""));
        if (!items.empty()) out.insert(at + 1, items);
    }
    return out;
}

/// Every value, one after the other, blanks aside.
std::string values_of(const std::string& text) {
    const Result<Tree> tree = parse_tree(text);
    REQUIRE(tree);
    return one_line_text(*tree, 0);
}

document::Chart large_chart(int parts) {
    document::Chart chart;
    chart.title.title = "brackets ] } and \" in a title, [\"parts\": [";
    for (int i = 0; i < parts; ++i) {
        document::Footprint part;
        part.id = {"part-" + std::to_string(i)};
        part.name = "U" + std::to_string(i) + " \\\" ],[{";
        part.placement.at = {i * 0.001, 1.0 / (i + 1)};
        chart.parts.add(part);
        document::KeepOut area;
        area.id = {"keep-" + std::to_string(i)};
        area.outline.outer = {{0, 0}, {2.0 + i * 0.01, 1.0 / 3}, {1, 7.0 / (i + 9)}};
        if (i % 3 == 0) chart.keep_outs.add(area);
    }
    return chart;
}

TEST_CASE("a chart is cut into a frame and stretches of its long lists, and nothing is lost between them") {
    const std::string text = write_chart(large_chart(50));
    for (const std::size_t bytes : {1U, 100U, 700U, 100'000U}) {
        CAPTURE(bytes);
        const auto cut = pieces_of(text, bytes);
        REQUIRE(cut);
        CHECK(cut->pieces.size() >= 2);
        CHECK((cut->pieces.size() == 2) == (bytes == 100'000U));
        CHECK(values_of(put_together(*cut)) == values_of(text));
        CHECK(cut->frame.find("part-") == std::string::npos);
        for (const ListPiece& piece : cut->pieces)
            CHECK(parse_tree(piece.text()));
    }
}

TEST_CASE("what is no JSON is not cut into pieces that are") {
    for (const std::string text :
         {R"({"parts":[{"a":1},,{"b":2}]})", R"({"parts":[{"a":1},]})", R"({"parts":[,{"a":1}]})",
          R"({"parts":[{"a":[1}, {"b":2}]})", R"({"parts":[{"a":1}, {"b":2}})", R"({"parts":[{"a":1}, {"b":2}]}})",
          R"({"parts":[{"a":1}, {"b":2}])", R"({"parts":[{"a":1}, {"b":"2]})", R"({"parts":[{"a":1} {"b":2}]})",
          R"({"parts":[{"a":1}] "b":2})", R"({"parts" [{"a":1}]})"}) {
        CAPTURE(text);
        CHECK_FALSE(parse_tree(text));
        const auto cut = pieces_of(text, 1);
        const bool all_json = cut && parse_tree(cut->frame) &&
                              std::all_of(cut->pieces.begin(), cut->pieces.end(),
                                          [](const ListPiece& piece) { return parse_tree(piece.text()).has_value(); });
        CHECK_FALSE(all_json);
    }
}

TEST_CASE("only lists right inside the chart are cut") {
    const auto cut = pieces_of(R"({"x": {"parts": [1, 2]}, "title": "parts", "y": [3, 4], "keep_outs": [5, 6]})", 1);
    REQUIRE(cut);
    REQUIRE(cut->pieces.size() == 2);
    CHECK(cut->pieces[0].text() == R"({"keep_outs":[5]})");
    CHECK(cut->pieces[1].text() == R"({"keep_outs":[ 6]})");
    CHECK(cut->frame == R"({"x": {"parts": [1, 2]}, "title": "parts", "y": [3, 4], "keep_outs": []})");
    CHECK_FALSE(pieces_of(R"({"parts": [ ], "y": [3, 4]})", 1));
    CHECK_FALSE(pieces_of(R"([{"parts": [1, 2]}])", 1));
}

TEST_CASE("a chart of many megabytes comes back as it was written") {
    const document::Chart chart = large_chart(40'000);
    const std::string text = write_chart(chart);
    REQUIRE(text.size() > 6'000'000);
    const Result<document::Chart> back = read_chart(text);
    REQUIRE_MESSAGE(back, (back ? std::string() : describe(back.error())));
    CHECK(*back == chart);
}

TEST_CASE("a fault in a large chart is told with its place in the whole file") {
    std::string text = write_chart(large_chart(40'000));
    const auto line_of = [&](std::size_t at) {
        return 1 + std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n');
    };
    const std::size_t id = text.find("\"part-39000\"");
    const std::string line = "(line " + std::to_string(line_of(id)) + ")";
    SUBCASE("an id that is none") {
        text.replace(id, 12, "\"PART 39000\"");
        const Result<document::Chart> back = read_chart(text);
        REQUIRE_FALSE(back);
        CHECK(back.error().where == "/parts/39000/id " + line);
    }
    SUBCASE("an id of two parts in different pieces") {
        text.replace(id, 12, "\"part-7\"");
        const Result<document::Chart> back = read_chart(text);
        REQUIRE_FALSE(back);
        CHECK(back.error().message.find("/parts/7") != std::string::npos);
        CHECK(back.error().where == "/parts/39000/id " + line);
    }
    SUBCASE("a bracket that is missing") {
        text.erase(text.find('}', id), 1);
        const Result<document::Chart> back = read_chart(text);
        REQUIRE_FALSE(back);
        CHECK(back.error().message.find("not JSON") != std::string::npos);
        CHECK(back.error().where.starts_with("line "));
    }
    SUBCASE("another version") {
        text.replace(text.find("\"version\": 1"), 12, "\"version\": 9");
        const Result<document::Chart> back = read_chart(text);
        REQUIRE_FALSE(back);
        CHECK(back.error().message.find("version 9") != std::string::npos);
    }
}

} // namespace
} // namespace padchart::json
