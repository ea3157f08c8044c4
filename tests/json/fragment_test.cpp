// Things on the clipboard: what is written reads back the same, and whatever else lies there is refused in a sentence.

#include "json/fragment.hpp"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include "document/copies.hpp"
#include "document/edits.hpp"
#include "json/chart_file.hpp"
#include "json/random_chart.hpp"

using namespace padchart;

namespace {

document::Fragment all_of(const document::Chart& chart) {
    return {{chart.parts.begin(), chart.parts.end()},
            {chart.keep_outs.begin(), chart.keep_outs.end()},
            {chart.shields.begin(), chart.shields.end()},
            {chart.notes.begin(), chart.notes.end()}};
}

std::string refusal(std::string_view text) {
    const auto things = json::read_fragment(text);
    REQUIRE_FALSE(things);
    return describe(things.error());
}

bool says(const std::string& message, std::string_view words) {
    return message.find(words) != std::string::npos;
}

constexpr const char* kOne = R"({"format": "padchart-fragment", "version": 1, "parts": [
  {"id": "part-1", "name": "R7", "at_mm": [1, 2],
   "pads": [{"number": "1", "at_mm": [0, 0], "width_mm": 0.5, "height_mm": 0.5}]}]})";

} // namespace

TEST_CASE("the things of any chart read back as they were written") {
    CHECK(rc::check([] {
        const document::Fragment things = all_of(json::random_chart());
        RC_PRE(!things.empty());
        const auto back = json::read_fragment(json::write_fragment(things));
        RC_ASSERT((back ? std::string() : describe(back.error())) == "");
        RC_ASSERT(*back == things);
    }));
}

TEST_CASE("things pasted into any chart leave a chart that may stand") {
    CHECK(rc::check([] {
        const document::Fragment things = all_of(json::random_chart());
        RC_PRE(!things.empty());
        const document::Chart into = json::random_chart();
        const auto made = document::add_copies(into, things);
        RC_ASSERT(made.has_value());
        RC_ASSERT(!document::fault_of(made->chart));
        RC_ASSERT(made->chart.parts.size() == into.parts.size() + things.parts.size());
        RC_ASSERT(made->ids.size() == things.size());
        RC_ASSERT(json::read_chart(json::write_chart(made->chart)).has_value());
    }));
}

TEST_CASE("a written fragment of a few parts is taken") {
    const auto things = json::read_fragment(kOne);
    REQUIRE(things);
    REQUIRE(things->size() == 1);
    CHECK(things->parts.front().name == "R7");
    CHECK(things->parts.front().placement.at == geometry::Vec2{1, 2});
}

TEST_CASE("whatever else lies on a clipboard is refused in a sentence") {
    CHECK(says(refusal(""), "clipboard is empty"));
    CHECK(says(refusal("  \n"), "clipboard is empty"));
    for (const char* text : {"hello", "[1, 2]", "{}", "42", "{\"format\": \"padchart\", \"version\": 1}", "{\"a\": {",
                             "\x01\xff\xfe", "https://example.invalid/x?y=1"})
        CHECK_MESSAGE(says(refusal(text), "no part of a chart"), text);
}

TEST_CASE("fragments that cannot stand say why") {
    std::string text = kOne;
    const auto with = [&](std::string_view what, std::string_view instead) {
        std::string changed = text;
        changed.replace(changed.find(what), what.size(), instead);
        return changed;
    };
    CHECK(says(refusal(with("\"version\": 1", "\"version\": 2")), "version 2"));
    CHECK(says(refusal(with("\"version\": 1, ", "")), "no part of a chart"));
    CHECK(says(refusal(with("\"width_mm\": 0.5", "\"width_mm\": -0.5")), "/parts/0/pads/0/width_mm"));
    CHECK(says(refusal(with("part-1", "Part 1")), "/parts/0/id"));
    CHECK(says(refusal(R"({"format": "padchart-fragment", "version": 1, "parts": []})"), "holds no part"));
}
