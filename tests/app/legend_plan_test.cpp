#include "app/legend_plan.hpp"

#include <doctest/doctest.h>

namespace padchart::app {
namespace {

using scene::LegendEntry;
using scene::Role;

/// Every letter is seven wide.
LegendSizes sizes(double room) {
    return {24, 26, 14, 18, room, [](std::string_view words) { return static_cast<float>(words.size()) * 7.0F; }};
}

std::vector<LegendEntry> three() {
    return {{Role::NoAim, "blocked: a part stands in the way"},
            {Role::GoodAimEdge, "come from here; the longer, the more room"},
            {Role::Measure, "best way in"}};
}

TEST_CASE("an entry wider than the legend is broken into lines, never cut") {
    const LegendPlan plan = legend_plan(three(), scene::Stage::Access, 9, "K", sizes(200));
    CHECK_FALSE(plan.leaves_out);
    REQUIRE(plan.placed.size() == 3);
    CHECK(plan.placed[0].lines.size() == 2);
    CHECK(plan.rows == 6);
    CHECK(plan.width <= 200);
    CHECK(plan.placed[1].at.y == doctest::Approx(48));
}

TEST_CASE("where nothing finds room the legend still tells the key that shows it") {
    const LegendPlan plan = legend_plan(three(), scene::Stage::Access, 1, "K", sizes(150));
    CHECK(plan.leaves_out);
    REQUIRE(plan.placed.size() == 1);
    CHECK(plan.placed[0].lines.front() == "Legend: K");
}

TEST_CASE("what finds no room is counted") {
    const LegendPlan plan = legend_plan(three(), scene::Stage::Access, 1, "K", sizes(420));
    REQUIRE(plan.placed.size() == 2);
    CHECK(plan.placed[1].lines.front() == "2 more: K");
}

TEST_CASE("no word of the legend is wider than its room: then the key alone stands there") {
    const LegendPlan plan = legend_plan({{Role::NoAim, "heat-sensitive"}}, scene::Stage::Survey, 9, "K", sizes(110));
    REQUIRE(plan.placed.size() == 1);
    CHECK(plan.placed[0].lines.front() == "Legend: K");
    CHECK(plan.width <= 110);
}

TEST_CASE("the whole legend comes in pages, each entry once and in order") {
    std::vector<std::string> seen;
    int page = 0;
    for (;; ++page) {
        REQUIRE(page < 9);
        const LegendPlan plan = legend_page(three(), page, 4, "K", sizes(200));
        CHECK(plan.rows <= 4);
        for (const PlacedEntry& placed : plan.placed)
            seen.push_back(placed.entry.text);
        if (!plan.leaves_out) break;
    }
    CHECK(page == 1);
    CHECK(seen == std::vector<std::string>{three()[0].text, "2 more: K", three()[1].text, three()[2].text});
    CHECK(legend_page(three(), 7, 4, "K", sizes(200)).placed.size() == 2); // behind the last: the last
    CHECK(legend_page(three(), 0, 9, "K", sizes(600)).placed.size() == 3);
}

} // namespace
} // namespace padchart::app
