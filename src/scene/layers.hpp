#pragma once
// What of a chart's picture is wanted: whole kinds of things, and single parts put out of sight. Works on the finished
// scene, so that what is hidden can neither be seen nor clicked, and the legend speaks of the rest alone. View only:
// the chart knows nothing of it.

#include <bitset>
#include <span>
#include <string_view>
#include <vector>

#include "document/chart.hpp"
#include "scene/scene.hpp"

namespace padchart::scene {

enum class Layer : std::uint8_t { Pads, Bodies, Names, Marks, Zones, KeepOuts, Notes, Readings, FarSide, Photos };
inline constexpr std::size_t kLayerCount = static_cast<std::size_t>(Layer::Photos) + 1;
using Layers = std::bitset<kLayerCount>;

[[nodiscard]] constexpr std::size_t index(Layer layer) {
    return static_cast<std::size_t>(layer);
}
/// "Lands", "Marks and signs": as a panel lists it.
[[nodiscard]] std::string_view label_of(Layer layer);

/// Takes the items of `hidden` layers out, and whatever stands for one of `hidden_things` (parts and their labels).
/// Selection frames stay. Requires: `scene` was made of `chart`.
void hide(Scene& scene, const document::Chart& chart, const Layers& hidden,
          std::span<const document::Id> hidden_things);

} // namespace padchart::scene
