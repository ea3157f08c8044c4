// How large a corrected trace is: what counts where its page, the chart's scale and what is found again disagree.
// Invented boards.

#include "svg/reimport_scale.hpp"

#include "svg/reimport_edge.hpp"
#include "svg/reimport_support.hpp"

namespace padchart::svg {
namespace {

using document::Chart;
using document::ScaleSource;
using Lines = std::vector<std::string>;

std::string board(double times = 1.0) {
    return "<g transform=\"scale(" + std::to_string(times) +
           ")\"><g id=\"outline\"><path d=\"M1 1h24v16h-20l-4-4z\"/></g>" + chip("R1", 3, 3) + chip("R2", 12, 3) +
           chip("R3", 5, 12) + chip("R4", 20, 13) + "</g>";
}

struct Corrected {
    Diagnostics before; ///< told before the chart was looked at
    Result<ReimportResult> result = Error{};
};

/// As a command or the window brings it in.
Corrected bring_in(const Chart& chart, const std::string& page, const std::string& shapes) {
    Corrected corrected;
    const Drawing drawing = read("<svg xmlns=\"http://www.w3.org/2000/svg\" " + page + ">" + shapes + "</svg>").value();
    TraceOptions options;
    options.scale = scale_for_correction(drawing, chart, corrected.before);
    const auto fresh = chart_from_trace(drawing, options);
    REQUIRE(fresh);
    corrected.before.insert(corrected.before.end(), fresh->diagnostics.begin(), fresh->diagnostics.end());
    corrected.result = reimport(chart, fresh->chart);
    return corrected;
}

/// Begun over a photo: a part drawn by hand, a scale of two points on the photo.
Chart over_a_photo() {
    Chart chart = traced(board());
    for (std::size_t i = 0; i < chart.parts.size(); ++i) {
        document::Footprint part = chart.parts[i];
        part.trace_key.clear();
        part.name.clear();
        part.id = {"hand-" + std::to_string(i)};
        chart.parts.replace(i, part);
    }
    chart.scale = document::Scale{1.33, ScaleSource::TwoPoints, 0.004, "24 mm along the edge", {}};
    return chart;
}

double width_of(const Chart& chart) {
    return geometry::bounds(*chart.board.outline).width();
}

TEST_CASE("a scale got over a photo says nothing of a trace's units: the page's own millimetres count") {
    const Corrected corrected = bring_in(over_a_photo(), R"(width="30mm" height="20mm" viewBox="0 0 30 20")", board());
    const Lines told = told_as(corrected.result, "scale-changed");
    REQUIRE(told.size() == 1);
    CHECK(told[0].starts_with("the chart's scale was got without a trace (24 mm along the edge)"));
    const Chart& chart = corrected.result->chart;
    CHECK(width_of(chart) == doctest::Approx(24.0));
    CHECK(chart.scale->mm_per_unit == doctest::Approx(1.0));
    CHECK(chart.scale->source == ScaleSource::DocumentUnits);
    CHECK(chart.scale->note.ends_with("what was drawn before it: 24 mm along the edge"));
    // The next one is a correction of a trace.
    const Corrected again = bring_in(chart, R"(width="30mm" height="20mm" viewBox="0 0 30 20")", board());
    CHECK(width_of(again.result->chart) == doctest::Approx(24.0));
    CHECK(told_as(again.result, "scale-changed").empty());
}

TEST_CASE("a trace without a size is as large as the board's edge that was drawn over a photo") {
    const Corrected corrected = bring_in(over_a_photo(), R"(viewBox="0 0 300 200")", board(10));
    CHECK(width_of(corrected.result->chart) == doctest::Approx(24.0));
    CHECK(corrected.result->chart.scale->source == ScaleSource::TwoPoints);
    CHECK(corrected.result->chart.scale->mm_per_unit == doctest::Approx(0.1));
}

TEST_CASE("where neither a trace nor the chart tells how large the trace is, a warning asks for its size") {
    Chart chart = over_a_photo();
    chart.board.outline.reset();
    const Corrected corrected = bring_in(chart, R"(viewBox="0 0 300 200")", board(10));
    const Lines told = told_as(corrected.result, "scale-guessed");
    REQUIRE(told.size() == 1);
    CHECK(told[0].find("1 unit is taken for 1 mm, a guess. State its size in mm") != std::string::npos);
    CHECK(corrected.result->chart.scale->relative_uncertainty == kGuessedScale);
}

TEST_CASE("a size in px outranks no stated one: what is found again tells how large the trace is") {
    const Chart chart = traced(board());
    const auto told = [&](const std::string& page, double times) {
        const Corrected corrected = bring_in(chart, page, board(times));
        CHECK(std::none_of(corrected.before.begin(), corrected.before.end(),
                           [](const Diagnostic& finding) { return finding.code == "size-in-px"; }));
        CHECK(told_as(corrected.result, "part-changed").empty());
        CHECK(told_as(corrected.result, "outline-changed").empty());
        const document::Scale& scale = *corrected.result->chart.scale;
        CHECK(width_of(corrected.result->chart) == doctest::Approx(24.0).epsilon(1e-6));
        CHECK(scale.relative_uncertainty == chart.scale->relative_uncertainty);
        CHECK(scale.mm_per_unit == doctest::Approx(1.0 / times).epsilon(1e-6));
        CHECK(scale.note == "as large as the drawing before it, in which 1 unit was 1 mm: " + chart.scale->note);
        return told_as(corrected.result, "scale-changed");
    };
    CHECK(told(R"(width="600" height="400" viewBox="0 0 600 400")", 20.0) ==
          Lines{"the size of the corrected trace is a guess: what is found again in it tells how large it is, 1 unit = "
                "0.05 mm; the chart is as large and as sure as it was"});
    CHECK(told(R"(width="85.04px" height="56.69px" viewBox="0 0 85.04 56.69")", 72.0 / 25.4).size() == 1);
    CHECK(told(R"(width="113.39" height="75.59" viewBox="0 0 113.39 75.59")", 96.0 / 25.4).size() == 1);
}

TEST_CASE("a page of another size with the same drawing on it is named as what the scale is from") {
    const Chart chart = traced(board());
    const Corrected corrected = bring_in(chart, R"(width="30mm" height="50mm" viewBox="0 0 30 50")", board());
    CHECK(corrected.result->chart.scale->note.find("height=\"50mm\"") != std::string::npos);
    CHECK(told_as(corrected.result, "scale-changed").empty());
}

TEST_CASE("the chart from before the heat is told of where the chart became larger, not where it only moved") {
    Chart chart = traced(board());
    chart.frozen_before.emplace();
    const auto larger = bring_in(chart, R"(width="60mm" height="40mm" viewBox="0 0 30 20")", board());
    REQUIRE(told_as(larger.result, "scale-changed").size() == 1);
    CHECK(told_as(larger.result, "scale-changed")[0].ends_with("freeze it again while the board is cold"));
    const auto moved = bring_in(chart, R"(width="30mm" height="20mm" viewBox="0 0 30 20")",
                                "<g transform=\"translate(3 2)\">" + board() + "</g>");
    REQUIRE(told_as(moved.result, "drawing-moved").size() == 1);
    CHECK(told_as(moved.result, "drawing-moved")[0].find("before the heat") == std::string::npos);
}

TEST_CASE("edges of the same proportions tell a factor however they are turned, others none") {
    const geometry::Ring edge{{0, 0}, {24, 0}, {24, 16}, {4, 16}, {0, 12}};
    const auto turned = geometry::Affine::rotation(Angle::degrees(37)) * geometry::Affine::scaling(2.5, 2.5);
    CHECK(edge_factor(edge, geometry::transformed(edge, turned)).value() == doctest::Approx(2.5));
    CHECK_FALSE(edge_factor(edge, {{0, 0}, {40, 0}, {40, 8}, {0, 8}}).has_value());
}

} // namespace
} // namespace padchart::svg
