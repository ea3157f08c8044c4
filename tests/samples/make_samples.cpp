// Writes the charts of demo/ and layouts/ anew. Usage: make_samples REPOSITORY
// The test "shipped charts are what the generator makes" fails when they are not as this program writes them.

#include <fstream>
#include <iostream>
#include <sstream>

#include "samples/demo_chart.hpp"
#include "samples/layouts.hpp"
#include "svg/trace_to_chart.hpp"
#include "json/chart_file.hpp"

namespace {

using namespace padchart;

std::string text_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

Result<document::Chart> make_demo(const std::filesystem::path& trace) {
    const Result<svg::Drawing> drawing = svg::read(text_of(trace));
    if (!drawing) return drawing.error();
    Result<svg::TraceResult> traced = svg::chart_from_trace(*drawing);
    if (!traced) return traced.error();
    return samples::demo_chart(std::move(traced->chart));
}

int fail(const Error& error) {
    std::cerr << describe(error) << '\n';
    return 1;
}

} // namespace

int main(int count, char** words) {
    if (count != 2) return fail({"usage: make_samples REPOSITORY", {}});
    const std::filesystem::path root = words[1];
    const Result<document::Chart> demo = make_demo(root / "demo/power-corner.svg");
    if (!demo) return fail(demo.error());
    if (const auto saved = json::save_chart(*demo, root / "demo/river-logger.chart.json"); !saved)
        return fail(saved.error());
    const Result<std::vector<samples::Layout>> layouts = samples::layouts();
    if (!layouts) return fail(layouts.error());
    for (const samples::Layout& layout : *layouts)
        if (const auto saved = json::save_chart(layout.chart, root / "layouts" / layout.file_name); !saved)
            return fail(saved.error());
    std::cout << "wrote the demo chart and " << layouts->size() << " layouts\n";
    return 0;
}
