#pragma once
// `padchart merge CHART --notes FILE`: what a colleague wrote on a one-file page goes into the chart.

#include <string>

#include "base/result.hpp"
#include "cli/command.hpp"
#include "document/chart.hpp"

namespace padchart::cli {

/// Whether a text is notes and not a chart.
[[nodiscard]] bool is_notes_text(const std::string& text);

/// The chart with the notes of that file in it; says on `streams` what came of them.
/// `chart_sha256`: of the file the chart was read from; empty where nobody knows.
[[nodiscard]] Result<document::Chart> with_notes(const document::Chart& chart, const std::string& chart_sha256,
                                                 const std::string& path, Streams streams);

/// Requires: --notes was given.
int run_merge_notes(const Arguments& arguments, Streams streams);

} // namespace padchart::cli
