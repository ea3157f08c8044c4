#include "page/access_sections.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "analysis/heat_floating.hpp"

namespace padchart::page {
namespace {

constexpr std::size_t kMostSentences = 5;

std::string intro_of(const analysis::AccessTool& tool) {
    return fmt::format("{}, {:g} mm wide, held {:g} degrees above the board. Bearings count counter-clockwise from the "
                       "right, seen from the part's own side with the chart's up edge up.",
                       tool.name, tool.tip_width_mm, tool.rise_deg);
}

} // namespace

std::vector<analysis::AccessReport> access_reports(const document::Chart& chart, const HandOverReports& reports) {
    std::vector<analysis::AccessReport> out;
    std::vector<document::Id> done;
    for (const PlanReport& plan : reports.plans) {
        if (std::find(done.begin(), done.end(), plan.plan.target) != done.end()) continue;
        done.push_back(plan.plan.target);
        analysis::AccessQuery query;
        query.target = plan.plan.target;
        query.tool = *analysis::find_access_tool("tweezers-medium");
        query.knows_molten = plan.heat.has_value();
        if (plan.heat) query.molten = analysis::floating_parts(*plan.heat);
        if (Result<analysis::AccessReport> report = analysis::access(chart, query)) out.push_back(std::move(*report));
    }
    return out;
}

std::vector<scene::SheetSection> access_sections(const document::Chart& chart, const HandOverReports& reports) {
    std::vector<scene::SheetSection> sections;
    for (const analysis::AccessReport& report : access_reports(chart, reports)) {
        scene::SheetSection section{"Access to " + report.target_name,
                                    {intro_of(*analysis::find_access_tool("tweezers-medium"))}};
        std::string text;
        for (std::size_t i = 0; i < std::min(report.sentences.size(), kMostSentences); ++i)
            text += (i == 0 ? "" : " ") + report.sentences[i];
        section.paragraphs.push_back(std::move(text));
        sections.push_back(std::move(section));
    }
    return sections;
}

} // namespace padchart::page
