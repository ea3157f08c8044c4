#include "analysis/heat_sweep.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <thread>

#include "analysis/heat_solver.hpp"

namespace padchart::analysis {
namespace {

using geometry::Vec2;

constexpr std::size_t kChunk = 4 * kLanes; // aims that warm each other up
constexpr double kTolerance_k = 0.1;
constexpr int kDwellSteps = 7;
constexpr double kStepGrowth = 1.6;

/// Steps that grow as the board comes to rest.
std::vector<double> growing_steps(double length_s) {
    const double first = length_s * (kStepGrowth - 1.0) / (std::pow(kStepGrowth, kDwellSteps) - 1.0);
    std::vector<double> steps;
    for (int k = 0; k < kDwellSteps; ++k)
        steps.push_back(first * std::pow(kStepGrowth, k));
    return steps;
}

/// What was measured narrows the band round the nominal case, as in a single run.
void narrow(std::array<AimResult, 4>& aim, const HeatCalibration& fit) {
    const auto within = [](float& value, float nominal, double half) {
        value = std::clamp(value, nominal - static_cast<float>(half), nominal + static_cast<float>(half));
    };
    const AimResult& nominal = aim[1];
    for (const std::size_t which : {0U, 2U, 3U}) {
        AimResult& of_case = aim[which];
        if (of_case.neighbour_c.size() != nominal.neighbour_c.size() || std::isnan(of_case.joint_c)) continue;
        within(of_case.joint_c, nominal.joint_c, fit.joint_band);
        for (std::size_t k = 0; k < nominal.neighbour_c.size(); ++k)
            within(of_case.neighbour_c[k], nominal.neighbour_c[k], fit.neighbour_band);
    }
}

} // namespace

AimSweep::AimSweep(const HeatSetup& setup, std::optional<double> dwell_s) : setup_(setup) {
    if (dwell_s) steps_s_ = growing_steps(*dwell_s);
    const Vec2 reference = geometry::bounds(setup.layout.board).centre();
    for (const HeatCase* unknowns :
         {&setup.cases.low, &setup.cases.nominal, &setup.cases.high, &setup.cases.high_spread}) {
        HeatModel model(setup.layout, setup.board, *unknowns, setup.options.room_c);
        std::vector<double> start = start_state(model, setup);
        JetField jet = jet_field(setup, model);
        model.set_jet(jet, reference);
        SharedOrder order(model.network());
        std::vector<SharedFactor> factors;
        if (steps_s_.empty()) factors.emplace_back(order, model.network(), 0.0);
        for (const double step : steps_s_)
            factors.emplace_back(order, model.network(), BatchSolver::per_time_of(step));
        std::vector<double> steady;
        if (steps_s_.empty()) {
            BatchSolver solver(order, model.network());
            for (std::size_t lane = 0; lane < kLanes; ++lane)
                solver.load(lane, model.network());
            solver.start_from(start);
            solver.steady(factors.front(), kTolerance_k);
            solver.state(0, steady);
        }
        cases_.push_back({std::move(model), std::move(jet), std::move(order), std::move(factors), std::move(start),
                          std::move(steady)});
    }
}

AimResult AimSweep::read(const CaseSystem& system, const std::vector<double>& celsius) const {
    AimResult result;
    // Air drawn in may cool what a preheater has soaked: the start counts too, as an upper bound for any dwell.
    const bool was_soaked = steps_s_.empty() && setup_.plan.preheat_c.has_value();
    for (const WatchedNeighbour& watch : setup_.neighbours) {
        double hot = hottest_of(setup_, watch, celsius).celsius;
        if (was_soaked) hot = std::max(hot, hottest_of(setup_, watch, system.start).celsius);
        result.neighbour_c.push_back(static_cast<float>(hot));
    }
    result.joint_c = static_cast<float>(coldest_joint(setup_.joints, celsius));
    return result;
}

void AimSweep::work(std::size_t which, std::span<const Vec2> aims, std::size_t first_chunk, std::size_t stride,
                    const std::stop_token& stop, std::vector<std::array<AimResult, 4>>& results,
                    std::size_t& iterations) const {
    const CaseSystem& system = cases_[which];
    HeatModel model = system.model;
    BatchSolver solver(system.order, model.network());
    std::vector<double> celsius;
    for (std::size_t chunk = first_chunk; chunk * kChunk < aims.size(); chunk += stride) {
        const std::size_t end = std::min(aims.size(), (chunk + 1) * kChunk);
        for (std::size_t first = chunk * kChunk; first < end; first += kLanes) {
            if (stop.stop_requested()) return;
            const std::size_t count = std::min(kLanes, end - first);
            for (std::size_t lane = 0; lane < kLanes; ++lane) { // spare lanes repeat the last aim
                model.set_jet(system.jet, aims[first + std::min(lane, count - 1)]);
                solver.load(lane, model.network());
            }
            if (steps_s_.empty()) {
                if (first == chunk * kChunk)
                    solver.start_from(system.reference);
                else
                    solver.start_from_lane(kLanes - 1);
                solver.steady(system.factors.front(), kTolerance_k);
            } else {
                solver.start_from(system.start);
                for (std::size_t k = 0; k < steps_s_.size(); ++k)
                    solver.step(system.factors[k], steps_s_[k], kTolerance_k);
            }
            for (std::size_t lane = 0; lane < count; ++lane) {
                solver.state(lane, celsius);
                results[first + lane][which] = read(system, celsius);
            }
        }
    }
    iterations += solver.iterations();
}

std::vector<std::array<AimResult, 4>> AimSweep::run(std::span<const Vec2> aims, std::stop_token stop) {
    AimResult none;
    none.joint_c = std::numeric_limits<float>::quiet_NaN();
    std::vector<std::array<AimResult, 4>> results(aims.size(), {none, none, none, none});
    const std::size_t workers = static_cast<std::size_t>(std::clamp(setup_.options.threads, 1, 16));
    std::vector<std::size_t> iterations(workers, 0);
    const auto work_all = [&](std::size_t worker) {
        for (std::size_t which = 0; which < cases_.size(); ++which)
            work(which, aims, worker, workers, stop, results, iterations[worker]);
    };
    {
        std::vector<std::jthread> others;
        for (std::size_t worker = 1; worker < workers; ++worker)
            others.emplace_back(work_all, worker);
        work_all(0);
    }
    for (const std::size_t count : iterations)
        iterations_ += count;
    if (setup_.options.calibration)
        for (std::array<AimResult, 4>& aim : results)
            narrow(aim, *setup_.options.calibration);
    return results;
}

} // namespace padchart::analysis
