#pragma once
// All that is computed of a chart before it is handed over, for the sheet and for the page alike.

#include <cstddef>
#include <functional>
#include <optional>
#include <stop_token>
#include <vector>

#include "analysis/clearance.hpp"
#include "analysis/fit.hpp"
#include "analysis/heat_noaim.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"
#include "scene/sheet.hpp"

namespace padchart::page {

inline constexpr std::size_t kMostPartsForNoAim = 400;

/// In the order of the chart's plans. An error says why a plan could not be run.
struct PlanReport {
    document::HeatPlan plan;
    Result<analysis::HeatReport> heat = Error{"not computed", {}};
    Result<analysis::NoAimMap> no_aim = Error{"not computed", {}};
};

struct HandOverReports {
    analysis::ClearanceReport clearance;
    analysis::FitReport fit;
    std::vector<PlanReport> plans;
    std::optional<scene::SheetSection> compared{}; ///< with before; filled in by who can read the chart that was frozen
};

/// `with_no_aim`: also where the nozzle may not go, a second or two a plan; left out above kMostPartsForNoAim, where it
/// would take minutes: the zones of the clearances stand for it. After a stop, which comes through within a step of an
/// estimate, plans may be missing or say that they were stopped.
/// `say`, where there is one, is told before each plan which one it is, from 1.
[[nodiscard]] HandOverReports hand_over_reports(const document::Chart& chart, bool with_no_aim,
                                                const std::stop_token& stop = {},
                                                const std::function<void(std::size_t plan)>& say = {});

/// For SheetOptions::heat: plans that could be run. Requires: the reports outlive the sheet's making.
[[nodiscard]] std::vector<scene::PlanHeat> plan_heat(const HandOverReports& reports);
/// Why the others could not.
[[nodiscard]] std::vector<scene::SheetSection> failed_plans(const document::Chart& chart,
                                                            const HandOverReports& reports);

/// What the air of each plan is estimated to do, in the report's own sentences.
[[nodiscard]] std::vector<scene::SheetSection> heat_sections(const document::Chart& chart,
                                                             const HandOverReports& reports);

} // namespace padchart::page
