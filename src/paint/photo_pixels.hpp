#pragma once
// A JPEG or PNG file as pixels, at full size or reduced by whole powers of two, and its smaller levels. Row by row, so
// that a picture of any size needs no more memory than the answer. Pixels are as stored: no turning after Exif.
// A level's pixel k covers the pixels from k * 2^level on of the picture; the last of a row or column covers what is
// left.

#include <cstddef>
#include <cstdint>
#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace padchart::paint {

/// Red, green, blue, row by row from the top left. What is clear in the file lies on white.
struct Pixels {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgb;

    [[nodiscard]] bool is_empty() const { return rgb.empty(); }
    /// Requires: inside.
    [[nodiscard]] const std::uint8_t* at(int x, int y) const {
        return rgb.data() +
               3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x));
    }
};

/// Larger pictures are refused before anything is decoded, px.
inline constexpr double kMostPixels = 400e6;
inline constexpr int kLongestSide = 65500;

struct PhotoSize {
    int width = 0, height = 0; ///< px
};

struct DecodedPhoto {
    PhotoSize full;     ///< of the file
    int reduced_by = 0; ///< levels: the pixels are full / 2^reduced_by, rounded up
    Pixels pixels;
    std::string cut_short; ///< empty, or why the lower part is missing (white)
};

/// `most_bytes` is what the pixels with all their smaller levels may take: the picture is reduced until they do. An
/// interlaced PNG and a progressive JPEG need up to 128 MB beside it while they are read, and are refused beyond.
/// Errors: neither JPEG nor PNG, without a proper size, too large, damaged before its first row, stopped.
[[nodiscard]] Result<DecodedPhoto> decode_photo(std::string_view bytes, std::size_t most_bytes,
                                                const std::stop_token& stop = {});

/// The picture at half the size, rounded up; each pixel the mean of the up to four it covers.
[[nodiscard]] Pixels half_of(const Pixels& pixels);

/// Levels from the given one down to one that fits into a square of `smallest_side` px.
[[nodiscard]] std::vector<Pixels> levels_of(Pixels first, int smallest_side);

/// Memory of a picture of that size with all its smaller levels, bytes; an upper bound.
[[nodiscard]] std::size_t bytes_with_levels(PhotoSize size);

} // namespace padchart::paint
