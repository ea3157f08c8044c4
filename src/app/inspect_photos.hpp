#pragma once
// Two photos of one side in the inspect stage: one that shows the board as it was, one that shows it now. Shown in
// turns, or as what differs between them.

#include <filesystem>
#include <optional>

#include "app/session.hpp"
#include "geometry/homography.hpp"

namespace padchart::app {

struct PhotoPair {
    document::Photo before;
    document::Photo after;
};

/// Photos of this board that are placed and not hidden, of one side: the last of the chart from before, called
/// `side_before` there; and the last of the chart now that is another file. Where the chart from before has none, the
/// first and the last of the chart now. Nothing where there are no two.
[[nodiscard]] std::optional<PhotoPair> photos_of_both(const document::Chart& before, document::Side side_before,
                                                      const document::Chart& after, document::Side side);

/// The pair, and where its files lie. Nothing outside of the inspect stage, or where there is nothing to compare with.
struct PhotosInspected {
    PhotoPair photos;
    std::filesystem::path before_file, after_file;
    geometry::Homography scene_from_before, scene_from_after; ///< from the pixels of each
};
[[nodiscard]] std::optional<PhotosInspected> inspected_photos(const Session& session);

/// What the canvas shows instead of the photos that are on show.
enum class PhotosShown { AsUsual, Before, After, Difference };
[[nodiscard]] PhotosShown photos_shown(const Session& session);

} // namespace padchart::app
