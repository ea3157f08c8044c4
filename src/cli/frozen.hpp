#pragma once
// "As before": a copy of a chart from before the heat in a file beside it, and the chart's own record of that file. For
// NAME.chart.json it is NAME.before.chart.json, then NAME.before-2.chart.json ...: a copy is never written over.

#include <filesystem>
#include <string>

#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::cli {

struct Frozen {
    document::Chart chart;      ///< with the record, and without the ticks of an earlier comparison
    std::filesystem::path file; ///< what was written
};

/// Writes the copy, whole or not at all, and gives the chart that remembers it; the chart's own file stays as it is.
/// A copy with the same content that lies there already is used again. Errors: as json::save_chart.
/// Requires: `chart_path` is not empty.
[[nodiscard]] Result<Frozen> freeze_as_before(const document::Chart& chart, const std::filesystem::path& chart_path,
                                              std::string by, std::string date);

/// Where the copy should lie. Requires: the chart has a record.
[[nodiscard]] std::filesystem::path before_path(const document::Chart& chart, const std::filesystem::path& chart_path);

struct BeforeChart {
    document::Chart chart;
    Diagnostics findings; ///< "before-changed": not the file that was written then
};
/// Errors: no record, as json::load_chart.
[[nodiscard]] Result<BeforeChart> load_before(const document::Chart& chart, const std::filesystem::path& chart_path);

/// "before-missing", "before-changed" or "before-unreadable"; nothing for a chart without a record or all well.
[[nodiscard]] Diagnostics before_findings(const document::Chart& chart, const std::filesystem::path& chart_path);

} // namespace padchart::cli
