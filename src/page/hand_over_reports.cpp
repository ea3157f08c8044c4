#include "page/hand_over_reports.hpp"
#include "scene/words.hpp"

namespace padchart::page {

HandOverReports hand_over_reports(const document::Chart& chart, bool with_no_aim, const std::stop_token& stop,
                                  const std::function<void(std::size_t plan)>& say) {
    HandOverReports out{analysis::clearance(chart), analysis::fit(chart), {}};
    analysis::HeatOptions heat;
    heat.stop = stop;
    analysis::NoAimOptions no_aim;
    no_aim.stop = stop;
    for (const document::HeatPlan& plan : chart.heat_plans) {
        if (stop.stop_requested()) break;
        if (say) say(out.plans.size() + 1);
        PlanReport report{plan};
        report.heat = analysis::heat(chart, plan, heat);
        if (with_no_aim && report.heat && chart.parts.size() <= kMostPartsForNoAim)
            report.no_aim = analysis::no_aim(chart, plan, no_aim);
        out.plans.push_back(std::move(report));
    }
    return out;
}

namespace {

std::string name_of(const document::Chart& chart, const document::HeatPlan& plan) {
    if (!plan.name.empty()) return plan.name;
    if (const auto target = document::find_part(chart, plan.target)) return chart.parts[*target].name;
    return "plan without a name";
}

} // namespace

std::vector<scene::PlanHeat> plan_heat(const HandOverReports& reports) {
    std::vector<scene::PlanHeat> out;
    for (const PlanReport& report : reports.plans)
        if (report.heat) out.push_back({report.plan.id, &*report.heat});
    return out;
}

std::vector<scene::SheetSection> failed_plans(const document::Chart& chart, const HandOverReports& reports) {
    std::vector<scene::SheetSection> sections;
    for (const PlanReport& report : reports.plans)
        if (!report.heat)
            sections.push_back(
                {"Heat estimate: " + name_of(chart, report.plan), {"Not computed: " + describe(report.heat.error())}});
    return sections;
}

std::vector<scene::SheetSection> heat_sections(const document::Chart& chart, const HandOverReports& reports) {
    std::vector<scene::SheetSection> sections;
    for (const PlanReport& report : reports.plans) {
        scene::SheetSection section{"Heat estimate: " + name_of(chart, report.plan), {}};
        if (report.heat)
            section.paragraphs = scene::with_degrees(report.heat->sentences);
        else
            section.paragraphs = {"Not computed: " + describe(report.heat.error())};
        section.paragraphs.emplace_back("An estimate, not a measurement: check with a thermocouple.");
        sections.push_back(std::move(section));
    }
    return sections;
}

} // namespace padchart::page
