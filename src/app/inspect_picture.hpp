#pragma once
// What the canvas shows in the inspect stage, from the desk's answer and the chart in hand.

#include <memory>
#include <optional>

#include "app/inspect_desk.hpp"
#include "app/session.hpp"

namespace padchart::app {

/// What the desk has to show, to be kept.
struct InspectLook {
    std::shared_ptr<const Inspection> answer; ///< null: nothing beside the chart itself
    InspectView view = InspectView::Changes;
    bool shows_before = false;
    std::optional<geometry::Box> words_within; ///< scene mm: what the whole view shows at least
};
[[nodiscard]] InspectLook inspect_look(const Session& session);

/// Adds what the comparison tells to the chart's own picture, or gives another picture to be shown instead of it.
[[nodiscard]] std::optional<scene::Scene> inspect_picture(const InspectLook& look, const document::Chart& chart,
                                                          const scene::ViewOptions& options, scene::Scene& own);

/// Part of the canvas' key: another number whenever inspect_picture would give another answer for the same chart.
[[nodiscard]] std::uint64_t inspect_revision(const Session& session);

} // namespace padchart::app
