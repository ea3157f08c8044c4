#pragma once
// Transform lists: of the `transform` attribute (SVG 1.1 section 7.6, plain numbers, angles clockwise in degrees) and
// of the CSS property (CSS Transforms 1, with units). Both are all or nothing: a list with an error counts as none.

#include <optional>
#include <string_view>

#include "geometry/affine.hpp"
#include "svg/lengths.hpp"

namespace padchart::svg {

[[nodiscard]] std::optional<geometry::Affine> transform_attribute_of(std::string_view text);

/// Percentages are of the reference box, given by the viewport in `context`. "none" is the identity.
[[nodiscard]] std::optional<geometry::Affine> css_transform_of(std::string_view text, const LengthContext& context);

/// The properties `translate`, `rotate` and `scale` of CSS Transforms 2, each as a map.
[[nodiscard]] std::optional<geometry::Affine> css_translate_of(std::string_view text, const LengthContext& context);
[[nodiscard]] std::optional<geometry::Affine> css_rotate_of(std::string_view text);
[[nodiscard]] std::optional<geometry::Affine> css_scale_of(std::string_view text);

/// `transform-origin` within a box of the given place and size.
[[nodiscard]] std::optional<geometry::Vec2> transform_origin_of(std::string_view text, const LengthContext& context,
                                                                geometry::Vec2 box_min, geometry::Vec2 box_size,
                                                                Unitless unitless);

/// Whether the map has no inverse, but for rounding: then what it places is not displayed, with all in it (CSS
/// Transforms 1, on transform function lists).
[[nodiscard]] bool collapses(const geometry::Affine& map);

} // namespace padchart::svg
