#pragma once
// From what a shape means to how it looks. Both painters ask here, nobody else knows a colour. Sizes in px of 1/96 in
// on the medium, at user-interface scale 1. No meaning rests on colour alone: dash, hatch, sign or letter says it too.

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>

#include "scene/scene.hpp"

namespace padchart::paint {

struct Colour {
    std::uint8_t r = 0, g = 0, b = 0, a = 255;

    bool operator==(const Colour&) const = default;
};

/// 0xRRGGBB.
[[nodiscard]] constexpr Colour rgb(std::uint32_t hex, std::uint8_t alpha = 255) {
    return {static_cast<std::uint8_t>(hex >> 16 & 0xFF), static_cast<std::uint8_t>(hex >> 8 & 0xFF),
            static_cast<std::uint8_t>(hex & 0xFF), alpha};
}

/// What is seen where `top` lies on the opaque `under`.
[[nodiscard]] Colour over(Colour top, Colour under);
/// Contrast ratio of two opaque colours, 1 to 21 (WCAG 2.1, "contrast ratio" and "relative luminance").
[[nodiscard]] double contrast_ratio(Colour a, Colour b);

enum class FontWeight : std::uint8_t { Regular, SemiBold, Bold };

struct Dash {
    double on_px = 0.0; ///< 0: an unbroken line
    double off_px = 0.0;
};

enum class HatchKind : std::uint8_t {
    None,
    Lines,      ///< rising to the right at 45 degrees
    CrossLines, ///< both ways
    Dots        ///< rows of dots, every second row shifted by half a step
};

struct Hatch {
    HatchKind kind = HatchKind::None;
    double step_px = 8.0;  ///< between lines, or rows of dots
    double width_px = 1.2; ///< of a line; of a dot its diameter
    Colour colour{};
};

struct Style {
    std::optional<Colour> fill{};
    std::optional<Colour> stroke{};
    double width_factor = 1.0; ///< on top of the line's Weight
    Dash dash{};
    Hatch hatch{};                           ///< over the fill
    Colour text{};                           ///< of a Text item, and of the sign in a Symbol
    FontWeight weight = FontWeight::Regular; ///< Text::strong raises it to at least SemiBold
};

/// The few colours that windows and pages need beside the scene's own.
struct Palette {
    Colour paper, panel, ink, muted, rule, rail, rail_text;
    Colour danger, danger_text, danger_panel; ///< sign, words, plate behind words
    Colour depends, depends_text;
    Colour unknown, unknown_text, unknown_panel;
    Colour fine, fine_text;
    Colour selection, selection_text;
    Colour copper, copper_edge, body, sensitive, far;
};

struct Theme {
    std::string_view name; ///< "paper", "dark-room", "grey-print"
    Palette palette;
    std::array<double, 4> weight_px{0.7, 1.0, 1.4, 2.4}; ///< by scene::Weight
    std::array<Style, scene::kRoleCount> styles;

    [[nodiscard]] const Style& style(scene::Role role) const { return styles[static_cast<std::size_t>(role)]; }
    [[nodiscard]] double width_px(scene::Role role, scene::Weight weight) const {
        return weight_px[static_cast<std::size_t>(weight)] * style(role).width_factor;
    }
};

[[nodiscard]] const Theme& paper_theme();      ///< light, the usual one
[[nodiscard]] const Theme& dark_room_theme();  ///< beside a microscope with the lights out
[[nodiscard]] const Theme& grey_print_theme(); ///< white paper, black toner
/// By its name; nothing when there is none of it.
[[nodiscard]] const Theme* find_theme(std::string_view name);

} // namespace padchart::paint
