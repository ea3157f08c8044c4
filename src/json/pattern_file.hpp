#pragma once
// A traced footprint as a pattern to be used again: NAME.pattern.json, one pattern a file, to be kept and shared. Under
// "pattern" stand the keys of a part of the chart file, without those that belong to one part on one board.
// assets/pattern.schema.json explains them. Canonical, unknown keys kept, errors as in json/chart_file.hpp.

#include <filesystem>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "document/footprint.hpp"

namespace padchart::json {

inline constexpr std::string_view kPatternFormatName = "padchart-pattern";
inline constexpr int kPatternFormatVersion = 1;

struct PatternFile {
    std::string note; ///< where it was measured, how well: free text
    /// As patterns::as_pattern makes it; `name` is the pattern's own. No id, place, side, condition or record.
    document::Footprint pattern;
    document::Extras extras;

    bool operator==(const PatternFile&) const = default;
};

/// Errors: `where` is "/pattern/pads/0/width_mm (line 9)", or "line 12 column 5" where the text is not JSON at all,
/// with "file_name: " in front when one is given. A chart is refused by that name; keys of a part's place are refused.
[[nodiscard]] Result<PatternFile> read_pattern(std::string_view text, std::string_view file_name = {});

/// Canonical text, ending with a newline. What belongs to one part on one board is left out.
[[nodiscard]] std::string write_pattern(const PatternFile& file);

/// Errors: as read_pattern, and a file that cannot be read.
[[nodiscard]] Result<PatternFile> load_pattern(const std::filesystem::path& path);

/// The old file or the new one, as save_chart. Errors: a pattern that could not be read back, a file that cannot be
/// written; then the old file is as it was.
[[nodiscard]] Result<void> save_pattern(const PatternFile& file, const std::filesystem::path& path);

} // namespace padchart::json
