#pragma once
// The photo files beside a chart.

#include <filesystem>

#include "base/diagnostic.hpp"
#include "document/chart.hpp"

namespace padchart::cli {

/// What analysis::photo_findings says of the chart's photos, their files read from beside the chart file. A file of
/// more than 256 MB counts as one that cannot be read.
[[nodiscard]] Diagnostics photo_findings_beside(const std::filesystem::path& chart_file, const document::Chart& chart);
[[nodiscard]] Diagnostics photo_findings_beside(const std::filesystem::path& chart_file, const document::Photo& photo);

} // namespace padchart::cli
