#pragma once
// Where a photograph lies on the board, from points that were found in both. Two and three points give a similarity (a
// picture taken straight from above); four and more a homography, which takes out the angle it was taken at.
// Sources: the normalised direct linear transform, and that a camera sees all points in front of it (Hartley and
// Zisserman, Multiple View Geometry, 2nd ed., algorithm 4.2 and chapter 21, from memory), refined by Gauss-Newton on
// distances on the board. Flat boards only: what stands up, such as a tall can, lies elsewhere in a photograph.

#include <optional>
#include <span>
#include <vector>

#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"
#include "geometry/homography.hpp"

namespace padchart::analysis {

struct PointMatch {
    geometry::Vec2 pixel; ///< x right, y down
    geometry::Vec2 board; ///< mm, board frame
};

struct PhotoView {
    document::Side side = document::Side::Top; ///< the side it shows; the board frame is seen from the top
    bool mirrored = false;                     ///< the picture itself is a mirror image
    bool in_mm = true;                         ///< the board's units are millimetres: the chart has a scale
};

struct PhotoPlacement {
    geometry::Homography board_from_pixel; ///< its last number is 1
    std::vector<double> residual_mm;       ///< per point, on the board
    double rms_mm = 0.0;                   ///< over the points; 0 by construction for two and for four
    std::optional<double> tilt_deg;        ///< about how far from straight above it was taken, judged in the middle of
                                           ///< its points; nothing below four points: they cannot tell
    bool mirrored = false;                 ///< against the board frame: so it should be for the bottom
    Diagnostics findings;
};

/// Findings: "photo-unchecked" (two or four points: nothing tells a wrong one; one more of which a slip would hardly
/// show; three in a line, which fit the mirror image as well), "photo-steep" (tilted by more than 60 degrees or three
/// times as large at one point as at another: the four points are no plausible view of a board),
/// "photo-mirrored" (not what `view` says; of three points: they fit the mirror image and not the picture),
/// "photo-exchanged" (three points fit when two of them change places), "photo-off" (a point lies farther off than
/// allowed_off()), "photo-point-off" (a point far worse than the rest).
/// Errors: fewer than two points, numbers not finite, points that coincide or lie nearly in a line, points that no
/// camera could see so: two of them exchanged, an outline that crosses itself.
[[nodiscard]] Result<PhotoPlacement> place_photo(std::span<const PointMatch> points, const PhotoView& view = {});

/// As Photo::board_from_pixel.
[[nodiscard]] std::vector<double> numbers_of(const geometry::Homography& map);
/// Nothing where the photo is not placed or its numbers are no map.
[[nodiscard]] std::optional<geometry::Homography> placement_of(const document::Photo& photo);

} // namespace padchart::analysis
