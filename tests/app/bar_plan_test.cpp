#include "app/bar_plan.hpp"

#include <algorithm>
#include <numeric>

#include <doctest/doctest.h>

namespace padchart::app {
namespace {

/// Seven buttons of the top bar; all but the first may be left out, from the last on.
BarNeeds bar_of(float room) {
    BarNeeds needs;
    needs.room = room;
    needs.gap = 8;
    needs.apart = 18;
    needs.title = 260;
    needs.least_title = 90;
    needs.state = 130;
    needs.usual_button = 86;
    needs.labels = {60, 50, 50, 76, 64, 66, 72};
    needs.drop_order = {6, 5, 4, 3, 2, 1};
    return needs;
}

std::ptrdiff_t shown(const BarPlan& plan) {
    return std::count_if(plan.buttons.begin(), plan.buttons.end(), [](float width) { return width > 0; });
}

TEST_CASE("a wide bar has title, state and all buttons in one line") {
    const BarPlan plan = bar_plan(bar_of(1240));
    CHECK_FALSE(plan.is_stacked);
    CHECK(shown(plan) == 7);
    CHECK(plan.buttons[1] == 86);
}

TEST_CASE("the state is never left out: it goes below the title, buttons shrink to their words, then some go") {
    const BarPlan below = bar_plan(bar_of(850));
    CHECK(below.is_stacked);
    CHECK(below.buttons[1] == 86);
    const BarPlan tight = bar_plan(bar_of(660));
    CHECK(tight.is_stacked);
    CHECK(shown(tight) == 7);
    CHECK(tight.buttons[1] == 50);
    const BarPlan narrow = bar_plan(bar_of(500));
    CHECK(shown(narrow) == 5);
    CHECK(narrow.buttons[6] == 0);
    for (float room = 240; room < 1300; room += 10) {
        const BarPlan plan = bar_plan(bar_of(room));
        CHECK(plan.words >= (plan.is_stacked ? 130 : 260 + 18 + 130));
        CHECK(plan.buttons[0] > 0);
    }
}

TEST_CASE("before a button goes all of them stand closer and lose their air") {
    BarNeeds needs = bar_of(600);
    needs.state = 120;
    needs.spare = 8;
    needs.least_gap = 4;
    const BarPlan close = bar_plan(needs);
    CHECK(shown(close) == 7);
    CHECK(close.buttons[0] == 52);
    CHECK(close.gap == 4);
    CHECK(close.words >= 60);
    needs.spare = needs.least_gap = 0;
    needs.least_gap = needs.gap;
    CHECK(shown(bar_plan(needs)) < 7);
}

} // namespace
} // namespace padchart::app
