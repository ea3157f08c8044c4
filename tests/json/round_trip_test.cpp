// What is written reads back the same, whatever the chart holds.

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include "document/edits.hpp"
#include "document/tidied.hpp"
#include "json/chart_file.hpp"
#include "json/random_chart.hpp"

using namespace padchart;

namespace {

std::string told(const Result<document::Chart>& chart) {
    return chart ? "" : describe(chart.error());
}

} // namespace

TEST_CASE("any chart that may stand reads back equal to what was written") {
    CHECK(rc::check([] {
        const document::Chart chart = json::random_chart();
        RC_ASSERT(!document::fault_of(chart));
        const Result<document::Chart> back = json::read_chart(json::write_chart(chart));
        RC_ASSERT(told(back) == "");
        RC_ASSERT(*back == chart);
    }));
}

TEST_CASE("writing what was read gives the same bytes") {
    CHECK(rc::check([] {
        const std::string text = json::write_chart(json::random_chart());
        const Result<document::Chart> back = json::read_chart(text);
        RC_ASSERT(told(back) == "");
        RC_ASSERT(json::write_chart(*back) == text);
    }));
}

TEST_CASE("a chart of nothing reads back as nothing") {
    const Result<document::Chart> back = json::read_chart(json::write_chart({}));
    REQUIRE(told(back) == "");
    CHECK(*back == document::Chart{});
}

TEST_CASE("every pad and every point of a photo stands on one line whatever it holds") {
    CHECK(rc::check([] {
        const document::Chart chart = json::random_chart();
        const std::string text = json::write_chart(chart);
        std::size_t pads = 0;
        for (const document::Footprint& part : chart.parts)
            pads += part.pads.size();
        for (const document::Photo& photo : chart.photos)
            pads += photo.points.size();
        std::size_t lines = 0;
        constexpr std::string_view kBegin = "\n        {"; // four levels deep, as only they lie
        for (std::size_t at = text.find(kBegin); at != std::string::npos; at = text.find(kBegin, at + 1)) {
            const std::size_t end = text.find('\n', at + 1);
            const std::size_t close = text[end - 1] == ',' ? end - 2 : end - 1;
            RC_ASSERT(text[close] == '}');
            ++lines;
        }
        RC_ASSERT(lines == pads);
    }));
}

TEST_CASE("a part that was tidied says how far in its file, one that never was loads as before") {
    const std::string start = R"({"format": ")" + std::string(json::kFormatName) +
                              R"(", "version": 1, "parts": [{"id": "u1", "at_mm": [0, 0], "pads": [{"at_mm": [1, 2],
        "width_mm": 0.8, "height_mm": 0.4}])";
    const Result<document::Chart> old = json::read_chart(start + "}]}");
    REQUIRE(told(old) == "");
    document::Footprint part = old->parts[0];
    CHECK_FALSE(document::tidied_off(part));
    document::note_tidied(part, 0.048);
    document::Chart chart = *old;
    chart.parts.replace(0, part);
    const std::string text = json::write_chart(chart);
    CHECK(text.find("\"tidied\": [0.048") != std::string::npos);
    const Result<document::Chart> back = json::read_chart(text);
    REQUIRE(told(back) == "");
    CHECK(document::tidied_off(back->parts[0]) == doctest::Approx(0.048));
    // Whatever else stands there counts as never tidied, and is kept.
    for (const std::string other : {"true", "\"0.048\"", "[0.048]", "[1, 2, 3]", "{\"off\": 1}"}) {
        const Result<document::Chart> strange = json::read_chart(start + ", \"tidied\": " + other + "}]}");
        REQUIRE(told(strange) == "");
        CHECK_FALSE(document::tidied_off(strange->parts[0]));
        CHECK(json::write_chart(*strange).find("\"tidied\": " + other) != std::string::npos);
    }
}
