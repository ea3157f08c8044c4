#pragma once
// Pieces of the photos beside a chart, small enough to go with a sheet or a page. What cannot be read, or does
// not lie in the chart's folder, is left out: the sheet says it in words, and `padchart check` says why.

#include <filesystem>
#include <vector>

#include "document/chart.hpp"
#include "geometry/box.hpp"
#include "scene/page.hpp"

namespace padchart::cli {

/// The piece that is the evidence of each record, at most 240 px a side, in chart order. A photo that is a mirror image
/// is turned round.
[[nodiscard]] std::vector<scene::EvidencePicture> evidence_pictures(const document::Chart& chart,
                                                                    const std::filesystem::path& chart_file);

/// A photo as it lies on the board: upright, true to scale, as the picture of that side shows the board.
struct BoardPhoto {
    document::Side side = document::Side::Top;
    geometry::Box box; ///< scene mm of that side
    scene::Picture picture;
    std::string name; ///< of the file
};

/// The last photo of this board that is placed and not hidden, one a side, at most 1,400 px a side.
[[nodiscard]] std::vector<BoardPhoto> board_photos(const document::Chart& chart,
                                                   const std::filesystem::path& chart_file);

} // namespace padchart::cli
