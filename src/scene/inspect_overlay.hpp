#pragma once
// Before and after on the board: what the comparison tells drawn over the second chart's picture, the first chart laid
// where the second lies, and both over each other. Every change has a shape and words beside its colour: a cross over
// what is missing, a frame round what is new, an arrow for what moved, a bow for what turned. Scene mm.

#include <optional>

#include "analysis/compare.hpp"
#include "scene/chart_scene.hpp"

namespace padchart::scene {

/// The report must be of these two charts, or of the second as it was a moment ago. All must live while it is used.
struct BeforeAfter {
    const document::Chart& before;
    const document::Chart& after;
    const analysis::CompareReport& report;
};

/// From the first chart's scene to the second's for the side that is looked at; what was not laid on each other stays.
[[nodiscard]] geometry::Affine after_scene_from_before_scene(const BeforeAfter& pair, document::Side seen_from);
/// The side of the first chart that shows what `seen_from` shows of the second.
[[nodiscard]] document::Side side_before(const BeforeAfter& pair, document::Side seen_from);

/// Adds changes and what a person said of each part (the ticks of the second chart) to the second chart's picture.
/// Harmless ones are drawn where the part moved or turned only; what lies on the far side is not drawn. Words that find
/// no room within `words_within` are broken, else stand as the number of their row in the list of changes.
void add_changes(Scene& scene, const BeforeAfter& pair, const ViewOptions& options,
                 const std::optional<geometry::Box>& words_within = std::nullopt);
/// The number of that row: all changes in the order of the report, then what may still lie on the board.
[[nodiscard]] std::size_t number_of_change(std::size_t at);
[[nodiscard]] std::size_t number_of_left(const analysis::CompareReport& report, std::size_t at);

/// The first chart as it was, to be shown in turns with the second.
[[nodiscard]] Scene before_scene(const BeforeAfter& pair, const ViewOptions& options);

/// Lands and bodies of the side looked at, of both charts: dashed before, solid after.
[[nodiscard]] Scene difference_scene(const BeforeAfter& pair, const ViewOptions& options);

} // namespace padchart::scene
