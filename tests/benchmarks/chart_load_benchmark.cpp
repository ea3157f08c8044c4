// What loading a chart costs beside the bare parse of its text: the goal is at most twice the time.

#include <benchmark/benchmark.h>

#include <map>
#include <nlohmann/json.hpp>
#include <string>

#include "support/chart_generator.hpp"
#include "json/chart_file.hpp"
#include "json/tree.hpp"

namespace {

using namespace padchart;

const std::string& chart_text(std::int64_t parts) {
    static std::map<std::int64_t, std::string> texts;
    std::string& text = texts[parts];
    if (text.empty()) text = json::write_chart(testing::make_chart(static_cast<std::size_t>(parts), 10, 1));
    return text;
}

void count_bytes(benchmark::State& state, std::size_t bytes) {
    state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(bytes));
}

void chart_text_parsed_by_library_alone(benchmark::State& state) {
    const std::string& text = chart_text(state.range(0));
    for (auto _ : state) {
        nlohmann::json parsed = nlohmann::json::parse(text);
        benchmark::DoNotOptimize(parsed);
    }
    count_bytes(state, text.size());
}

void chart_text_checked_by_library_alone(benchmark::State& state) {
    const std::string& text = chart_text(state.range(0));
    for (auto _ : state)
        benchmark::DoNotOptimize(nlohmann::json::accept(text));
    count_bytes(state, text.size());
}

void chart_text_to_tree(benchmark::State& state) {
    const std::string& text = chart_text(state.range(0));
    for (auto _ : state)
        benchmark::DoNotOptimize(json::parse_tree(text).has_value());
    count_bytes(state, text.size());
}

void chart_loaded(benchmark::State& state) {
    const std::string& text = chart_text(state.range(0));
    for (auto _ : state) {
        Result<document::Chart> chart = json::read_chart(text);
        if (!chart) state.SkipWithError(describe(chart.error()).c_str());
        benchmark::DoNotOptimize(chart);
    }
    count_bytes(state, text.size());
}

void chart_written(benchmark::State& state) {
    const document::Chart chart = testing::make_chart(static_cast<std::size_t>(state.range(0)), 10, 1);
    std::size_t bytes = 0;
    for (auto _ : state) {
        const std::string text = json::write_chart(chart);
        bytes = text.size();
    }
    count_bytes(state, bytes);
}

BENCHMARK(chart_text_parsed_by_library_alone)->Arg(50)->Arg(5000)->Unit(benchmark::kMillisecond);
BENCHMARK(chart_text_checked_by_library_alone)->Arg(50)->Arg(5000)->Unit(benchmark::kMillisecond);
BENCHMARK(chart_text_to_tree)->Arg(50)->Arg(5000)->Unit(benchmark::kMillisecond);
BENCHMARK(chart_loaded)->Arg(50)->Arg(5000)->Unit(benchmark::kMillisecond);
BENCHMARK(chart_written)->Arg(50)->Arg(5000)->Unit(benchmark::kMillisecond);

} // namespace
