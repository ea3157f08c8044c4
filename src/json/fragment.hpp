#pragma once
// Some parts of a chart as text, for the clipboard: what one window copies another pastes. The parts stand as in the
// chart file, in board mm, under "parts"; "format" and "version" say what it is.

#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "document/footprint.hpp"

namespace padchart::json {

inline constexpr std::string_view kFragmentFormatName = "padchart-fragment";
inline constexpr int kFragmentFormatVersion = 1;

/// Canonical text, ending with a newline. Requires: every part could stand in a chart.
[[nodiscard]] std::string write_fragment(const std::vector<document::Footprint>& parts);

/// Errors: whatever else may lie on a clipboard, told in a sentence for the user; a fragment of another version; a part
/// that could not stand in a chart; an id twice; no part at all.
[[nodiscard]] Result<std::vector<document::Footprint>> read_fragment(std::string_view text);

} // namespace padchart::json
