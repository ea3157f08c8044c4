#include "page/stage_pictures.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "analysis/coverage.hpp"
#include "page/access_sections.hpp"
#include "scene/words.hpp"

namespace padchart::page {

using document::Chart;
using scene::Stage;

namespace {

// With the four other stages no more than 64 pictures a side, as svg_layers wants.
constexpr std::size_t kMostPlans = 6;
constexpr std::size_t kMostAccess = 2;

std::string name_of(const Chart& chart, const PlanReport& report) {
    const auto target = document::find_part(chart, report.plan.target);
    return target ? chart.parts[*target].name : report.plan.name;
}

std::string parts_in_words(std::size_t count) {
    return count == 1 ? "1 part" : fmt::format("{} parts", count);
}

std::string surveyed(const Chart& chart) {
    if (chart.parts.empty()) return "No parts yet.";
    const auto is_gone = [](const document::Footprint& part) {
        return part.condition.presence == document::Presence::Missing ||
               part.condition.presence == document::Presence::Lost;
    };
    const auto gone = std::count_if(chart.parts.begin(), chart.parts.end(), is_gone);
    std::string text = "Parts " + analysis::in_words(analysis::coverage(chart));
    if (gone > 0) text += fmt::format("; {} missing", gone);
    return text + ".";
}

std::string oriented(const analysis::FitReport& report) {
    const auto needs = [](const analysis::PartFit& fit) { return fit.needs_record; };
    const auto open = [](const analysis::PartFit& fit) { return fit.needs_record && !fit.has_record; };
    const auto risky = static_cast<std::size_t>(std::count_if(report.parts.begin(), report.parts.end(), needs));
    const auto unrecorded = static_cast<std::size_t>(std::count_if(report.parts.begin(), report.parts.end(), open));
    if (risky == 0) return "No part can be soldered back the wrong way round, as far as the chart tells.";
    const std::string text = parts_in_words(risky) + " can be soldered back the wrong way round";
    if (unrecorded == 0) return text + "; how each sits is on record.";
    return fmt::format("{}; {} not on record.", text, unrecorded);
}

std::string heated(const StagePicture& stage) {
    if (stage.plan == nullptr) return "No heat plan.";
    if (!stage.plan->heat) return "Not computed: " + describe(stage.plan->heat.error());
    if (stage.plan->heat->sentences.empty()) return {};
    return scene::with_degrees(stage.plan->heat->sentences.front());
}

std::string compared(const PageInput& input) {
    return input.reports.compared ? input.reports.compared->heading
                                  : "Not compared with before: no chart from before the heat was kept.";
}

/// What whoever gets the page must know before they touch the board.
std::string handed_over(const PageInput& input) {
    std::string text = input.reports.compared ? compared(input) + " " : std::string();
    text += surveyed(input.chart) + " " + oriented(input.reports.fit);
    return text;
}

} // namespace

std::vector<StagePicture> stage_pictures(const PageInput& input) {
    std::vector<StagePicture> out{{"Survey", Stage::Survey}, {"Orient", Stage::Orient}};
    const std::vector<PlanReport>& plans = input.reports.plans;
    for (std::size_t i = 0; i < std::min(plans.size(), kMostPlans); ++i)
        out.push_back({"Heat: " + name_of(input.chart, plans[i]), Stage::Heat, &plans[i]});
    if (plans.empty()) out.push_back({"Heat", Stage::Heat});
    std::vector<analysis::AccessReport> access = access_reports(input.chart, input.reports);
    for (std::size_t i = 0; i < std::min(access.size(), kMostAccess); ++i) {
        const std::string name = "Access: " + access[i].target_name;
        out.push_back({name, Stage::Access, nullptr, std::move(access[i])});
    }
    out.push_back({"Inspect", Stage::Inspect});
    out.push_back({"Hand over", Stage::HandOver});
    return out;
}

std::string verdict_of(const PageInput& input, const StagePicture& stage) {
    switch (stage.stage) {
    case Stage::Survey: return surveyed(input.chart);
    case Stage::Orient: return oriented(input.reports.fit);
    case Stage::Heat: return heated(stage);
    case Stage::Access:
        return stage.access && !stage.access->sentences.empty() ? stage.access->sentences.front() : std::string();
    case Stage::Inspect: return compared(input);
    case Stage::HandOver: return handed_over(input);
    }
    return {};
}

} // namespace padchart::page
