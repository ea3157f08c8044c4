#include <cctype>
#include <cmath>

#include <fmt/format.h>

#include "analysis/heat_advice_parts.hpp"

namespace padchart::analysis {
namespace {

using document::HeatPlan;
using geometry::Vec2;

std::string changes_in_words(const HeatPlan& from, const AdvisedPlan& to) {
    std::vector<std::string> parts;
    if (const std::string move = move_words(to.plan.aim - from.aim, from.side); !move.empty())
        parts.push_back("aim " + move);
    if (std::abs(to.plan.set_point_c - from.set_point_c) > 1.0)
        parts.push_back(fmt::format("set {:.0f} C", to.plan.set_point_c));
    if (to.plan.nozzle_bore_mm != from.nozzle_bore_mm || to.plan.flow_l_per_min != from.flow_l_per_min ||
        to.plan.stand_off_mm != from.stand_off_mm)
        parts.push_back(fmt::format("use a nozzle of {:.0f} mm with {:.0f} L/min at {:.0f} mm", to.plan.nozzle_bore_mm,
                                    to.plan.flow_l_per_min, to.plan.stand_off_mm));
    if (to.plan.preheat_c && to.plan.preheat_c != from.preheat_c)
        parts.push_back(fmt::format("preheat from below at {:.0f} C", *to.plan.preheat_c));
    for (const document::Shield& shield : to.new_shields)
        parts.push_back("put a shield " + shield.name);
    std::string text;
    for (std::size_t k = 0; k < parts.size(); ++k)
        text += (k == 0 ? "" : ", ") + parts[k];
    if (text.empty()) text = "keep the settings";
    text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return fmt::format("{}, dwell {:.0f} s", text, to.plan.dwell_s);
}

std::string outcome_in_words(const AdvisedPlan& plan) {
    const std::string joint =
        plan.melt_margin_k >= 0.0
            ? fmt::format("the coldest joint stands at least {:.0f} K over the liquidus", plan.melt_margin_k)
            : fmt::format("the coldest joint may miss the liquidus by {:.0f} K", -plan.melt_margin_k);
    if (plan.worst_neighbour.empty()) return joint + "; nothing delicate is near";
    return joint +
           (plan.spare_margin_k > 0.0
                ? fmt::format("; {} keeps {:.0f} K of margin", plan.worst_neighbour, plan.spare_margin_k)
                : fmt::format("; {} may pass its limit by {:.0f} K", plan.worst_neighbour, -plan.spare_margin_k));
}

/// "the joint loses 4 degrees", "J2 gains 1 degree of margin", "the joint stays as hot".
std::string change_words(const std::string& what, double change_k, const char* of_what) {
    const long whole = std::lround(std::abs(change_k));
    if (whole == 0) return fmt::format("{} {}", what, *of_what == '\0' ? "stays as hot" : "keeps its margin");
    return fmt::format("{} {} {} {}{}", what, change_k < 0.0 ? "loses" : "gains", whole,
                       whole == 1 ? "degree" : "degrees", of_what);
}

} // namespace

std::string move_words(Vec2 by, document::Side side) {
    // The bottom side shows left and right exchanged.
    const double x = side == document::Side::Bottom ? -by.x : by.x;
    std::string words;
    const auto add = [&](double length, const char* positive, const char* negative) {
        if (std::abs(length) < 0.25) return;
        if (!words.empty()) words += " and ";
        words += fmt::format("{:.1f} mm further {}", std::abs(length), length > 0.0 ? positive : negative);
    };
    add(x, "right", "left");
    add(by.y, "down", "up");
    return words;
}

void put_into_words(const HeatPlan& asked, Advice& advice) {
    for (AdvisedPlan& plan : advice.plans)
        plan.sentence = changes_in_words(asked, plan) + ": " + outcome_in_words(plan) + ".";
    advice.current.sentence = "As it is: " + outcome_in_words(advice.current) + ".";
    if (advice.nearest_miss)
        advice.nearest_miss->sentence =
            changes_in_words(asked, *advice.nearest_miss) + ": " + outcome_in_words(*advice.nearest_miss) + ".";
    if (advice.exists) {
        advice.sentences.push_back(advice.plans.front().sentence);
    } else {
        advice.sentences.push_back(
            "No plan found melts the target in the cold case and spares every delicate neighbour in the "
            "hot case. A thermocouple reading on a scrap board narrows both.");
        if (advice.nearest_miss) advice.sentences.push_back("Nearest: " + advice.nearest_miss->sentence);
    }
    for (const WhatIf& what_if : advice.what_ifs)
        advice.sentences.push_back(what_if.sentence);
}

void say_what_if(WhatIf& what_if) {
    what_if.sentence = what_if.change + ": " + change_words("the joint", what_if.joint_change_k, "");
    if (!what_if.neighbour.empty())
        what_if.sentence += ", " + change_words(what_if.neighbour, -what_if.neighbour_change_k, " of margin");
    what_if.sentence += ".";
}

} // namespace padchart::analysis
