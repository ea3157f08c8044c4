#pragma once
// What a hand does to the photos of a chart, as functions from chart to chart, and what is then to be said of a photo's
// place. Knows no window and no files.

#include <optional>
#include <string>
#include <vector>

#include "analysis/registration.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::app {

/// Nothing is drawn or put down on the board.
[[nodiscard]] bool is_empty(const document::Chart& chart);
/// Nothing is drawn, no photo lies there, and no length was measured: a photo that comes is what will be drawn over.
[[nodiscard]] bool is_bare(const document::Chart& chart);
/// The photo lies where it was put when the chart was bare: it tells where things are, and how long once the scale is
/// set.
[[nodiscard]] bool is_ground(const document::Photo& photo);
/// Something of the board, or another photo of its side, shows where the photo's spots are.
[[nodiscard]] bool has_place_to_click(const document::Chart& chart, const document::Photo& photo);

/// A photo more, lying by its first place. On a bare chart that is where it stays, and the chart has no scale from then
/// on: nobody has measured how long a millimetre is in the picture. On another chart it is not placed.
/// Requires: the photo has a first place.
[[nodiscard]] Result<document::Chart> with_new_photo(const document::Chart& chart, document::Photo photo);
/// Without the photo. A chart on which nothing is left is drawn in mm again.
[[nodiscard]] Result<document::Chart> without_photo(const document::Chart& chart, const document::Id& id);
/// Places typed in mm for two points or more of the only photo of an empty chart are a measurement: they give it its
/// scale. Any other chart as it is.
[[nodiscard]] Result<document::Chart> scaled_by_typed_points(const document::Chart& chart, const document::Id& id);
/// True where the places of the photo's points are to be typed in mm, though the chart has no scale yet.
[[nodiscard]] bool typed_places_scale(const document::Chart& chart, const document::Photo& photo);

/// The photo with these points. None: it stays where it is. One: it is moved onto the point, where it had a place; but
/// where two or more had placed it and fewer are left, it is no longer placed. Two and three place it as seen straight
/// from above, four and more with perspective. Errors: no photo bears the id, it is locked; as analysis::place_photo.
[[nodiscard]] Result<document::Chart> with_points(const document::Chart& chart, const document::Id& id,
                                                  std::vector<document::PhotoPoint> points);

/// The photo said to be a mirror image or none, and placed anew by its points.
/// Errors: as with_points.
[[nodiscard]] Result<document::Chart> with_mirror(const document::Chart& chart, const document::Id& id,
                                                  bool is_mirrored);

/// The parts whose record shows a piece of the photo.
[[nodiscard]] std::vector<document::Id> parts_shown_on(const document::Chart& chart, const document::Id& photo);

/// The photo with another picture in its file: points, place and the pieces that stand as evidence were of the old one
/// and fall away. Errors: it is locked.
[[nodiscard]] Result<document::Chart> with_other_picture(const document::Chart& chart, document::Photo photo);

/// Two points and four always fit; with one more a wrong one shows.
[[nodiscard]] bool has_spare_point(const document::Photo& photo);

/// How far each point of the photo lies from where its pixel is now, mm; empty where it is not placed.
[[nodiscard]] std::vector<double> point_errors(const document::Photo& photo);

struct PhotoPlace {
    std::string words;               ///< "placed by 4 points, 0.03 mm", "not placed yet"
    std::optional<double> worst_mm;  ///< nothing where no spare point tells
    std::optional<double> px_per_mm; ///< of the picture, in the middle of its points
    std::optional<double> tilt_deg;
    Diagnostics findings;     ///< of the points: a wrong one, a steep view, a mirror
    bool is_doubtful = false; ///< nothing may be read off the photo: analysis::placement_doubts
};
/// `in_mm`: the chart has a scale.
[[nodiscard]] PhotoPlace place_of(const document::Photo& photo, bool in_mm = true);

/// How far from straight above it was taken, "about 3° off straight above"; with a condition where no spare point
/// checks it. Empty where nobody can tell: too few points, or points that do not fit.
[[nodiscard]] std::string tilt_words(const document::Photo& photo, const PhotoPlace& place);

/// One field of a photo changed. Errors: no photo bears the id.
template <class Change>
[[nodiscard]] Result<document::Chart> with_photo(const document::Chart& chart, const document::Id& id, Change change);

/// "top.jpg"
[[nodiscard]] std::string photo_name(const document::Photo& photo);

/// The same files, named from another folder: for a chart that is saved elsewhere. Both absolute.
[[nodiscard]] document::Chart with_photos_seen_from(const document::Chart& chart, const std::string& old_folder,
                                                    const std::string& new_folder);

} // namespace padchart::app

#include "document/edits.hpp"

template <class Change>
padchart::Result<padchart::document::Chart> padchart::app::with_photo(const document::Chart& chart,
                                                                      const document::Id& id, Change change) {
    for (const document::Photo& photo : chart.photos) {
        if (photo.id != id) continue;
        document::Photo changed = photo;
        change(changed);
        return document::put(chart, std::move(changed));
    }
    return Error{"no photo of the chart bears this id", id.text};
}
