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

/// The photo with these points. None: it stays where it is. One: it is moved onto the point, where it had a place. Two
/// and three place it as seen straight from above, four and more with perspective.
/// Errors: no photo bears the id, it is locked; as analysis::place_photo.
[[nodiscard]] Result<document::Chart> with_points(const document::Chart& chart, const document::Id& id,
                                                  std::vector<document::PhotoPoint> points);

/// How far each point of the photo lies from where its pixel is now, mm; empty where it is not placed.
[[nodiscard]] std::vector<double> point_errors(const document::Photo& photo);

struct PhotoPlace {
    std::string words; ///< "placed by 4 points, 0.03 mm", "not placed yet"
    std::optional<double> worst_mm;
    std::optional<double> px_per_mm; ///< of the picture, in the middle of its points
    std::optional<double> tilt_deg;
    Diagnostics findings; ///< of the points: a wrong one, a steep view, a mirror
};
[[nodiscard]] PhotoPlace place_of(const document::Photo& photo);

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
