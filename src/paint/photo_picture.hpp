#pragma once
// A chart over a photograph: how it has to look so that the photograph stays seen, and the two as one picture file.

#include <string>

#include "base/result.hpp"
#include "paint/photo_pixels.hpp"
#include "paint/theme.hpp"

namespace padchart::paint {

/// The theme without a board of its own and with parts that cover only as much as `alpha` says: 0 outlines, 255 solid.
[[nodiscard]] Theme over_photo(const Theme& theme, std::uint8_t alpha);

/// `scene`: in pixels of the photo given. `px`: of the theme, in pixels of the photo. Errors: no font, the file cannot
/// be written, more than 16,000 px either way.
[[nodiscard]] Result<void> write_over_photo(const Pixels& photo, const scene::Scene& scene, double px,
                                            const Theme& theme, const std::string& path);

} // namespace padchart::paint
