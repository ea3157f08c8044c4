// What reading a trace, as an import does it, costs beside the bare parse of its text by pugixml, which builds the tree
// and understands nothing of it, and beside that parse with the numbers made doubles by std::from_chars. The goal is at
// most 2.5 times the bare parse by the clock on the wall, which is what one waits for: the reader uses all cores, the
// parser one. `cpu_times_slower` is the same in processor time, all threads together, and `cores` tells how many there
// were. All are timed in turns; a ratio is that of the fastest rounds, since a machine with other work only ever slows
// a round down.

#include <algorithm>
#include <array>
#include <charconv>
#include <chrono>
#include <cmath>
#include <ctime>
#include <fstream>
#include <iterator>
#include <map>
#include <string>
#include <string_view>
#include <thread>
#include <utility>
#include <vector>

#include <benchmark/benchmark.h>
#include <pugixml.hpp>

#include "support/places.hpp"
#include "svg/drawing.hpp"
#include "svg/trace_to_chart.hpp"
#include "trace_generator.hpp"

namespace {

using namespace padchart;
using benchmarks::TraceKind;

struct Seconds {
    double wall = HUGE_VAL;
    double cpu = HUGE_VAL; ///< of all threads
};

template <class Work>
Seconds seconds_of(const Work& work) {
    const std::clock_t cpu_start = std::clock();
    const auto start = std::chrono::steady_clock::now();
    work();
    return {std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count(),
            static_cast<double>(std::clock() - cpu_start) / CLOCKS_PER_SEC};
}

/// The fastest round of each clock.
void keep_fastest(Seconds& best, const Seconds& round) {
    best.wall = std::min(best.wall, round.wall);
    best.cpu = std::min(best.cpu, round.cpu);
}

/// Nobody who imports a trace asks how long its outlines are.
svg::ReadOptions as_imported() {
    return {.measure_lengths = false};
}

const std::string& trace_text(TraceKind kind, std::int64_t megabytes) {
    static std::map<std::pair<TraceKind, std::int64_t>, std::string> texts;
    std::string& text = texts[{kind, megabytes}];
    if (text.empty()) text = benchmarks::generated_trace(kind, static_cast<std::size_t>(megabytes) * 1'000'000);
    return text;
}

/// Every number in an attribute that holds geometry.
std::vector<std::string_view> numbers_in(pugi::xml_document& document) {
    static constexpr std::array<std::string_view, 9> kGeometry{"d",  "x",  "y", "width",    "height",
                                                               "cx", "cy", "r", "transform"};
    struct Collector : pugi::xml_tree_walker {
        std::vector<std::string_view> found;
        bool for_each(pugi::xml_node& node) override {
            for (const pugi::xml_attribute attribute : node.attributes())
                if (std::find(kGeometry.begin(), kGeometry.end(), attribute.name()) != kGeometry.end())
                    add(attribute.value());
            return true;
        }
        void add(std::string_view text) {
            for (std::size_t at = text.find_first_of("-.0123456789"); at != std::string_view::npos;) {
                const std::size_t end = std::min(text.find_first_not_of(".0123456789e", at + 1), text.size());
                found.push_back(text.substr(at, end - at));
                at = text.find_first_of("-.0123456789", end);
            }
        }
    } collector;
    document.traverse(collector);
    return collector.found;
}

/// What the standard library takes to make doubles of them, nothing else: no reader of the geometry can leave that out.
Seconds seconds_of_numbers(const std::vector<std::string_view>& numbers) {
    return seconds_of([&] {
        double sum = 0.0;
        for (const std::string_view text : numbers) {
            double value = 0.0;
            std::from_chars(text.data(), text.data() + text.size(), value);
            sum += value;
        }
        benchmark::DoNotOptimize(sum);
    });
}

void trace_read(benchmark::State& state, TraceKind kind) {
    const std::string& text = trace_text(kind, state.range(0));
    pugi::xml_document kept;
    kept.load_buffer(text.data(), text.size(), pugi::parse_default, pugi::encoding_utf8);
    const std::vector<std::string_view> numbers = numbers_in(kept);
    Seconds parse, read, numbers_alone;
    std::size_t points = 0, shapes = 0;
    for (auto _ : state) {
        keep_fastest(parse, seconds_of([&] {
                         pugi::xml_document document;
                         if (!document.load_buffer(text.data(), text.size(), pugi::parse_default, pugi::encoding_utf8))
                             state.SkipWithError("the generated trace is no XML");
                     }));
        keep_fastest(numbers_alone, seconds_of_numbers(numbers));
        keep_fastest(read, seconds_of([&] {
                         const Result<svg::Drawing> drawing = svg::read(text, as_imported());
                         if (!drawing) return state.SkipWithError(describe(drawing.error()).c_str());
                         if (!drawing->diagnostics.empty()) state.SkipWithError("the generated trace has faults");
                         points = drawing->points.size();
                         shapes = drawing->shapes.size();
                     }));
    }
    const double bytes = static_cast<double>(text.size());
    state.counters["cores"] = std::thread::hardware_concurrency();
    state.counters["times_slower"] = read.wall / parse.wall;
    state.counters["cpu_times_slower"] = read.cpu / parse.cpu;
    state.counters["cpu_times_slower_than_parse_and_numbers"] = read.cpu / (parse.cpu + numbers_alone.cpu);
    state.counters["numbers"] = static_cast<double>(numbers.size());
    state.counters["parse_MB/s"] = bytes / parse.wall / 1e6;
    state.counters["read_MB/s"] = bytes / read.wall / 1e6;
    state.counters["shapes"] = static_cast<double>(shapes);
    state.counters["points"] = static_cast<double>(points);
    state.counters["ns_per_point"] = read.wall / static_cast<double>(points) * 1e9;
}
BENCHMARK_CAPTURE(trace_read, mixed, TraceKind::Mixed)->Arg(5)->Arg(50)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(trace_read, rects, TraceKind::Rects)->Arg(5)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(trace_read, lines, TraceKind::Lines)->Arg(5)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(trace_read, curves, TraceKind::Curves)->Arg(5)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(trace_read, arcs, TraceKind::Arcs)->Arg(5)->Unit(benchmark::kMillisecond);

std::string demo_trace() {
    std::ifstream file(padchart::tests::source_folder() / "demo/power-corner.svg");
    return {std::istreambuf_iterator<char>(file), {}};
}

/// The demo's trace many times over: reading it, and what comes after, making parts of the shapes.
void chart_from_repeated_demo_trace(benchmark::State& state) {
    const std::string text = benchmarks::repeated_trace(demo_trace(), static_cast<int>(state.range(0)));
    const Result<svg::Drawing> drawing = svg::read(text);
    if (!drawing) return state.SkipWithError(describe(drawing.error()).c_str());
    Seconds reading, making;
    std::size_t parts = 0;
    for (auto _ : state) {
        keep_fastest(reading, seconds_of([&] { benchmark::DoNotOptimize(svg::read(text, as_imported())); }));
        keep_fastest(making, seconds_of([&] {
                         const Result<svg::TraceResult> result = svg::chart_from_trace(*drawing);
                         if (!result) return state.SkipWithError(describe(result.error()).c_str());
                         parts = result->chart.parts.size();
                     }));
    }
    state.counters["parts"] = static_cast<double>(parts);
    state.counters["read_ms"] = reading.cpu * 1e3;
    state.counters["chart_ms"] = making.cpu * 1e3;
    state.counters["chart_us_per_part"] = making.cpu * 1e6 / static_cast<double>(parts);
    state.counters["chart_per_read"] = making.cpu / reading.cpu;
}
BENCHMARK(chart_from_repeated_demo_trace)->Arg(1)->Arg(10)->Arg(100)->Unit(benchmark::kMillisecond);

} // namespace
