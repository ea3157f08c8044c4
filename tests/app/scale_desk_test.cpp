#include "support.hpp"

#include <algorithm>

#include "app/actions.hpp"
#include "app/scale_desk.hpp"
#include "patterns/size_class.hpp"

namespace padchart::app {
namespace {

using document::Chart;

/// A row of chips drawn ten times too large, in units of a trace that states no size.
Chart unscaled() {
    Chart chart = document::rescale(row_of_chips(), 10.0, document::Scale{}).value();
    chart.scale.reset();
    return chart;
}

std::size_t size_of(std::string_view metric) {
    const auto sizes = patterns::size_classes();
    const auto found =
        std::find_if(sizes.begin(), sizes.end(), [&](const auto& size) { return size.metric == metric; });
    REQUIRE(found != sizes.end());
    return static_cast<std::size_t>(found - sizes.begin());
}

TEST_CASE("two points and a distance put the chart to scale in one step") {
    Editor editor;
    editor.start_new(unscaled());
    ScaleDesk desk;
    desk.pick({{0, 0}, ""});
    CHECK_FALSE(desk.outcome(editor.chart()));
    desk.pick({{100, 0}, "centre of R3"});
    CHECK(desk.wants_focus);
    desk.distance_mm = 10.0;
    REQUIRE(desk.apply(editor));
    REQUIRE(editor.chart().scale);
    CHECK(editor.chart().scale->mm_per_unit == doctest::Approx(0.1));
    CHECK(editor.chart().scale->source == document::ScaleSource::TwoPoints);
    CHECK(part_named(editor.chart(), "R3").placement.at.x == doctest::Approx(10));
    CHECK(editor.undo());
    CHECK_FALSE(editor.chart().scale);
}

TEST_CASE("a part of known size puts the chart to scale") {
    Editor editor;
    editor.start_new(unscaled());
    ScaleDesk desk;
    desk.way = ScaleWay::KnownPart;
    desk.part = part_under(editor.chart(), {50, 0}, document::Side::Top);
    CHECK(desk.part.text == "r2");
    desk.size = size_of("1608M");
    REQUIRE(desk.apply(editor));
    CHECK(editor.chart().scale->mm_per_unit == doctest::Approx(0.1).epsilon(0.01));
    CHECK(editor.chart().scale->note.find("1608M (inch 0603)") != std::string::npos);
}

TEST_CASE("a surer scale is given up only when asked for twice") {
    Editor editor;
    Chart chart = row_of_chips();
    chart.scale->relative_uncertainty = 0.001;
    editor.start_new(chart);
    ScaleDesk desk;
    desk.pick({{0, 0}, ""});
    desk.pick({{5, 0}, ""});
    desk.distance_mm = 5.0;
    CHECK_FALSE(desk.apply(editor));
    CHECK(editor.chart() == chart);
    REQUIRE(editor.notice());
    CHECK(editor.notice()->text.find("0.1 %") != std::string::npos);
    CHECK(desk.asks_again(editor));
    CHECK(desk.apply(editor));
    CHECK(editor.chart().scale->relative_uncertainty > 0.001);
}

TEST_CASE("two sources that disagree beyond what they allow are told before the new one is taken") {
    const Chart chart = row_of_chips();
    ScaleDesk desk;
    desk.pick({{0, 0}, ""});
    desk.pick({{10, 0}, ""});
    desk.distance_mm = 12.0;
    const auto outcome = desk.outcome(chart);
    REQUIRE(outcome);
    REQUIRE(*outcome);
    const Diagnostics& findings = (*outcome)->findings;
    CHECK(std::any_of(findings.begin(), findings.end(), [](const auto& f) { return f.code == "scale-disagrees"; }));
    CHECK((*outcome)->factor == doctest::Approx(1.2));
}

TEST_CASE("Backspace takes back point by point and a third click begins anew") {
    ScaleDesk desk;
    desk.pick({{0, 0}, ""});
    desk.pick({{1, 0}, ""});
    CHECK(desk.take_back());
    CHECK(desk.points.size() == 1);
    desk.pick({{2, 0}, ""});
    desk.pick({{3, 0}, ""});
    REQUIRE(desk.points.size() == 1);
    CHECK(desk.points[0].at.x == 3);
    CHECK(desk.take_back());
    CHECK_FALSE(desk.take_back());
}

TEST_CASE("what a panel foresees is what taking the scale gives, without the parts") {
    Chart chart = unscaled();
    document::Scale page;
    page.source = document::ScaleSource::DocumentUnits;
    page.mm_per_unit = 2.0;
    page.relative_uncertainty = 0.001;
    chart.scale = page;
    ScaleDesk desk;
    CHECK_FALSE(desk.foreseen(chart));
    desk.pick({{0, 0}, ""});
    desk.pick({{100, 0}, ""});
    desk.distance_mm = 10.0;
    const auto foreseen = desk.foreseen(chart), twin = desk.outcome(chart);
    REQUIRE((foreseen && *foreseen && twin && *twin));
    CHECK((*foreseen)->factor == (*twin)->factor);
    CHECK((*foreseen)->chart.scale == (*twin)->chart.scale);
    REQUIRE((*foreseen)->findings.size() == (*twin)->findings.size());
    REQUIRE_FALSE((*foreseen)->findings.empty()); // the page says something else
    CHECK((*foreseen)->findings[0].message == (*twin)->findings[0].message);
    CHECK((*foreseen)->chart.parts.empty());
}

TEST_CASE("points of no distance and an unfinished statement change nothing") {
    Editor editor;
    editor.start_new(unscaled());
    ScaleDesk desk;
    CHECK_FALSE(desk.apply(editor));
    desk.pick({{1, 1}, ""});
    desk.pick({{1, 1}, ""});
    desk.distance_mm = 3.0;
    CHECK_FALSE(desk.apply(editor));
    CHECK_FALSE(editor.chart().scale);
    CHECK(editor.notice()->severity == Severity::Fault);
}

TEST_CASE("the scale action hands the pointer to the scale tool and keeps the selected part") {
    Session s;
    s.editor.start_new(row_of_chips());
    s.editor.select({document::Id{"r2"}});
    run(*find_action("scale"), s);
    CHECK(s.panel == Panel::Scale);
    CHECK(s.desks.get<ScaleDesk>().part.text == "r2");
    CHECK_FALSE(s.tool->hint().empty());
}

} // namespace
TEST_CASE("another pair of points wants another distance, and digits typed beside its field touch no part") {
    Session s;
    document::Chart chart;
    chart = document::add_part(chart, part_of("chip-1608M", "R1", {10, 8})).value();
    s.editor.start_new(chart);
    s.editor.select({s.editor.chart().parts[0].id});
    run(*find_action("scale"), s);
    ScaleDesk& desk = s.desks.get<ScaleDesk>();
    desk.pick({{0, 0}, ""});
    desk.pick({{10, 0}, ""});
    CHECK(std::exchange(desk.wants_focus, false));
    CHECK(held_back(s, {Key::Digit1}));
    CHECK(desk.wants_focus); // the field takes the keys from here on
    CHECK(s.editor.chart() == chart);
    desk.distance_mm = 38;
    CHECK_FALSE(held_back(s, {Key::Slash})); // the list of actions may take the scale
    CHECK(held_back(s, {Key::F}));           // no number: nothing typed is lost, and no part is marked
    run(*find_action("scale"), s);
    CHECK(desk.distance_mm == 38);
    CHECK(held_back(s, {Key::Digit1}));
    CHECK(is_meant_for_field(s));
    CHECK_FALSE(desk.distance_mm);
    desk.distance_mm = 38;
    desk.pick({{5, 5}, ""});
    CHECK_FALSE(desk.distance_mm);
    desk.distance_mm = 38;
    s.use_tool(s.resting_tool());
    run(*find_action("scale"), s);
    CHECK_FALSE(desk.distance_mm);
}

} // namespace padchart::app
