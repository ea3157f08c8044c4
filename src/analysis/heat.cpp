#include "analysis/heat.hpp"

#include <fmt/format.h>

#include "analysis/heat_report.hpp"

namespace padchart::analysis {

Result<HeatReport> heat(const document::Chart& chart, const document::HeatPlan& plan, const HeatOptions& options) {
    const Result<HeatSetup> setup = heat_setup(chart, plan, options);
    if (!setup) return setup.error();
    const auto runs = run_cases(*setup);
    if (!runs) return Error{"The run was stopped before its end.", "stop"};
    return report_of(chart, *setup, *runs);
}

const char* to_text(MeltVerdict verdict) {
    switch (verdict) {
    case MeltVerdict::Melts: return "melts";
    case MeltVerdict::Uncertain: return "uncertain";
    case MeltVerdict::WillNotMelt: return "will not melt";
    }
    return "uncertain";
}

const char* to_text(NeighbourVerdict verdict) {
    switch (verdict) {
    case NeighbourVerdict::Safe: return "safe";
    case NeighbourVerdict::AtRisk: return "at risk";
    case NeighbourVerdict::WillOverheat: return "will overheat";
    }
    return "at risk";
}

std::string to_text(const Band& band) {
    return fmt::format("{:.0f} to {:.0f}", band.low, band.high);
}

} // namespace padchart::analysis
