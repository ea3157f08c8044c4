#pragma once
// Whether a photograph lies where its points say, near enough to read off it which part is where.

#include "analysis/registration.hpp"

namespace padchart::analysis {

/// How far a point may lie from where the picture is put before the picture is not to be trusted: 2 % of the points'
/// span, as a hand clicks, never less than 0.2 mm and never more than 0.5 mm, which is the pitch of fine leads: from
/// there on a spot of the picture shows the neighbour's land. Common practice, no source. Without millimetres 2 %.
[[nodiscard]] double allowed_off(std::span<const PointMatch> points, bool in_mm);

/// What speaks against reading anything off a photo that is placed: "photo-mirrored" where it lies the other way round
/// than it is said to be; of one placed by points its warnings from place_photo too, and "photo-off" of the place it
/// has. Empty where it is not placed.
[[nodiscard]] Diagnostics placement_doubts(const document::Photo& photo, bool in_mm);

/// The picture shows another place of the board than the chart says, or its mirror image.
[[nodiscard]] bool speaks_against_place(const Diagnostic& finding);

/// It is placed and nothing speaks against its place: which part is where may be read off it.
[[nodiscard]] bool is_readable(const document::Photo& photo, bool in_mm);

/// The photo that the record of this part rests on, where something speaks against its place: which part it shows is
/// not sure. Null where there is none such.
[[nodiscard]] const document::Photo* doubtful_evidence(const document::Chart& chart, const document::Footprint& part);

/// Adds "photo-off" where the points lie farther off than that; where three do, also "photo-mirrored" or
/// "photo-exchanged" if that explains it.
void judge_fit(PhotoPlacement& placement, std::span<const PointMatch> points, const PhotoView& view);

} // namespace padchart::analysis
