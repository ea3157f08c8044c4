// Fit of whole charts and of single hard parts. The slow twin looks at every pair of pads with GEOS, at no shift only.

#include <benchmark/benchmark.h>

#include <cmath>

#include "analysis/fit.hpp"
#include "geometry/overlay.hpp"
#include "support/chart_generator.hpp"
#include "support/random_shapes.hpp"

namespace {

using namespace padchart;
using document::Chart;
using document::Footprint;

/// Square grid of round lands; `scatter` moves and resizes every one, as tracing by hand does.
Footprint grid(int side, double scatter) {
    testing::Random random(5);
    Footprint part;
    for (int i = 0; i < side * side; ++i) {
        document::Pad pad;
        pad.at = geometry::Vec2{0.8 * (i % side), 0.8 * (i / side)} + random.point(scatter);
        const double diameter = 0.4 + random.between(-scatter, scatter);
        pad.shape = {document::ShapeKind::Round, diameter, diameter, {}};
        part.pads.push_back(pad);
    }
    return part;
}

/// Parts with two rows of pads, no two the same: nothing to remember from one to the next.
Chart rows(int parts, int pads_per_part) {
    testing::Random random(6);
    Chart chart;
    chart.scale = document::Scale{};
    for (int i = 0; i < parts; ++i) {
        Footprint part;
        part.id.text = "p-" + std::to_string(i);
        for (int k = 0; k < pads_per_part; ++k) {
            document::Pad pad;
            pad.at = geometry::Vec2{k % 2 == 0 ? -2.7 : 2.7, 1.27 * (k / 2)} + random.point(0.03);
            pad.shape = {document::ShapeKind::Rectangle, 1.55, 0.6 + random.between(-0.03, 0.03), {}};
            part.pads.push_back(pad);
        }
        chart.parts.add(std::move(part));
    }
    return chart;
}

/// Unshifted seats at the quarter turns, pair by pair.
int slow_fit(const Footprint& part) {
    geometry::Box box;
    std::vector<geometry::Ring> rings;
    for (const document::Pad& pad : part.pads) {
        rings.push_back(document::outline_in_part(pad));
        box.add(geometry::bounds(rings.back()));
    }
    int covered = 0;
    for (const double turn : {90.0, 180.0, 270.0}) {
        const auto map = geometry::Affine::rotation_about(box.centre(), Angle::degrees(turn));
        for (const geometry::Ring& ring : rings) {
            const geometry::Region moved{{geometry::transformed(ring, map), {}}};
            for (const geometry::Ring& other : rings)
                if (geometry::area(geometry::intersect(moved, {{other, {}}})) >= 0.5 * geometry::area(moved)) ++covered;
        }
    }
    return covered;
}

void fit_generated_chart(benchmark::State& state) {
    const Chart chart = testing::make_chart(static_cast<std::size_t>(state.range(0)), 10, 1);
    for (auto _ : state)
        benchmark::DoNotOptimize(analysis::fit(chart));
}
BENCHMARK(fit_generated_chart)->Arg(500)->Arg(5000)->Unit(benchmark::kMillisecond);

void fit_rows_all_different(benchmark::State& state) {
    const Chart chart = rows(static_cast<int>(state.range(0)), 10);
    for (auto _ : state)
        benchmark::DoNotOptimize(analysis::fit(chart));
}
BENCHMARK(fit_rows_all_different)->Arg(500)->Arg(5000)->Unit(benchmark::kMillisecond);

void fit_rows_pair_by_pair(benchmark::State& state) {
    const Chart chart = rows(static_cast<int>(state.range(0)), 10);
    for (auto _ : state)
        for (const Footprint& part : chart.parts)
            benchmark::DoNotOptimize(slow_fit(part));
}
BENCHMARK(fit_rows_pair_by_pair)->Arg(50)->Unit(benchmark::kMillisecond);

void fit_grid(benchmark::State& state) {
    const Footprint part = grid(static_cast<int>(state.range(0)), 0.0);
    for (auto _ : state)
        benchmark::DoNotOptimize(analysis::fit_of(part, 0.02));
}
BENCHMARK(fit_grid)->Arg(8)->Arg(32)->Unit(benchmark::kMillisecond);

void fit_grid_traced_by_hand(benchmark::State& state) {
    const Footprint part = grid(static_cast<int>(state.range(0)), 0.04);
    for (auto _ : state)
        benchmark::DoNotOptimize(analysis::fit_of(part, 0.02));
}
BENCHMARK(fit_grid_traced_by_hand)->Arg(8)->Arg(32)->Unit(benchmark::kMillisecond);

void fit_grid_pair_by_pair(benchmark::State& state) {
    const Footprint part = grid(static_cast<int>(state.range(0)), 0.0);
    for (auto _ : state)
        benchmark::DoNotOptimize(slow_fit(part));
}
BENCHMARK(fit_grid_pair_by_pair)->Arg(8)->Unit(benchmark::kMillisecond);

} // namespace
