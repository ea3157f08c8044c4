#pragma once
// The photo files beside a chart: the one place where they are opened, for the command line and the window.

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>

#include "analysis/photo_file.hpp"
#include "base/diagnostic.hpp"
#include "document/chart.hpp"

namespace padchart::cli {

inline constexpr std::uintmax_t kLargestPhotoFile = std::uintmax_t{256} << 20U;

struct PhotoFile {
    analysis::PhotoFacts facts;
    std::string bytes; ///< empty where it is not there or cannot be read
};

/// A path of a chart may name anything, a device that never ends too: only a file of at most kLargestPhotoFile is
/// opened; a larger one counts as unreadable, what is no file as not there.
[[nodiscard]] PhotoFile read_photo_file(const std::filesystem::path& path);
/// As analysis::photo_facts, and whether all of its picture is there: every row is decoded.
[[nodiscard]] analysis::PhotoFacts facts_down_to_pixels(std::string_view bytes);
/// What a person is told of a file that gives no picture: "is not there", or why it cannot be read. Empty: all is well.
[[nodiscard]] std::string trouble_of(const analysis::PhotoFacts& facts);

/// What analysis::photo_findings says of the chart's photos, their files read from beside the chart file down to the
/// last row of pixels; of all photos also what analysis::lost_records says.
[[nodiscard]] Diagnostics photo_findings_beside(const std::filesystem::path& chart_file, const document::Chart& chart);
[[nodiscard]] Diagnostics photo_findings_beside(const std::filesystem::path& chart_file, const document::Photo& photo);

} // namespace padchart::cli
