#include "app/heat_plan_words.hpp"

#include <string_view>
#include <vector>

namespace padchart::app {

using document::HeatPlan;

namespace {

std::string_view preheater_words(const HeatPlan& before, const HeatPlan& after) {
    if (before.preheat_c && after.preheat_c) return "preheater";
    return after.preheat_c ? "preheater on" : "preheater off";
}

} // namespace

std::string what_differs(const HeatPlan& before, const HeatPlan& after) {
    std::vector<std::string_view> words;
    const auto look = [&](auto HeatPlan::*field, std::string_view word) {
        if (before.*field != after.*field) words.push_back(word);
    };
    look(&HeatPlan::aim, "aim");
    look(&HeatPlan::side, "side");
    look(&HeatPlan::set_point_c, "air temperature");
    look(&HeatPlan::flow_l_per_min, "air flow");
    look(&HeatPlan::nozzle_bore_mm, "nozzle");
    look(&HeatPlan::stand_off_mm, "stand-off");
    look(&HeatPlan::preheat_c, preheater_words(before, after));
    look(&HeatPlan::dwell_s, "dwell");
    look(&HeatPlan::alloy, "alloy");
    look(&HeatPlan::low_melt_fraction, "low-melt alloy");
    look(&HeatPlan::station, "station");
    look(&HeatPlan::shields, "shields");
    look(&HeatPlan::name, "name");
    look(&HeatPlan::note, "note");
    return words.size() == 1 ? std::string(words.front()) : "settings";
}

} // namespace padchart::app
