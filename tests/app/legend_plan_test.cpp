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

} // namespace
} // namespace padchart::app
