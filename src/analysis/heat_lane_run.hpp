#pragma once
// Cases of one setup followed side by side through dwell and cooling; kept for the next plan on the same scene.

#include "analysis/heat_recorder.hpp"

namespace padchart::analysis {

template <class Number, std::size_t Lanes>
class LaneRun {
public:
    /// Requires: the setup's layout outlives it.
    LaneRun(const HeatSetup& setup, const std::array<const HeatCase*, Lanes>& unknowns)
        : models_(models_of(setup, unknowns)), networks_(networks_of(models_)), solver_(networks_) {}
    LaneRun(const LaneRun&) = delete;
    LaneRun& operator=(const LaneRun&) = delete;

    /// False when told to stop. Requires: a setup on the scene it was made for, with the same cases and room.
    bool follow(const HeatSetup& setup, const RunSteps& steps, std::span<CaseRun, Lanes> runs) {
        rest(setup);
        std::array<std::vector<double>, Lanes> celsius = start_;
        std::vector<Recorder> recorders;
        for (std::size_t k = 0; k < Lanes; ++k) {
            const JetField jet = jet_field(setup, models_[k]);
            runs[k].flow = jet.flow();
            runs[k].stagnation_h = jet.at(0.0).h;
            runs[k].nodes = networks_[k]->size();
            models_[k].set_jet(jet, setup.plan.aim);
            recorders.emplace_back(setup, models_[k], runs[k]);
        }
        const auto stretch = [&](const std::vector<HeatStretch>& stretches, double offset_s) {
            const auto see = [&](double time, const std::array<std::vector<double>, Lanes>& now) {
                if (time == 0.0 && offset_s > 0.0) return; // seen as the end of what went before
                for (std::size_t k = 0; k < Lanes; ++k)
                    recorders[k].see(offset_s + time, now[k]);
            };
            const LaneBalance<Lanes> balance = solver_.run(celsius, stretches, steps.control, see, setup.options.stop);
            for (std::size_t k = 0; k < Lanes; ++k) {
                add(runs[k].balance, balance.cases[k]);
                runs[k].largest_step_error_k = std::max(runs[k].largest_step_error_k, balance.largest_step_error_k);
                runs[k].cut_steps += balance.cut_steps;
            }
            return balance.is_finished;
        };
        if (!stretch(steps.heating, 0.0)) return false;
        if (steps.cooling.empty()) return true;
        for (HeatModel& model : models_)
            model.set_still_air();
        return stretch(steps.cooling, setup.plan.dwell_s);
    }

private:
    static std::vector<HeatModel> models_of(const HeatSetup& setup,
                                            const std::array<const HeatCase*, Lanes>& unknowns) {
        std::vector<HeatModel> models;
        for (const HeatCase* of_case : unknowns)
            models.emplace_back(setup.layout, setup.board, *of_case, setup.options.room_c);
        return models;
    }
    static std::array<const HeatNetwork*, Lanes> networks_of(const std::vector<HeatModel>& models) {
        std::array<const HeatNetwork*, Lanes> networks{};
        for (std::size_t k = 0; k < Lanes; ++k)
            networks[k] = &models[k].network();
        return networks;
    }

    /// Before the air comes: at room temperature, or soaked through over the preheater.
    void rest(const HeatSetup& setup) {
        const std::optional<double> preheat_c = setup.plan.preheat_c;
        for (HeatModel& model : models_) {
            model.set_below(preheat_c);
            model.set_still_air();
        }
        if (has_start_ && preheat_c == start_preheat_c_) return;
        if (preheat_c)
            start_ = solver_.steady();
        else
            start_.fill(std::vector<double>(networks_[0]->size(), setup.options.room_c));
        has_start_ = true;
        start_preheat_c_ = preheat_c;
    }

    std::vector<HeatModel> models_;
    std::array<const HeatNetwork*, Lanes> networks_;
    LaneSolver<Number, Lanes> solver_;
    std::array<std::vector<double>, Lanes> start_;
    std::optional<double> start_preheat_c_;
    bool has_start_ = false;
};

} // namespace padchart::analysis
