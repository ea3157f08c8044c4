// Clearance of a whole chart against the plain loop of a library user: every outline to a GEOS geometry once, then
// the distance of every pair. Both find the same pairs; the ratio of the two is printed as `times_faster`.

#include <chrono>
#include <cstddef>
#include <memory>
#include <stdexcept>
#include <vector>

#include <benchmark/benchmark.h>
#include <geos_c.h>

#include "analysis/clearance.hpp"
#include "support/chart_generator.hpp"

namespace {

using namespace padchart;

class PlainLoop {
public:
    PlainLoop() : context_(GEOS_init_r()) {}
    ~PlainLoop() { GEOS_finish_r(context_); }
    PlainLoop(const PlainLoop&) = delete;
    PlainLoop& operator=(const PlainLoop&) = delete;

    std::size_t close_pairs(const document::Chart& chart) {
        const std::size_t bodies = pairs_nearer(bodies_of(chart), chart.rules.body_gap_mm);
        return bodies + pairs_nearer(pads_of(chart), chart.rules.pad_gap_mm);
    }

private:
    struct Thing {
        std::size_t part;
        document::Side side;
        GEOSGeometry* shape;
    };

    GEOSGeometry* polygon(const geometry::Ring& ring) {
        std::vector<double> xy;
        for (std::size_t i = 0; i <= ring.size(); ++i) {
            xy.push_back(ring[i % ring.size()].x);
            xy.push_back(ring[i % ring.size()].y);
        }
        auto* points = GEOSCoordSeq_copyFromBuffer_r(context_, xy.data(), static_cast<unsigned>(xy.size() / 2), 0, 0);
        return GEOSGeom_createPolygon_r(context_, GEOSGeom_createLinearRing_r(context_, points), nullptr, 0);
    }

    std::vector<Thing> bodies_of(const document::Chart& chart) {
        std::vector<Thing> things;
        for (std::size_t i = 0; i < chart.parts.size(); ++i) {
            const document::Footprint& part = chart.parts[i];
            if (part.body && part.condition.presence != document::Presence::Missing)
                things.push_back({i, part.placement.side, polygon(document::body_on_board(part))});
        }
        return things;
    }

    std::vector<Thing> pads_of(const document::Chart& chart) {
        std::vector<Thing> things;
        for (std::size_t i = 0; i < chart.parts.size(); ++i)
            for (const document::Pad& pad : chart.parts[i].pads)
                things.push_back(
                    {i, chart.parts[i].placement.side, polygon(document::outline_on_board(chart.parts[i], pad))});
        return things;
    }

    std::size_t pairs_nearer(const std::vector<Thing>& things, double rule) {
        std::size_t found = 0;
        for (std::size_t i = 0; i < things.size(); ++i)
            for (std::size_t j = i + 1; j < things.size(); ++j) {
                if (things[i].part == things[j].part || things[i].side != things[j].side) continue;
                double mm = 0;
                GEOSDistance_r(context_, things[i].shape, things[j].shape, &mm);
                found += mm < rule ? 1 : 0;
            }
        for (const Thing& thing : things)
            GEOSGeom_destroy_r(context_, thing.shape);
        return found;
    }

    GEOSContextHandle_t context_;
};

/// Pairs of parts only: the plain loop knows no edge.
document::Chart chart_without_board(std::size_t parts, std::size_t pads) {
    document::Chart chart = testing::make_chart(parts, pads, 3);
    chart.board.outline.reset();
    return chart;
}

double seconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

void plain_loop_against_clearance(benchmark::State& state) {
    const auto chart = chart_without_board(static_cast<std::size_t>(state.range(0)), 6);
    PlainLoop loop;
    double plain = 0;
    double ours = 0;
    for (auto _ : state) {
        auto start = std::chrono::steady_clock::now();
        const std::size_t expected = loop.close_pairs(chart);
        plain += seconds_since(start);
        start = std::chrono::steady_clock::now();
        const auto report = analysis::clearance(chart);
        ours += seconds_since(start);
        if (report.close.size() != expected) throw std::runtime_error("the two ways find different pairs");
    }
    const auto rounds = static_cast<double>(state.iterations());
    state.counters["plain_s"] = plain / rounds;
    state.counters["clearance_s"] = ours / rounds;
    state.counters["times_faster"] = plain / ours;
}
BENCHMARK(plain_loop_against_clearance)->Arg(25)->Arg(50)->Arg(100)->Arg(200)->Unit(benchmark::kMillisecond);

void clearance_of_a_chart(benchmark::State& state) {
    const auto chart = testing::make_chart(static_cast<std::size_t>(state.range(0)), 10, 3);
    for (auto _ : state)
        benchmark::DoNotOptimize(analysis::clearance(chart));
    state.counters["pads"] = static_cast<double>(state.range(0) * 10);
}
BENCHMARK(clearance_of_a_chart)->Arg(100)->Arg(1000)->Arg(5000)->Unit(benchmark::kMillisecond);

void gaps_from_one_part(benchmark::State& state) {
    const auto chart = testing::make_chart(static_cast<std::size_t>(state.range(0)), 10, 3);
    const auto target = chart.parts[chart.parts.size() / 2].id;
    for (auto _ : state)
        benchmark::DoNotOptimize(analysis::gaps_to_sensitive(chart, target));
}
BENCHMARK(gaps_from_one_part)->Arg(100)->Arg(5000)->Unit(benchmark::kMillisecond);

} // namespace
