#include "analysis/heat_live.hpp"

#include "analysis/heat_lane_run.hpp"
#include "analysis/heat_report.hpp"

namespace padchart::analysis {

struct LiveHeat::Kept {
    std::shared_ptr<const document::Chart> chart; ///< keeps its address from being another chart's
    HeatSetup setup;
    HeatCases cases; ///< that `run` was made for
    double room_c = 0.0;
    std::optional<double> cell_mm;
    double coarser = 1.0;
    std::unique_ptr<LaneRun<float, 4>> run;

    [[nodiscard]] bool has_scene_of(const std::shared_ptr<const document::Chart>& other, const document::HeatPlan& plan,
                                    const HeatOptions& options) const {
        return chart == other && same_scene(setup.plan, plan) && cell_mm == options.cell_mm &&
               coarser == options.coarser;
    }
};

LiveHeat::LiveHeat() = default;
LiveHeat::LiveHeat(LiveHeat&&) noexcept = default;
LiveHeat& LiveHeat::operator=(LiveHeat&&) noexcept = default;
LiveHeat::~LiveHeat() = default;

Result<HeatReport> LiveHeat::heat(const std::shared_ptr<const document::Chart>& chart, const document::HeatPlan& plan,
                                  HeatOptions options) {
    options.resolution = Resolution::Live;
    if (kept_ && kept_->has_scene_of(chart, plan, options)) {
        if (Result<void> renewed = renew(kept_->setup, *chart, plan, options); !renewed) {
            kept_ = nullptr;
            return renewed.error();
        }
    } else {
        kept_ = nullptr;
        Result<HeatSetup> setup = heat_setup(*chart, plan, options);
        if (!setup) return setup.error();
        kept_ = std::make_unique<Kept>();
        kept_->chart = chart;
        kept_->cell_mm = options.cell_mm;
        kept_->coarser = options.coarser;
        kept_->setup = std::move(*setup);
    }
    const HeatSetup& setup = kept_->setup;
    const HeatCases& cases = setup.cases;
    if (!kept_->run || kept_->cases != cases || kept_->room_c != options.room_c) {
        kept_->run = std::make_unique<LaneRun<float, 4>>(
            setup, std::array{&cases.low, &cases.nominal, &cases.high, &cases.high_spread});
        kept_->cases = cases;
        kept_->room_c = options.room_c;
    }
    std::array<CaseRun, 4> runs;
    if (!kept_->run->follow(setup, steps_of(setup), runs)) return Error{"The run was stopped before its end.", "stop"};
    return report_of(*chart, setup, runs);
}

} // namespace padchart::analysis
