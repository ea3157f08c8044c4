#pragma once
// Some things of a chart as text, for the clipboard: what one window copies another pastes. They stand as in the chart
// file, in board mm, under "parts", "keep_outs", "shields" and "notes"; "format" and "version" say what it is.

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "document/fragment.hpp"

namespace padchart::json {

inline constexpr std::string_view kFragmentFormatName = "padchart-fragment";
inline constexpr int kFragmentFormatVersion = 1;

/// Canonical text, ending with a newline. Requires: everything in it could stand in a chart.
[[nodiscard]] std::string write_fragment(const document::Fragment& things);

/// Errors: whatever else may lie on a clipboard, told in a sentence for the user; a fragment of another version; a
/// thing that could not stand in a chart; an id twice; nothing at all.
[[nodiscard]] Result<document::Fragment> read_fragment(std::string_view text);

} // namespace padchart::json
