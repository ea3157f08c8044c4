#pragma once
// What a picture file says of itself before its pixels are read. Sources: JPEG frame headers, ITU-T T.81 annex B; PNG,
// W3C Portable Network Graphics clause 11; orientation, Exif 2.3 tag 274 (from memory).

#include <string_view>

#include "base/result.hpp"

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

} // namespace padchart::analysis
