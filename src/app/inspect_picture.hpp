#pragma once
// What the canvas shows in the inspect stage, from the desk's answer and the chart in hand.

#include <optional>

#include "app/session.hpp"

namespace padchart::app {

/// Adds what the comparison tells to the chart's own picture, or gives another picture to be shown instead of it.
[[nodiscard]] std::optional<scene::Scene> inspect_picture(const Session& session, const scene::ViewOptions& options,
                                                          scene::Scene& own);

/// Part of the canvas' key: another number whenever inspect_picture would give another answer for the same chart.
[[nodiscard]] std::uint64_t inspect_revision(const Session& session);

} // namespace padchart::app
