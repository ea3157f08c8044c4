#pragma once
// Whether a picture file is still the one the chart was made over. Works on bytes that somebody else has read. Source:
// checksum FNV-1a, 64 bits (Fowler, Noll and Vo).

#include <optional>
#include <string>
#include <string_view>

#include "analysis/photo_header.hpp"
#include "base/diagnostic.hpp"
#include "document/chart.hpp"

namespace padchart::analysis {

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

/// The way from the chart file is absolute or leads out of the chart's folder: where the chart is sent alone, or the
/// folder is moved, the photo is lost.
[[nodiscard]] bool lies_elsewhere(const document::Photo& photo);

/// Findings on one photo of a chart: "photo-missing", "photo-unreadable", "photo-changed" (another file than the one it
/// was placed with), "photo-turned" (stored turned: pixels count as stored), "photo-not-placed", "photo-elsewhere" (it
/// does not lie with the chart).
[[nodiscard]] Diagnostics photo_findings(const document::Photo& photo, const PhotoFacts& file);
[[nodiscard]] Diagnostics photo_findings(const document::Photo& photo, const std::optional<std::string_view>& bytes);

/// What speaks against believing that this file shows what the photo did when it was placed: "is not there", "is not
/// the file it was when it was placed". Empty: nothing.
[[nodiscard]] std::string file_doubt(const document::Photo& photo, const PhotoFacts& file);

/// "record-on-lost-photo" for each part whose record rests on this photo, where such a doubt stands.
[[nodiscard]] Diagnostics lost_records(const document::Chart& chart, const document::Photo& photo,
                                       const PhotoFacts& file);

} // namespace padchart::analysis
