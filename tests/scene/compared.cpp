// What the comparison with before comes to in words, and where the sheet tells it.

#include "scene/compared.hpp"

#include <algorithm>

#include <doctest/doctest.h>

#include "document/edits.hpp"
#include "support/sample_chart.hpp"

using namespace padchart;
using namespace padchart::scene;
using document::Chart;

namespace {

Chart with_first_part_missing(const Chart& chart) {
    return document::change_part(
               chart, chart.parts[0].id,
               [](document::Footprint& part) { part.condition.presence = document::Presence::Missing; })
        .value();
}

std::string words_on(const Page& page) {
    std::string words;
    for (const Text& text : page.scenes.back().scene.texts)
        words += text.text + ' ';
    return words;
}

Document sheet_with(const Chart& chart, std::optional<SheetSection> compared) {
    const analysis::FitReport fit = analysis::fit(chart);
    const analysis::ClearanceReport clearance = analysis::clearance(chart);
    SheetOptions options;
    options.compared = std::move(compared);
    return make_sheet(chart, {&clearance, &fit}, options);
}

} // namespace

TEST_CASE("an outcome names how many differ, or that nobody has looked at all of them") {
    analysis::SweepProgress progress;
    CHECK(outcome_of(progress).kind == Outcome::Kind::NoPart);
    progress.parts = 5;
    CHECK(outcome_of(progress).headline == "Not everything was looked at again.");
    progress.differ_on_charts = 1;
    CHECK(outcome_of(progress).headline == "One part differs.");
    progress.compared = 5;
    progress.differ = 2;
    CHECK(outcome_of(progress).headline == "3 parts differ.");
    progress.differ = progress.differ_on_charts = 0;
    CHECK(outcome_of(progress).kind == Outcome::Kind::AsBefore);
}

TEST_CASE("a section on the comparison has the headline, how far it went, and a line for what differs") {
    const Chart before = test::sample_chart();
    const Chart after = with_first_part_missing(before);
    const SheetSection section =
        compared_section(before, after, {{Severity::Warning, "before-changed", "Changed.", {}, {}}});
    CHECK(section.heading == "One part differs.");
    REQUIRE(section.paragraphs.size() >= 3);
    CHECK(section.paragraphs[0].find("not checked again") != std::string::npos);
    CHECK(section.paragraphs[1].find(before.parts[0].name) != std::string::npos);
    CHECK(std::find(section.paragraphs.begin(), section.paragraphs.end(), "Changed.") != section.paragraphs.end());
}

TEST_CASE("the first written page of a sheet tells what differs from before, the list after rework what it is") {
    const Chart before = test::sample_chart();
    const Chart after = with_first_part_missing(before);
    std::string words;
    const Document sheet = sheet_with(after, compared_section(before, after));
    for (const Page& page : sheet.pages)
        words += words_on(page);
    const auto headline = words.find("Compared with before"), cautions = words.find("Cautions");
    REQUIRE(headline != std::string::npos);
    CHECK(headline < cautions);
    CHECK(words.find("One part differs.") != std::string::npos);
    const auto lines = words.find("What differs from before");
    REQUIRE(lines != std::string::npos);
    CHECK(lines < words.find("After rework, before the power"));
    std::string silent;
    for (const Page& page : sheet_with(after, std::nullopt).pages)
        silent += words_on(page);
    CHECK(silent.find("Compared with before") == std::string::npos);
}
