#pragma once
// Several pictures of one side of the board (stages, and how near one looks) as one SVG: what they have in common is
// drawn once, the rest carries the classes of the pictures it belongs to, and the page shows one picture at a time.

#include <cstddef>
#include <span>
#include <string>

#include "scene/scene.hpp"

namespace padchart::page {

/// One of the pictures. Requires: the scene outlives the writing; px_per_mm above 0.
struct Variant {
    std::size_t stage = 0;
    std::size_t level = 0;
    const scene::Scene* scene = nullptr;
    double px_per_mm = 60.0; ///< the scale at which its letters have the height they ask for
};

/// The elements between <svg> and </svg>, in mm, in painting order. An element that is not in all pictures is in a
/// group of class "st" with a class s0, s1, ... for each stage it is seen in, or "lv" with l0, l1, ... for each level.
/// What stands for a thing of the chart is in a group with its id as data-id.
[[nodiscard]] std::string svg_layers(std::span<const Variant> variants);

/// A single scene in px of the screen, px_per_mm of them a mm: for a small picture that is never zoomed, inside an
/// element of class "px".
[[nodiscard]] std::string svg_in_px(scene::Scene scene, double px_per_mm);

/// Signs and hatches that the elements refer to: once a page. `mm_per_px`: until the page's script has its say.
[[nodiscard]] std::string svg_definitions(double mm_per_px);

} // namespace padchart::page
