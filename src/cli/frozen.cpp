#include "cli/frozen.hpp"

#include <fmt/format.h>

#include "analysis/photo_file.hpp"
#include "base/disk_file.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

namespace fs = std::filesystem;
using document::Chart;

constexpr std::string_view kEnding = ".chart.json";
constexpr int kMostCopies = 999;

fs::path candidate(const fs::path& chart_path, int number) {
    std::string name = chart_path.filename().string();
    if (name.ends_with(kEnding)) name.resize(name.size() - kEnding.size());
    name += number == 1 ? ".before" : fmt::format(".before-{}", number);
    return chart_path.parent_path() / (name + std::string(kEnding));
}

Diagnostic finding(std::string code, std::string message) {
    return {Severity::Warning, std::move(code), std::move(message), {}, {}};
}

/// The first name that is free, or that already holds these bytes.
Result<fs::path> place_for(const fs::path& chart_path, const std::string& bytes) {
    for (int number = 1; number <= kMostCopies; ++number) {
        const fs::path path = candidate(chart_path, number);
        std::error_code fault;
        if (!fs::exists(path, fault) && !fault) return path;
        const Result<std::string> there = read_file(path);
        if (there && *there == bytes) return path;
    }
    return Error{fmt::format("{} copies from before lie beside it; right would be to put old ones away", kMostCopies),
                 chart_path.string()};
}

Diagnostics changed_since(const document::FrozenBefore& record, std::string_view bytes) {
    if (record.checksum.empty() || analysis::photo_checksum(bytes) == record.checksum) return {};
    return {finding("before-changed", fmt::format("The chart from before, {}, is not as it was when it was frozen{}. "
                                                  "Trust no comparison with it until you know why.",
                                                  record.path, record.date.empty() ? "" : " on " + record.date))};
}

} // namespace

Result<Frozen> freeze_as_before(const Chart& chart, const fs::path& chart_path, std::string by, std::string date) {
    Chart copy = chart;
    copy.frozen_before.reset();
    const std::string bytes = json::write_chart(copy);
    const Result<fs::path> place = place_for(chart_path, bytes);
    if (!place) return place.error();
    if (const Result<void> saved = json::save_chart(copy, *place); !saved) return saved.error();
    Frozen out{chart, *place};
    out.chart.ticks = {}; // a new before: nobody has compared anything with it
    out.chart.frozen_before = document::FrozenBefore{
        place->filename().string(), analysis::photo_checksum(bytes), std::move(by), std::move(date), {}};
    return out;
}

fs::path before_path(const Chart& chart, const fs::path& chart_path) {
    return chart_path.parent_path() / chart.frozen_before->path;
}

Result<BeforeChart> load_before(const Chart& chart, const fs::path& chart_path) {
    if (!chart.frozen_before)
        return Error{"the chart was not frozen as before; right would be to name the chart from before", {}};
    const fs::path path = before_path(chart, chart_path);
    const Result<std::string> bytes = read_file(path);
    if (!bytes) return bytes.error();
    Result<Chart> before = json::read_chart(*bytes, path.string());
    if (!before) return before.error();
    return BeforeChart{std::move(*before), changed_since(*chart.frozen_before, *bytes)};
}

Diagnostics before_findings(const Chart& chart, const fs::path& chart_path) {
    if (!chart.frozen_before) return {};
    const fs::path path = before_path(chart, chart_path);
    std::error_code ignored;
    if (!fs::exists(path, ignored))
        return {finding("before-missing",
                        fmt::format("The chart from before, {}, is not beside this one: nothing can be compared with "
                                    "it. Put it back, or choose another.",
                                    chart.frozen_before->path))};
    Result<BeforeChart> before = load_before(chart, chart_path);
    if (!before)
        return {finding("before-unreadable", "The chart from before cannot be read: " + describe(before.error()))};
    return std::move(before->findings);
}

} // namespace padchart::cli
