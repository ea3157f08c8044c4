#pragma once
// What a picture file says of itself, and whether it is still the one the chart was made over. Works on bytes that
// somebody else has read. Sources: JPEG frame headers, ITU-T T.81 annex B; PNG, W3C Portable Network Graphics clause
// 11; orientation, Exif 2.3 tag 274 (from memory); checksum FNV-1a, 64 bits (Fowler, Noll and Vo).

#include <optional>
#include <string>
#include <string_view>

#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::analysis {

enum class PhotoFormat { Jpeg, Png };

struct PhotoHeader {
    PhotoFormat format = PhotoFormat::Jpeg;
    int width = 0; ///< pixels as stored
    int height = 0;
    int orientation = 1; ///< 1 to 8 as Exif counts; other than 1: viewers turn or mirror it before showing it
};

/// Errors: neither JPEG nor PNG, cut off, without a size.
[[nodiscard]] Result<PhotoHeader> read_photo_header(std::string_view bytes);

/// "fnv1a64:" and sixteen hexadecimal digits.
[[nodiscard]] std::string photo_checksum(std::string_view bytes);

/// What there is to know of a file before anybody asks about a photo of a chart.
struct PhotoFacts {
    bool is_there = false;
    std::string unreadable; ///< empty, or why not, or not all of it
    std::string checksum;
    int orientation = 1; ///< as in PhotoHeader
};
/// Nothing: the file is not there.
[[nodiscard]] PhotoFacts photo_facts(const std::optional<std::string_view>& bytes);

/// Findings on one photo of a chart: "photo-missing", "photo-unreadable", "photo-changed" (another file than the one it
/// was placed with), "photo-turned" (stored turned: pixels count as stored), "photo-not-placed".
[[nodiscard]] Diagnostics photo_findings(const document::Photo& photo, const PhotoFacts& file);
[[nodiscard]] Diagnostics photo_findings(const document::Photo& photo, const std::optional<std::string_view>& bytes);

} // namespace padchart::analysis
