#pragma once
// Scenes on paper and in picture files: PDF with searchable text and bookmarks, SVG in mm, PNG. The same input gives
// the same bytes on every run: dates come from the document, never from the clock.
//
//     Result<void> done = paint::write_pdf(sheet, paint::grey_print_theme(), "sheet.pdf");

#include <cstddef>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>

#include "base/result.hpp"
#include "paint/theme.hpp"
#include "scene/page.hpp"

typedef struct _cairo cairo_t; // NOLINT: cairo's own name, so that this header needs none of its headers

namespace padchart::paint {

/// From a scene to a medium: medium = offset + scale * scene. The unit of the medium is the caller's (mm, px, points).
struct Camera {
    double scale = 1.0; ///< medium units per scene mm
    geometry::Vec2 offset{};
    double px = 1.0;                     ///< medium units per px of the theme
    std::optional<geometry::Box> clip{}; ///< medium units
};

/// Draws on what is there already, without a ground of its own. The context's state is as before afterwards.
/// Errors: no font.
[[nodiscard]] Result<void> draw(cairo_t* context, const scene::Scene& scene, const Camera& camera, const Theme& theme);

/// Width of a text as it will be drawn, in multiples of the font's height. Errors: no font.
[[nodiscard]] Result<double> drawn_width_em(const std::string& text, FontWeight weight);

// Errors of all that write: no font, no page, the file cannot be written, a stop was asked for (between pages, or last
// before the new file takes the old one's place).

/// Told before each page which one it is, from 1.
using PageSay = std::function<void(std::size_t page)>;
[[nodiscard]] Result<void> write_pdf(const scene::Document& document, const Theme& theme, const std::string& path,
                                     const std::stop_token& stop = {}, const PageSay& say = {});
[[nodiscard]] Result<void> write_svg(const scene::Page& page, const Theme& theme, const std::string& path,
                                     const std::stop_token& stop = {});
/// Requires: dpi above 0. Errors too: more than 16,000 px either way.
[[nodiscard]] Result<void> write_png(const scene::Page& page, const Theme& theme, double dpi, const std::string& path,
                                     const std::stop_token& stop = {});

/// A picture of one scene on the theme's paper, as the window would show it.
/// Requires: width and height above 0.
[[nodiscard]] Result<void> write_picture(const scene::Scene& scene, const Camera& camera, int width_px, int height_px,
                                         const Theme& theme, const std::string& path);
/// The camera that shows `box` as large as it fits into the picture, with a margin. Requires: box not empty.
[[nodiscard]] Camera fit_camera(const geometry::Box& box, int width_px, int height_px, double margin_px);

} // namespace padchart::paint
