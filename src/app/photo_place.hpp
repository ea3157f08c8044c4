#pragma once
// Where the photos of the chart in hand lie, as they are painted. A photo that is not placed gets a first place, which
// is settled once: what is drawn under the hand must not move it.

#include <map>
#include <optional>

#include "app/photo_store.hpp"
#include "geometry/box.hpp"
#include "geometry/homography.hpp"
#include "scene/scene.hpp"

namespace padchart::app {

struct Session;

/// First places of photos that the chart gives none to: a file from elsewhere. The desk of the session.
struct FirstPlaces {
    struct Place {
        geometry::Homography board_from_pixel;
        bool mirrored = false; ///< as which the photo lies there
    };
    std::map<document::Id, Place> of;
    bool showed_all = false; ///< a chart of which only a photo is to be seen has been fitted into the window
};

/// Where a photo without a place lies at first: upright, across this box, or 30 mm wide where it is empty. Mirrored
/// where the bottom is shown.
[[nodiscard]] geometry::Homography first_place(const document::Photo& photo, const LoadedPhoto& loaded,
                                               const geometry::Box& drawn);

/// The first place of a photo that is about to be added: across what is drawn, else across the photos on show.
[[nodiscard]] geometry::Homography first_place_now(const Session& session, const document::Photo& photo,
                                                   const LoadedPhoto& loaded);

/// Call once a frame, before the photos are painted.
void settle_places(Session& session);
/// Its place, its guess, or its settled first place; moved onto its one point where it has one.
[[nodiscard]] geometry::Homography board_from_pixel(const Session& session, const document::Photo& photo,
                                                    const LoadedPhoto& loaded);
/// The chart with the photo said to be a mirror image or none: placed anew by its points; where it has none and nothing
/// is drawn, it turns over where it lies. A locked one stays.
[[nodiscard]] Result<document::Chart> with_photo_mirrored(const Session& session, const document::Photo& photo,
                                                          bool is_mirrored);
/// The way back, of a photo that is placed; nothing for another.
[[nodiscard]] std::optional<geometry::Homography> pixel_from_board(const document::Photo& photo);

/// All photos on show that have been read, board frame.
[[nodiscard]] geometry::Box bounds_of_photos(const Session& session);

/// "donor.png does not lie where its points say: nothing may be read off it"; nothing where nothing speaks against its
/// place, and of a photo that is not placed.
[[nodiscard]] std::string doubt_words(const Session& session, const document::Photo& photo);

/// On the board beside every photo on show: that it is of a donor board, that it is not placed, that its place is not
/// to be believed.
void add_photo_words(const Session& session, scene::Scene& overlay);

} // namespace padchart::app
