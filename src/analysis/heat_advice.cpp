#include "analysis/heat_advice.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "analysis/heat_run.hpp"
#include "analysis/heat_sweep.hpp"
#include "geometry/overlay.hpp"

namespace padchart::analysis {
namespace {

using document::Chart;
using document::HeatPlan;
using geometry::Vec2;

constexpr double kCovered = 0.9; // of a part: another shield over it would bring nothing
constexpr double kHold_s = 3.0;  // liquid for this long before the part is lifted, common practice
constexpr double kShortestDwell_s = 10.0;
constexpr double kShieldOverlap_mm = 1.0;
constexpr double kSetPoints_c[2] = {320.0, 400.0}; // temperatures are nearly linear between and beyond these
constexpr double kSetPointStep_c = 10.0;
constexpr double kColdestSetPoint_c = 260.0;
constexpr std::size_t kVerified = 8;
constexpr double kNoLimit_k = 1000.0; // margin where nothing delicate is near

/// A plan with the shields it invents.
struct Candidate {
    HeatPlan plan;
    std::vector<document::Shield> new_shields;
    double screened_k = -std::numeric_limits<double>::infinity();
};

Chart with_shields(const Chart& chart, const std::vector<document::Shield>& shields) {
    Chart more = chart;
    for (const document::Shield& shield : shields)
        more.shields.add(shield);
    return more;
}

bool is_delicate(const WatchedNeighbour& watch) {
    return watch.limits && watch.limits->delicate;
}

/// Least margin of the delicate neighbours, and whose it is.
struct Worst {
    double margin_k = kNoLimit_k;
    std::optional<std::size_t> which;
};

template <class Celsius>
Worst worst_of(const HeatSetup& setup, const Celsius& celsius_of) {
    Worst worst;
    for (std::size_t k = 0; k < setup.neighbours.size(); ++k) {
        if (!is_delicate(setup.neighbours[k])) continue;
        const double margin = setup.neighbours[k].limits->limit_c - celsius_of(k);
        if (margin < worst.margin_k) worst = {margin, k};
    }
    return worst;
}

double at_time(const Trace& time_s, const Trace& value, double moment) {
    const auto next = std::lower_bound(time_s.begin(), time_s.end(), moment);
    if (next == time_s.begin()) return value.front();
    if (next == time_s.end()) return value.back();
    const auto k = static_cast<std::size_t>(next - time_s.begin());
    const double share = (moment - time_s[k - 1]) / (time_s[k] - time_s[k - 1]);
    return value[k - 1] + share * (value[k] - value[k - 1]);
}

Trace coldest_trace(const CaseRun& run) {
    Trace coldest = run.joint_mean.front();
    for (const Trace& joint : run.joint_mean)
        for (std::size_t k = 0; k < coldest.size(); ++k)
            coldest[k] = std::min(coldest[k], joint[k]);
    return coldest;
}

/// What was measured narrows the cold and the hot joint, and the hot neighbours.
void narrow(const HeatSetup& setup, const HeatCalibration& fit, const Trace& joint, Trace& cold_joint, Trace& hot_joint,
            std::array<CaseRun, 4>& runs) {
    for (std::size_t i = 0; i < joint.size(); ++i) {
        cold_joint[i] = std::max(cold_joint[i], joint[i] - fit.joint_band);
        hot_joint[i] = std::min(hot_joint[i], joint[i] + fit.joint_band);
    }
    for (std::size_t k = 0; k < setup.neighbours.size(); ++k)
        for (const std::size_t hot : {2U, 3U})
            for (std::size_t i = 0; i < joint.size(); ++i)
                runs[hot].neighbour[k][i] =
                    std::min(runs[hot].neighbour[k][i], runs[1].neighbour[k][i] + fit.neighbour_band);
}

/// The dwell the cold case needs, and what the hot case makes of the neighbours in it.
Result<AdvisedPlan> verified(const Chart& chart, const Candidate& candidate, const AdviceOptions& options) {
    HeatOptions heat = options.heat;
    heat.cool_s = 0.0;
    heat.snapshots_s.clear();
    HeatPlan plan = candidate.plan;
    plan.dwell_s = options.longest_dwell_s;
    Result<HeatSetup> made = heat_setup(with_shields(chart, candidate.new_shields), plan, heat);
    if (!made) return made.error();
    HeatSetup& setup = *made;
    const double liquidus = setup.mixture.liquidus_c;
    auto runs = run_cases(setup);
    if (!runs) return Error{"The search was stopped.", "stop"};
    auto& [low, nominal, high, spread] = *runs;
    const Trace& time_s = nominal.time_s;
    Trace cold_joint = coldest_trace(low), joint = coldest_trace(nominal), hot_joint = coldest_trace(high);
    if (setup.options.calibration) narrow(setup, *setup.options.calibration, joint, cold_joint, hot_joint, *runs);
    const auto melted = first_time_at(time_s, cold_joint, liquidus);
    const double dwell = melted ? std::clamp(std::ceil(*melted + kHold_s), kShortestDwell_s, options.longest_dwell_s)
                                : options.longest_dwell_s;
    setup.plan.dwell_s = dwell;
    // Hottest until the air is taken away; under steady air everything only rises.
    const auto until = [&](const Trace& trace) {
        double hottest = at_time(time_s, trace, dwell);
        for (std::size_t k = 0; k < trace.size() && time_s[k] <= dwell; ++k)
            hottest = std::max(hottest, trace[k]);
        return hottest;
    };
    const auto hot = [&until, &high = high, &spread = spread](std::size_t k) {
        return std::max(until(high.neighbour[k]), until(spread.neighbour[k]));
    };

    AdvisedPlan advised;
    advised.plan = candidate.plan;
    advised.plan.dwell_s = dwell;
    advised.new_shields = candidate.new_shields;
    advised.joint_c = {at_time(time_s, cold_joint, dwell), at_time(time_s, joint, dwell),
                       at_time(time_s, hot_joint, dwell)};
    advised.melt_margin_k = advised.joint_c.low - liquidus;
    const auto time_of = [&](const Trace& trace) { return first_time_at(time_s, trace, liquidus); };
    advised.time_to_liquidus_s = {melted, time_of(joint), time_of(hot_joint)};
    const Worst worst = worst_of(setup, hot);
    advised.spare_margin_k = worst.margin_k;
    if (worst.which) advised.worst_neighbour = setup.neighbours[*worst.which].name;
    for (std::size_t k = 0; k < setup.neighbours.size(); ++k) {
        const auto& limits = setup.neighbours[k].limits;
        if (limits && !limits->delicate && hot(k) >= limits->limit_c) ++advised.sturdy_over;
    }
    return advised;
}

/// A shield over a neighbour, a little larger than it.
document::Shield shield_over(const Chart& chart, const WatchedNeighbour& watch, std::size_t number) {
    document::Shield shield;
    shield.id = document::free_id(chart, "shield", fmt::format("{}-{}", watch.source.text, number));
    shield.name = "over " + watch.name;
    shield.side = watch.side;
    const geometry::Region grown = geometry::widen({{watch.outline, {}}}, kShieldOverlap_mm);
    if (!grown.empty()) shield.outline = {grown.front().outer, {}};
    return shield;
}

/// Delicate neighbours on the air's side that would pass their limit in the hot case, not under a shield yet.
std::vector<document::Shield> useful_shields(const Chart& chart, const HeatSetup& setup, const AimResult& high,
                                             const AimResult& spread) {
    std::vector<document::Shield> shields;
    for (std::size_t k = 0; k < setup.neighbours.size(); ++k) {
        const WatchedNeighbour& watch = setup.neighbours[k];
        if (!is_delicate(watch) || watch.far_side || watch.shield_share > kCovered) continue;
        if (static_cast<double>(std::max(high.neighbour_c[k], spread.neighbour_c[k])) < watch.limits->limit_c) continue;
        shields.push_back(shield_over(chart, watch, shields.size()));
    }
    return shields;
}

std::vector<Vec2> aims_round(const HeatSetup& setup, double farthest_mm) {
    std::vector<Vec2> aims{setup.plan.aim};
    for (const double share : {1.0 / 6.0, 1.0 / 3.0, 0.5, 2.0 / 3.0, 1.0})
        for (int k = 0; k < 8; ++k) {
            const Vec2 aim = setup.plan.aim + geometry::direction(Angle::degrees(45.0 * k)) * (share * farthest_mm);
            if (geometry::contains(setup.layout.board, aim)) aims.push_back(aim);
        }
    return aims;
}

/// Steady screening of one setting over aims and set points. Temperatures are linear in the set point but for
/// radiation, so two sweeps serve for all of them.
void screen(const Chart& chart, const Candidate& setting, const AdviceOptions& options, Advice& advice,
            std::vector<Candidate>& found) {
    std::array<std::vector<std::array<AimResult, 4>>, 2> results;
    std::vector<Vec2> aims;
    std::optional<HeatSetup> kept;
    for (std::size_t s = 0; s < 2; ++s) {
        HeatPlan plan = setting.plan;
        plan.set_point_c = kSetPoints_c[s];
        Result<HeatSetup> setup = heat_setup(with_shields(chart, setting.new_shields), plan, options.heat);
        if (!setup) return;
        aims = aims_round(*setup, options.farthest_aim_mm);
        AimSweep sweep(*setup, std::nullopt);
        results[s] = sweep.run(aims, options.stop);
        if (options.stop.stop_requested()) return;
        kept = std::move(*setup);
    }
    ++advice.settings_tried;
    advice.aims_tried += 2 * aims.size();
    std::optional<Candidate> best;
    for (std::size_t a = 0; a < aims.size(); ++a)
        for (double set = kColdestSetPoint_c; set <= options.hottest_set_point_c + 1e-9; set += kSetPointStep_c) {
            const double share = (set - kSetPoints_c[0]) / (kSetPoints_c[1] - kSetPoints_c[0]);
            const auto mixed = [&](float first, float second) {
                return static_cast<double>(first) + share * static_cast<double>(second - first);
            };
            const auto& x = results[0][a];
            const auto& y = results[1][a];
            const double melt = mixed(x[0].joint_c, y[0].joint_c) - kept->mixture.liquidus_c;
            const Worst worst = worst_of(*kept, [&](std::size_t k) {
                return std::max(mixed(x[2].neighbour_c[k], y[2].neighbour_c[k]),
                                mixed(x[3].neighbour_c[k], y[3].neighbour_c[k]));
            });
            const double score = std::min(melt, worst.margin_k);
            if (best && score <= best->screened_k) continue;
            best = setting;
            best->plan.aim = aims[a];
            best->plan.set_point_c = set;
            best->screened_k = score;
        }
    if (best) found.push_back(std::move(*best));
}

struct Nozzle {
    double bore_mm, flow_l_per_min, stand_off_mm;
};

/// The plan's own, and what a bench usually has at hand.
std::vector<Nozzle> nozzles(const HeatPlan& plan, const AdviceOptions& options) {
    std::vector<Nozzle> all{{plan.nozzle_bore_mm, plan.flow_l_per_min, plan.stand_off_mm}};
    if (!options.may_change_nozzle) return all;
    for (const Nozzle& other : {Nozzle{3.0, 15.0, 6.0}, Nozzle{5.0, 30.0, 10.0}, Nozzle{8.0, 60.0, 16.0}}) {
        const bool is_own = std::abs(other.bore_mm - plan.nozzle_bore_mm) < 0.5 &&
                            std::abs(other.flow_l_per_min - plan.flow_l_per_min) < 3.0;
        if (!is_own) all.push_back(other);
    }
    return all;
}

std::vector<std::optional<double>> preheats(const HeatPlan& plan, const AdviceOptions& options) {
    std::vector<std::optional<double>> all{plan.preheat_c};
    if (!options.may_preheat) return all;
    for (const double celsius : {100.0, 150.0})
        if (!plan.preheat_c || std::abs(*plan.preheat_c - celsius) > 10.0) all.emplace_back(celsius);
    return all;
}

std::vector<Candidate> settings(const Chart& chart, const HeatPlan& plan, const AdviceOptions& options) {
    std::vector<std::vector<document::Shield>> shield_sets{{}};
    if (options.may_shield) {
        const Result<HeatSetup> setup = heat_setup(chart, plan, options.heat);
        if (setup) {
            AimSweep sweep(*setup, std::nullopt);
            const auto here = sweep.run({&plan.aim, 1}, options.stop);
            if (auto shields = useful_shields(chart, *setup, here[0][2], here[0][3]); !shields.empty())
                shield_sets.push_back(std::move(shields));
        }
    }
    std::vector<Candidate> all;
    for (const auto& shields : shield_sets)
        for (const auto& preheat : preheats(plan, options))
            for (const Nozzle& nozzle : nozzles(plan, options)) {
                Candidate candidate{plan, shields};
                candidate.plan.preheat_c = preheat;
                candidate.plan.nozzle_bore_mm = nozzle.bore_mm;
                candidate.plan.flow_l_per_min = nozzle.flow_l_per_min;
                candidate.plan.stand_off_mm = nozzle.stand_off_mm;
                for (const document::Shield& shield : shields)
                    candidate.plan.shields.push_back(shield.id);
                all.push_back(std::move(candidate));
            }
    return all;
}

/// As seen from the side the air comes from: the bottom side shows left and right exchanged.
std::string move_words(Vec2 by, document::Side side) {
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

std::string changes_in_words(const HeatPlan& from, const AdvisedPlan& to) {
    std::vector<std::string> parts;
    if (const std::string move = move_words(to.plan.aim - from.aim, from.side); !move.empty())
        parts.push_back("aim " + move);
    if (std::abs(to.plan.set_point_c - from.set_point_c) > 1.0)
        parts.push_back(fmt::format("set {:.0f} C", to.plan.set_point_c));
    if (to.plan.nozzle_bore_mm != from.nozzle_bore_mm || to.plan.flow_l_per_min != from.flow_l_per_min ||
        to.plan.stand_off_mm != from.stand_off_mm)
        parts.push_back(fmt::format("use a {:.0f} mm nozzle with {:.0f} L/min at {:.0f} mm", to.plan.nozzle_bore_mm,
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

std::string change_words(const char* what, double change_k, const char* loses, const char* gains) {
    return fmt::format("{} {} {:.0f} {}", what, change_k < 0.0 ? loses : gains, std::abs(change_k),
                       std::lround(std::abs(change_k)) == 1 ? "degree" : "degrees");
}

void say_what_if(WhatIf& what_if) {
    what_if.sentence = what_if.change + ": " + change_words("the joint", what_if.joint_change_k, "loses", "gains");
    if (!what_if.neighbour.empty())
        what_if.sentence +=
            fmt::format(", {} {} {:.0f} of margin", what_if.neighbour,
                        what_if.neighbour_change_k <= 0.0 ? "gains" : "loses", std::abs(what_if.neighbour_change_k));
    what_if.sentence += ".";
}

} // namespace

Result<std::vector<WhatIf>> what_ifs(const Chart& chart, const HeatPlan& plan, const HeatOptions& asked) {
    HeatOptions options = asked;
    options.resolution = Resolution::Live;
    const Result<HeatSetup> setup = heat_setup(chart, plan, options);
    if (!setup) return setup.error();
    constexpr double kMoves_mm[] = {1.0, 3.0};
    constexpr std::size_t kNominal = 1;
    std::vector<Vec2> aims{plan.aim};
    for (const double length : kMoves_mm)
        for (int k = 0; k < 4; ++k)
            aims.push_back(plan.aim + geometry::direction(Angle::degrees(90.0 * k)) * length);
    AimSweep sweep(*setup, plan.dwell_s);
    const auto results = sweep.run(aims, {});
    const AimResult& now = results[0][kNominal];
    const Worst worst = worst_of(*setup, [&](std::size_t k) { return static_cast<double>(now.neighbour_c[k]); });
    std::vector<WhatIf> found;
    const auto add = [&](std::string change, HeatPlan changed, const AimResult& then) {
        WhatIf what_if{
            std::move(change), std::move(changed), static_cast<double>(then.joint_c - now.joint_c), "", 0.0, ""};
        if (worst.which) {
            what_if.neighbour = setup->neighbours[*worst.which].name;
            what_if.neighbour_change_k =
                static_cast<double>(then.neighbour_c[*worst.which] - now.neighbour_c[*worst.which]);
        }
        say_what_if(what_if);
        found.push_back(std::move(what_if));
    };
    for (std::size_t a = 1; a < aims.size(); ++a) {
        HeatPlan moved = plan;
        moved.aim = aims[a];
        if (geometry::contains(setup->layout.board, aims[a]))
            add("Aim " + move_words(aims[a] - plan.aim, plan.side), std::move(moved), results[a][kNominal]);
    }
    if (worst.which && !setup->neighbours[*worst.which].far_side &&
        setup->neighbours[*worst.which].shield_share <= kCovered) {
        const document::Shield shield = shield_over(chart, setup->neighbours[*worst.which], 0);
        HeatPlan shielded = plan;
        shielded.shields.push_back(shield.id);
        if (const auto with = heat_setup(with_shields(chart, {shield}), shielded, options)) {
            AimSweep again(*with, plan.dwell_s);
            add("With a shield " + shield.name, shielded, again.run({&plan.aim, 1}, {})[0][kNominal]);
        }
    }
    // What a neighbour gains for every degree the joint loses, both counted in the nominal case.
    const auto use = [](const WhatIf& w) { return -w.neighbour_change_k + 2.0 * std::min(0.0, w.joint_change_k); };
    std::stable_sort(found.begin(), found.end(), [&](const WhatIf& a, const WhatIf& b) { return use(a) > use(b); });
    return found;
}

Result<Advice> heat_advice(const Chart& chart, const HeatPlan& plan, const AdviceOptions& options) {
    Advice advice;
    Result<AdvisedPlan> current = verified(chart, {plan, {}}, options);
    if (!current) return current.error();
    advice.current = std::move(*current);
    std::vector<Candidate> screened;
    for (const Candidate& setting : settings(chart, plan, options)) {
        if (options.stop.stop_requested()) break;
        screen(chart, setting, options, advice, screened);
    }
    std::stable_sort(screened.begin(), screened.end(),
                     [](const Candidate& a, const Candidate& b) { return a.screened_k > b.screened_k; });
    if (screened.size() > kVerified) screened.resize(kVerified);
    std::vector<AdvisedPlan> checked{advice.current};
    for (const Candidate& candidate : screened) {
        if (options.stop.stop_requested()) break;
        Result<AdvisedPlan> one = verified(chart, candidate, options);
        if (one) checked.push_back(std::move(*one));
    }
    std::stable_sort(checked.begin(), checked.end(),
                     [](const AdvisedPlan& a, const AdvisedPlan& b) { return a.margin_k() > b.margin_k(); });
    for (const AdvisedPlan& one : checked)
        if (one.works() && advice.plans.size() < options.most_plans) advice.plans.push_back(one);
    advice.exists = !advice.plans.empty();
    if (!advice.exists) advice.nearest_miss = checked.front();
    advice.is_finished = !options.stop.stop_requested();
    if (auto single = what_ifs(chart, plan, options.heat)) {
        advice.what_ifs = std::move(*single);
        constexpr std::size_t kShown = 3;
        if (advice.what_ifs.size() > kShown) advice.what_ifs.resize(kShown);
    }
    put_into_words(plan, advice);
    return advice;
}

} // namespace padchart::analysis
