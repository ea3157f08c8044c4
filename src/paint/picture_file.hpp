#pragma once
// Finished pictures on the disk: written whole or not at all, and known again as this program's own, so that a sheet
// may replace last week's sheet but never a trace or a photograph of the same name.

#include <filesystem>
#include <stop_token>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace padchart::paint {

/// The old bytes or the new ones, whatever happens between. Errors: `where` is the path; the old file stays, as where a
/// stop is asked for.
[[nodiscard]] Result<void> replace_picture(const std::filesystem::path& path, std::string_view bytes,
                                           const std::stop_token& stop = {});

/// With a comment that says whose it is. Requires: SVG with an XML declaration on its first line.
[[nodiscard]] std::string marked_svg(std::string svg);
/// With the keyword "Software" (PNG Specification, third edition, 11.3.3.1). Requires: a PNG.
[[nodiscard]] std::string marked_png(std::string png);

/// A PDF, SVG or PNG that this program wrote; false of what is not there or cannot be read.
[[nodiscard]] bool is_own_picture(const std::filesystem::path& path);

} // namespace padchart::paint
