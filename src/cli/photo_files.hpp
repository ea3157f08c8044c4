#pragma once
// The photo files beside a chart.

#include <filesystem>
#include <string>

#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::cli {

/// The file's bytes. A path of a chart may name anything, a device that never ends too: only a file of at most 256 MB
/// is read. Errors: it is none; cannot be read.
[[nodiscard]] Result<std::string> read_photo_file(const std::filesystem::path& path);

/// What analysis::photo_findings says of the chart's photos, their files read from beside the chart file. A file of
/// more than 256 MB counts as one that cannot be read.
[[nodiscard]] Diagnostics photo_findings_beside(const std::filesystem::path& chart_file, const document::Chart& chart);
[[nodiscard]] Diagnostics photo_findings_beside(const std::filesystem::path& chart_file, const document::Photo& photo);

} // namespace padchart::cli
