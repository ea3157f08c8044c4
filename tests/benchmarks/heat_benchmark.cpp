// A heat run of a minute against textbook backward Euler with Eigen's SimplicialLDLT at equal error, and the no-aim map
// against one factorisation for each aim. Errors stand beside the ratios: `our_error` and `their_error` in kelvin
// against a run with tiny steps, or `largest_difference` of the maps.

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstddef>
#include <optional>
#include <vector>

#include <Eigen/SparseCholesky>
#include <benchmark/benchmark.h>

#include "analysis/heat_run.hpp"
#include "analysis/heat_sweep.hpp"
#include "document/chart.hpp"

namespace {

using namespace padchart;
using namespace padchart::analysis;

document::Footprint block(const char* id, document::PartClass part_class, geometry::Vec2 at, double side, double tall) {
    document::Footprint part;
    part.id.text = part.name = id;
    part.part_class = part_class;
    part.placement.at = at;
    part.body = document::Body{};
    part.body->shape.width_mm = part.body->shape.height_mm = side;
    part.body->height_mm = tall;
    return part;
}

/// 60 x 30 mm with a hole, a slot, a notch and a cut corner.
document::Chart masked_chart() {
    document::Chart chart;
    chart.scale = document::Scale{};
    geometry::Polygon outline{{{4, 0}, {60, 0}, {60, 24}, {56, 24}, {56, 30}, {0, 30}, {0, 4}}, {}};
    outline.holes.push_back(geometry::transformed(geometry::circle(2, 0.01), geometry::Affine::translation({8, 22})));
    outline.holes.push_back({{20, 3}, {21, 3}, {21, 12}, {20, 12}});
    chart.board.outline = outline;
    chart.board.stack.thickness_mm = 0.8;
    chart.board.stack.conductivity_w_per_m_k = 30;
    chart.parts.add(block("r1", document::PartClass::Resistor, {30, 15}, 1, 0.6));
    chart.parts.add(block("j2", document::PartClass::Connector, {43, 15}, 10, 1.2));
    return chart;
}

HeatSetup setup_of(double cell_mm) {
    document::HeatPlan plan;
    plan.target.text = "r1";
    plan.aim = {30, 15};
    plan.set_point_c = 380;
    HeatOptions options;
    options.threads = 1;
    // Kept: the layout's addresses are used by the models made from it.
    Result<HeatSetup> setup = heat_setup(masked_chart(), plan, options, cell_mm);
    return std::move(*setup);
}

HeatModel model_of(const HeatSetup& setup, const HeatCase& unknowns, geometry::Vec2 aim) {
    HeatModel model(setup.layout, setup.board, unknowns, setup.options.room_c);
    model.set_jet(jet_field(setup, model), aim);
    return model;
}

double seconds_of(const auto& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

constexpr double kMinute_s = 60.0;
constexpr double kLooked_s[] = {3.0, 10.0, 30.0, 60.0};

using Looks = std::vector<std::vector<double>>; // a state at each of the times above

/// As heat() steps, or `finer` times as often.
Looks ours(const HeatNetwork& network, double finer = 1.0) {
    Looks looks;
    HeatSolver solver(network);
    std::vector<double> t(network.size(), 25.0);
    std::vector<HeatStretch> stretches = stretches_of(kMinute_s, 0.5);
    for (HeatStretch& stretch : stretches)
        stretch.step_s /= finer;
    solver.run(t, stretches, [&](double time, std::span<const double> c) {
        for (const double look : kLooked_s)
            if (std::abs(time - look) < 1e-9) looks.emplace_back(c.begin(), c.end());
    });
    return looks;
}

Eigen::SparseMatrix<double> matrix_of(const HeatNetwork& network, double per_time) {
    std::vector<Eigen::Triplet<double>> entries;
    const double cube = 4.0 * std::pow(150.0 + kCelsiusZero, 3);
    for (const HeatLink& link : network.links) {
        const int a = static_cast<int>(link.a), b = static_cast<int>(link.b);
        entries.emplace_back(a, a, link.w_per_k);
        entries.emplace_back(b, b, link.w_per_k);
        entries.emplace_back(a, b, -link.w_per_k);
        entries.emplace_back(b, a, -link.w_per_k);
    }
    for (std::size_t k = 0; k < network.size(); ++k)
        entries.emplace_back(static_cast<int>(k), static_cast<int>(k),
                             network.air.w_per_k[k] + network.below.w_per_k[k] + network.radiance_w_per_k4[k] * cube +
                                 per_time * network.capacity_j_per_k[k]);
    const auto n = static_cast<Eigen::Index>(network.size());
    Eigen::SparseMatrix<double> matrix(n, n);
    matrix.setFromTriplets(entries.begin(), entries.end());
    return matrix;
}

/// What the fourth-power law leaves for the right-hand side, as in the matrix above.
double side_of(const HeatNetwork& network, std::size_t k, double celsius) {
    const double cube = 4.0 * std::pow(150.0 + kCelsiusZero, 3);
    const double t = celsius + kCelsiusZero, s = network.surroundings_c + kCelsiusZero;
    return network.air.w[k] + network.below.w[k] +
           network.radiance_w_per_k4[k] * (cube * celsius - (t * t + s * s) * (t * t - s * s));
}

/// Backward Euler as a textbook has it, radiation from the last step. Factorised once.
Looks backward_euler(const HeatNetwork& network, double dt) {
    Looks looks;
    const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor(matrix_of(network, 1.0 / dt));
    const auto n = static_cast<Eigen::Index>(network.size());
    Eigen::VectorXd t = Eigen::VectorXd::Constant(n, 25.0), side(n);
    const int steps = static_cast<int>(std::lround(kMinute_s / dt));
    for (int step = 1; step <= steps; ++step) {
        for (Eigen::Index i = 0; i < n; ++i) {
            const auto k = static_cast<std::size_t>(i);
            side[i] = network.capacity_j_per_k[k] / dt * t[i] + side_of(network, k, t[i]);
        }
        t = factor.solve(side);
        for (const double look : kLooked_s)
            if (std::abs(step * dt - look) < dt / 2) looks.emplace_back(t.data(), t.data() + n);
    }
    return looks;
}

double largest_difference(const Looks& a, const Looks& b) {
    double largest = 0.0;
    for (std::size_t look = 0; look < std::min(a.size(), b.size()); ++look)
        for (std::size_t k = 0; k < a[look].size(); ++k)
            largest = std::max(largest, std::abs(a[look][k] - b[look][k]));
    return largest;
}

void minute_of_heat(benchmark::State& state) {
    const HeatSetup setup = setup_of(60.0 / static_cast<double>(state.range(0)));
    const HeatModel model = model_of(setup, setup.cases.nominal, setup.plan.aim);
    const HeatNetwork& network = model.network();
    const Looks exact = ours(network, 25.0);
    const double our_error = largest_difference(ours(network), exact);
    // The largest of these steps whose error is no larger than ours, or the smallest that is tried: the ratio is then
    // too small, never too large.
    double dt = 0.5;
    double their_error = 1e9;
    for (const double step : {0.5, 0.05, 0.01}) {
        dt = step;
        their_error = largest_difference(backward_euler(network, dt), exact);
        if (their_error <= our_error) break;
    }
    double our_s = 0.0, their_s = 0.0;
    for (auto _ : state) {
        our_s += seconds_of([&] { benchmark::DoNotOptimize(ours(network)); });
        their_s += seconds_of([&] { benchmark::DoNotOptimize(backward_euler(network, dt)); });
    }
    state.counters["times_faster"] = their_s / our_s;
    state.counters["our_error"] = our_error;
    state.counters["their_error"] = their_error;
    state.counters["their_step_s"] = dt;
    state.counters["nodes"] = static_cast<double>(network.size());
}
BENCHMARK(minute_of_heat)->Arg(120)->Arg(200)->Unit(benchmark::kMillisecond)->Iterations(1);

/// All four cases of a plan with its cooling, in one factor each step, against one after the other by the plain solver,
/// whose steps are fixed. On one thread.
void cases_side_by_side(benchmark::State& state) {
    HeatSetup setup = setup_of(60.0 / static_cast<double>(state.range(0)));
    const HeatCase* cases[4] = {&setup.cases.low, &setup.cases.nominal, &setup.cases.high, &setup.cases.high_spread};
    double our_s = 0.0, their_s = 0.0, difference = 0.0, step_error = 0.0;
    for (auto _ : state) {
        std::optional<std::array<CaseRun, 4>> runs;
        our_s += seconds_of([&] { runs = run_cases(setup); });
        std::vector<CaseRun> alone;
        their_s += seconds_of([&] {
            for (const HeatCase* unknowns : cases)
                alone.push_back(run_case(setup, *unknowns));
        });
        for (std::size_t c = 0; c < 4; ++c)
            for (std::size_t n = 0; n < alone[c].peak.size(); ++n)
                difference = std::max(difference, std::abs(static_cast<double>(alone[c].peak[n] - (*runs)[c].peak[n])));
        step_error = (*runs)[1].largest_step_error_k;
    }
    state.counters["times_faster"] = their_s / our_s;
    state.counters["our_ms"] = 1e3 * our_s;
    state.counters["largest_difference"] = difference;
    state.counters["our_largest_step_error"] = step_error;
}
BENCHMARK(cases_side_by_side)->Arg(60)->Arg(120)->Arg(200)->Unit(benchmark::kMillisecond)->Iterations(1);

/// The whole answer that follows a hand, from the chart to the words, against the plain solver alone on the same grid;
/// and how far it is from the finest answer, on the joint and on the plastic.
void answer_while_dragging(benchmark::State& state) {
    const document::Chart chart = masked_chart();
    document::HeatPlan plan;
    plan.target.text = "r1";
    plan.aim = {30, 15};
    plan.set_point_c = 380;
    HeatOptions options;
    options.threads = 1;
    options.resolution = Resolution::Final;
    const Result<HeatReport> fine = heat(chart, plan, options);
    options.resolution = Resolution::Live;
    double our_s = 0.0, their_s = 0.0, answers = 0.0;
    std::optional<Result<HeatReport>> quick;
    for (auto _ : state) {
        our_s += seconds_of([&] { quick.emplace(heat(chart, plan, options)); });
        const Result<HeatSetup> setup = heat_setup(chart, plan, options);
        const HeatCases& cases = setup->cases;
        their_s += seconds_of([&] {
            for (const HeatCase* unknowns : {&cases.low, &cases.nominal, &cases.high, &cases.high_spread})
                benchmark::DoNotOptimize(run_case(*setup, *unknowns));
        });
        ++answers;
    }
    state.counters["times_faster"] = their_s / our_s;
    state.counters["our_ms"] = 1e3 * our_s / answers;
    state.counters["joint_error"] = std::abs((*quick)->target.peak_mean_c.nominal - fine->target.peak_mean_c.nominal);
    state.counters["plastic_error"] =
        std::abs((*quick)->neighbours[0].peak_c.nominal - fine->neighbours[0].peak_c.nominal);
}
BENCHMARK(answer_while_dragging)->Unit(benchmark::kMillisecond)->Iterations(10);

/// Steady state with a factorisation for every aim: radiation by Picard on the same factor, until it moves by 0.1 K.
std::vector<double> steady_by_factorisation(const HeatNetwork& network,
                                            Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>>& factor,
                                            Eigen::VectorXd& t) {
    factor.compute(matrix_of(network, 0.0));
    Eigen::VectorXd side(t.size());
    for (int round = 0; round < 20; ++round) {
        for (Eigen::Index i = 0; i < t.size(); ++i)
            side[i] = side_of(network, static_cast<std::size_t>(i), t[i]);
        const Eigen::VectorXd next = factor.solve(side);
        const double moved = (next - t).cwiseAbs().maxCoeff();
        t = next;
        if (moved < 0.1) break;
    }
    return {t.data(), t.data() + t.size()};
}

/// All four cases of a sample of aims, on one thread. The whole map asks for fewer aims still, since it looks closely
/// only where something is near its limit: that gain is not counted here.
void aims_of_the_map(benchmark::State& state) {
    const HeatSetup setup = setup_of(60.0 / static_cast<double>(state.range(0)));
    std::vector<geometry::Vec2> aims; // a band of the serpentine, 1 mm apart
    for (int row = 0; row < 3; ++row)
        for (int k = 0; k < 32; ++k)
            aims.push_back({14.5 + (row % 2 == 0 ? k : 31 - k), 12.5 + row});
    const HeatCase* cases[4] = {&setup.cases.low, &setup.cases.nominal, &setup.cases.high, &setup.cases.high_spread};
    double our_s = 0.0, their_s = 0.0, difference = 0.0;
    for (auto _ : state) {
        std::vector<std::array<AimResult, 4>> results;
        our_s += seconds_of([&] {
            AimSweep sweep(setup, std::nullopt);
            results = sweep.run(aims, {});
        });
        their_s += seconds_of([&] {
            for (std::size_t c = 0; c < 4; ++c) {
                HeatModel model(setup.layout, setup.board, *cases[c], setup.options.room_c);
                const JetField jet = jet_field(setup, model);
                Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor;
                Eigen::VectorXd t = Eigen::VectorXd::Constant(static_cast<Eigen::Index>(model.network().size()), 25.0);
                for (std::size_t a = 0; a < aims.size(); ++a) {
                    model.set_jet(jet, aims[a]);
                    const std::vector<double> celsius = steady_by_factorisation(model.network(), factor, t);
                    const double theirs = hottest_of(setup, setup.neighbours[0], celsius).celsius;
                    difference =
                        std::max(difference, std::abs(theirs - static_cast<double>(results[a][c].neighbour_c[0])));
                }
            }
        });
    }
    state.counters["times_faster"] = their_s / our_s;
    state.counters["largest_difference"] = difference;
    state.counters["our_ms_per_aim_and_case"] = 1e3 * our_s / static_cast<double>(4 * aims.size());
}
BENCHMARK(aims_of_the_map)->Arg(60)->Arg(120)->Arg(200)->Unit(benchmark::kMillisecond)->Iterations(1);

} // namespace
