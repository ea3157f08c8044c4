#pragma once
// The chart file NAME.chart.json: JSON, mm, degrees counter-clockwise as seen from the viewed side, units in the keys.
// assets/chart.schema.json explains every key. The text is canonical: equal charts give equal bytes, one line per pad,
// so that a line-based diff is readable. Keys this program does not know are kept and written back.

#include <filesystem>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::json {

inline constexpr std::string_view kFormatName = "padchart";
inline constexpr int kFormatVersion = 1;

/// The whole chart or the reason why not, never half of it.
/// Errors: `where` is "/parts/3/pads/0/width_mm (line 58)", or "line 12 column 5" where the text is not JSON at all,
/// with "file_name: " in front when one is given. Another version than kFormatVersion is refused by its number.
[[nodiscard]] Result<document::Chart> read_chart(std::string_view text, std::string_view file_name = {});

/// Canonical text, ending with a newline. Bytes that are not UTF-8 become U+FFFD.
/// Requires: document::fault_of(chart) finds nothing.
[[nodiscard]] std::string write_chart(const document::Chart& chart);

/// The file's bytes; of a one-file page (chart_in_page.hpp) the bytes of the chart in it.
/// Errors: a file that cannot be read, a page without a whole chart in it.
[[nodiscard]] Result<std::string> load_chart_text(const std::filesystem::path& path);

/// Errors: as read_chart and load_chart_text.
[[nodiscard]] Result<document::Chart> load_chart(const std::filesystem::path& path);

/// Writes a file beside `path`, syncs it to the disk and renames it: whoever looks finds the old chart or the new one.
/// A symbolic link stays one and its target is replaced; an existing file keeps its mode.
/// Errors: a chart that could not be read back, a file that cannot be written, a name of a page; then the old file is
/// as it was.
[[nodiscard]] Result<void> save_chart(const document::Chart& chart, const std::filesystem::path& path);

} // namespace padchart::json
