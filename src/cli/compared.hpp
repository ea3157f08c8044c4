#pragma once
// What is handed over tells what came of the comparison with the chart that was frozen before.

#include <filesystem>
#include <optional>

#include "document/chart.hpp"
#include "scene/sheet.hpp"

namespace padchart::cli {

/// Nothing for a chart that was never frozen or lies in no file; where its copy cannot be read, the section says so.
[[nodiscard]] std::optional<scene::SheetSection> compared_with_before(const document::Chart& chart,
                                                                      const std::filesystem::path& chart_path);

} // namespace padchart::cli
