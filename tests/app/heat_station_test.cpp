// Readings taken down, fitted, kept as a station and used by the plan in hand.
#include "app/heat_readings.hpp"

#include <chrono>
#include <thread>

#include "analysis/heat_station.hpp"
#include "app/actions.hpp"
#include "app/tools/tool.hpp"
#include "support.hpp"

namespace padchart::app {
namespace {

using document::Id;
using geometry::Vec2;

void start(Session& s) {
    const geometry::Ring ring{{-3, -4}, {13, -4}, {13, 4}, {-3, 4}};
    s.editor.start_new(document::set_outline(row_of_chips(), geometry::Polygon{ring, {}}).value());
    s.heat.wants_map = false;
    s.show_stage(scene::Stage::Heat);
    s.editor.select({Id{"r2"}});
    s.update_heat();
}

void act(Session& s, std::string_view id) {
    const Action* action = find_action(id);
    REQUIRE_MESSAGE(action != nullptr, id);
    REQUIRE_MESSAGE(action->enabled(s), id);
    run(*action, s);
}

double shown_now(Session& s) {
    s.wait_for_heat();
    REQUIRE(s.heat.estimate());
    REQUIRE(s.heat.estimate()->report.has_value());
    const auto& band = s.heat.estimate()->report->target.peak_mean_c;
    return band.high - band.low;
}

void fit(Session& s) {
    act(s, "heat-fit");
    for (int round = 0; round < 2000 && s.heat.is_calibration_busy(); ++round) {
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
        s.update_heat();
    }
    s.update_heat();
}

} // namespace

TEST_CASE("a reading becomes a station of the chart and narrows the plan in hand") {
    Session s;
    start(s);
    HeatReadings& readings = s.desks.get<HeatReadings>();
    CHECK_FALSE(take_reading(s)); // nothing was read yet
    CHECK_FALSE(keep_station(s));
    const double wide = shown_now(s);
    s.wait_for_heat();
    // What the model says for an exit at 85 % is a reading that must lead back there.
    analysis::HeatOptions options;
    options.cool_s = 0;
    options.calibration = analysis::HeatCalibration{0.85, 1.0};
    document::HeatPlan plan = s.heat.plan();
    plan.target = {};
    const auto truth = analysis::heat(s.editor.chart(), plan, options);
    REQUIRE(truth.has_value());
    readings.celsius = truth->curves.joint_mean_c.nominal.back();
    readings.after_s = plan.dwell_s;
    REQUIRE(take_reading(s));
    CHECK_FALSE(readings.celsius.has_value());
    REQUIRE(readings.taken.size() == 1);
    CHECK(readings.taken[0].at == s.heat.plan().aim);
    CHECK(readings.taken[0].set_point_c == s.heat.plan().set_point_c);
    fit(s);
    REQUIRE(s.heat.calibration_answer() != nullptr);
    REQUIRE(s.heat.calibration_answer()->report.has_value());
    CHECK(s.heat.calibration_answer()->report->calibration.exit_factor == doctest::Approx(0.85).epsilon(0.03));
    CHECK_FALSE(keep_station(s)); // without a name
    readings.name = "bench 2";
    const std::size_t steps = s.editor.history().steps().size();
    REQUIRE(keep_station(s));
    CHECK(s.editor.history().steps().size() == steps + 1);
    REQUIRE(s.editor.chart().stations.size() == 1);
    const document::Station& station = s.editor.chart().stations[0];
    CHECK(station.name == "bench 2");
    CHECK(station.nozzle_bore_mm == s.heat.plan().nozzle_bore_mm);
    CHECK(s.heat.plan().station == station.id);
    CHECK(shown_now(s) < wide / 2);
    // Kept again under the same name it is the same station.
    REQUIRE(keep_station(s));
    CHECK(s.editor.chart().stations.size() == 1);
    use_station(s, {});
    CHECK(shown_now(s) == doctest::Approx(wide).epsilon(0.01));
}

TEST_CASE("a reading that cannot be is refused and nothing is kept") {
    Session s;
    start(s);
    HeatReadings& readings = s.desks.get<HeatReadings>();
    readings.celsius = 60.0;
    REQUIRE(take_reading(s));
    fit(s);
    REQUIRE(s.heat.calibration_answer() != nullptr);
    REQUIRE_FALSE(s.heat.calibration_answer()->report.has_value());
    CHECK(s.heat.calibration_answer()->report.error().message.find("does not touch the pad") != std::string::npos);
    readings.name = "bench 2";
    CHECK_FALSE(keep_station(s));
    CHECK(s.editor.chart().stations.empty());
}

TEST_CASE("one click says where the bead is and the nozzle stays") {
    Session s;
    start(s);
    const Vec2 aim = s.heat.plan().aim;
    act(s, "heat-bead");
    const scene::Scene empty;
    const scene::HitTest hits(empty);
    const ToolContext context{s.editor, document::Side::Top, empty, hits};
    const Pointer at{{3.5, 1.25}, 20.0, 1.0, false, false};
    s.tool->press(context, at);
    s.tool->release(context, at);
    CHECK(s.tool->is_done());
    CHECK(s.desks.get<HeatReadings>().at == Vec2{3.5, 1.25});
    CHECK(s.heat.plan().aim == aim);
}

} // namespace padchart::app
