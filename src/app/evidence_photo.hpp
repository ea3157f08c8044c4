#pragma once
// The photo on which a mark is seen: which one, and which piece of it. Kept with the evidence of the record as left,
// top, width and height in the photo's own pixels.

#include <optional>
#include <string>
#include <vector>

#include "app/session.hpp"
#include "geometry/box.hpp"

namespace padchart::app {

/// Round the part as it lies on the photo, with as much again on every side, whole pixels. Nothing where the photo is
/// not placed on the board, or the part has no extent.
[[nodiscard]] std::optional<geometry::Box> surroundings_on(const document::Photo& photo,
                                                           const document::Footprint& part);

[[nodiscard]] std::vector<double> crop_of(const geometry::Box& px);
/// Nothing for an empty crop, which means the whole photo.
[[nodiscard]] std::optional<geometry::Box> box_of(const std::vector<double>& crop_px);

/// About its middle; whole pixels, at least 8 of them a side. Requires: factor > 0.
[[nodiscard]] geometry::Box zoomed(const geometry::Box& px, double factor);

/// The draft's evidence is now that photo, cut to the part's surroundings; an empty id takes the photo away.
void choose_evidence_photo(Session& session, const document::Footprint& part, const document::Id& photo);

/// "board-top.jpg", or its place in the list where it has no name.
[[nodiscard]] std::string photo_label(const document::Chart& chart, const document::Id& photo);

/// The same as one chooses it: with "(doubtful)" where nothing may be read off it.
[[nodiscard]] std::string photo_choice_words(const Session& session, const document::Photo& photo);
/// What speaks against taking a mark from this photo; nothing where nothing does.
[[nodiscard]] std::string evidence_doubt(const Session& session, const document::Id& photo);
/// Why a record must not rest on this photo: its file is missing or is another one. Empty: it may.
[[nodiscard]] std::string evidence_refusal(const Session& session, const document::Id& photo);
/// What speaks against the part's record as it is on the chart; nothing where nothing does.
[[nodiscard]] std::string record_doubt(const Session& session, const document::Footprint& part);

} // namespace padchart::app
