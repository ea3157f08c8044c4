#pragma once
// Photographs for tests, made in code: a chart painted as a board, seen by a camera whose map is known, with noise.

#include <cstdint>
#include <string>

#include "document/chart.hpp"
#include "geometry/homography.hpp"
#include "paint/photo_pixels.hpp"

namespace padchart::tests {

struct Shot {
    int width = 1600, height = 1200;
    geometry::Homography pixel_from_board;
    document::Side side = document::Side::Top;
    double noise = 6.0; ///< levels of 255, either way
    std::uint32_t seed = 7;
};

/// A camera that looks at the middle of the board from `tilt_deg` off straight above, turned by `turn_deg`, mirrored
/// or not; the board fills most of the picture. Own arithmetic: a pinhole at a distance of three board widths.
[[nodiscard]] geometry::Homography camera_over(const geometry::Box& board, int width, int height, double tilt_deg,
                                               double turn_deg, bool mirrored);

[[nodiscard]] paint::Pixels photograph(const document::Chart& chart, const Shot& shot);

struct PngKind {
    bool interlaced = false;
    bool with_alpha = false; ///< half clear throughout
};
[[nodiscard]] std::string png_of(const paint::Pixels& pixels, PngKind kind = {});
[[nodiscard]] std::string jpeg_of(const paint::Pixels& pixels, int quality = 92, bool progressive = false);
/// The JPEG with an Exif segment that says how it is to be turned.
[[nodiscard]] std::string with_orientation(const std::string& jpeg, int orientation);

} // namespace padchart::tests
