#pragma once
// Pages to files, as the ending of the name says: one PDF of them all, or an SVG or PNG a page.

#include <filesystem>
#include <optional>

#include "base/result.hpp"
#include "cli/command.hpp"
#include "paint/theme.hpp"
#include "scene/page.hpp"

namespace padchart::cli {

struct PageOutput {
    std::filesystem::path path; ///< NAME.pdf, NAME.svg or NAME.png
    double dpi = 150.0;         ///< of a PNG, 20 to 1200
    bool force = false;         ///< write over what somebody else made
};

/// Names what it writes on `streams.out`: "NAME.png", "NAME-2.png", ... or "NAME.pdf, 3 pages".
/// Names on `streams.err` pages of an earlier, longer document that now lie beside. Errors: another ending, a
/// resolution out of range, a file of that name which this program did not write, what the painter says.
[[nodiscard]] Result<void> write_document(const scene::Document& document, const paint::Theme& theme,
                                          const PageOutput& output, Streams streams);

/// Why a picture may not be written there: a file of that name is there which this program did not write.
[[nodiscard]] std::optional<Error> would_lose_work(const std::filesystem::path& path, bool force);
/// As above of a page for a browser.
[[nodiscard]] std::optional<Error> would_lose_page(const std::filesystem::path& path, bool force);

} // namespace padchart::cli
