#pragma once
// The items of several scenes in one order that keeps the painting order of each. Private to svg_scene.

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "page/svg_scene.hpp"

namespace padchart::page {

struct LayeredItem {
    std::size_t variant = 0; ///< whose scene holds it
    std::uint32_t item = 0;  ///< position in Scene::items
    std::uint64_t seen = 0;  ///< bit i: it is in picture i
};

/// Requires: at most 64 variants.
[[nodiscard]] std::vector<LayeredItem> layered(std::span<const Variant> variants);

} // namespace padchart::page
