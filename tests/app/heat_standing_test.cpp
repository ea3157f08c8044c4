#include "app/heat_standing.hpp"

#include <chrono>
#include <thread>

#include "app/heat_edits.hpp"
#include "support.hpp"

namespace padchart::app {
namespace {

/// The row of chips on a board of 16 by 8 mm. Invented.
std::shared_ptr<const document::Chart> small_board() {
    const geometry::Ring ring{{-3, -4}, {13, -4}, {13, 4}, {-3, 4}};
    return std::make_shared<const document::Chart>(
        document::set_outline(row_of_chips(), geometry::Polygon{ring, {}}).value());
}

} // namespace

TEST_CASE("numbers of a heat estimate bear a sign until they are those of the plan in hand, worked out finely") {
    const auto chart = small_board();
    HeatDesk desk;
    desk.wants_map = false;
    CHECK(standing_of(desk, chart) == Standing::Final); // nothing is shown
    desk.begin(*chart, document::Id{"r2"});
    while (!desk.estimate()) {
        desk.update(chart);
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    // The first that comes is the coarse one: the fine one waits for it.
    REQUIRE(desk.estimate()->is_quick);
    CHECK(standing_of(desk, chart) == Standing::First);
    CHECK(std::string(sign_of(Standing::First)) == "≈ ");
    CHECK(in_words(Standing::First) == "First estimate, being refined");
    desk.wait(chart);
    CHECK(standing_of(desk, chart) == Standing::Final);
    CHECK(std::string(sign_of(Standing::Final)).empty());
    CHECK(in_words(Standing::Final).empty());
}

TEST_CASE("numbers of the plan before a change bear a sign at once, and none after a change of words") {
    const auto chart = small_board();
    HeatDesk desk;
    desk.wants_map = false;
    desk.begin(*chart, document::Id{"r2"});
    desk.wait(chart);
    document::HeatPlan plan = desk.plan();
    plan.note = "with the small nozzle";
    desk.change(plan);
    CHECK(standing_of(desk, chart) == Standing::Final);
    plan.set_point_c -= 30;
    desk.change(plan);
    CHECK(standing_of(desk, chart) == Standing::First);
    desk.wait(chart);
    CHECK(standing_of(desk, chart) == Standing::Final);
    // The board has changed below the plan.
    CHECK(standing_of(desk, std::make_shared<const document::Chart>(
                                document::remove_parts(*chart, std::vector{document::Id{"r3"}}).value())) ==
          Standing::First);
}

TEST_CASE("the sign stands before every range of a sentence, and not before limits") {
    CHECK(with_signs("J5 may reach 191 to 321 °C, its limit is 280 °C.", Standing::First) ==
          "J5 may reach ≈ 191 to 321 °C, its limit is 280 °C.");
    CHECK(with_signs("190 to 220 °C after 20 to 30 s", Standing::Older) == "≈ 190 to 220 °C after ≈ 20 to 30 s");
    CHECK(with_signs("J5 may reach 191 to 321 °C.", Standing::Final) == "J5 may reach 191 to 321 °C.");
    CHECK(with_signs("From J5 to R3, next to 7", Standing::First) == "From J5 to R3, next to 7");
}

} // namespace padchart::app
