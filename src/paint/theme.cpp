#include "paint/theme.hpp"

#include <cmath>
#include <utility>

namespace padchart::paint {
namespace {

using scene::Role;

double linear_channel(std::uint8_t value) {
    const double c = value / 255.0;
    return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

double luminance(Colour c) {
    return 0.2126 * linear_channel(c.r) + 0.7152 * linear_channel(c.g) + 0.0722 * linear_channel(c.b);
}

std::uint8_t mix(std::uint8_t top, std::uint8_t under, std::uint8_t alpha) {
    return static_cast<std::uint8_t>((top * alpha + under * (255 - alpha) + 127) / 255);
}

Colour faded(Colour c, std::uint8_t alpha) {
    return {c.r, c.g, c.b, alpha};
}

Style area(Colour fill) {
    return {.fill = fill};
}
Style line(Colour stroke, Dash dash = {}, double width_factor = 1.0) {
    return {.stroke = stroke, .width_factor = width_factor, .dash = dash};
}
Style hatched(std::optional<Colour> ground, Hatch hatch) {
    return {.fill = ground, .hatch = hatch};
}
Style words(Colour text, FontWeight weight = FontWeight::Regular) {
    return {.text = text, .weight = weight};
}
Style badge(Colour fill, Colour sign, Colour edge) {
    return {.fill = fill, .stroke = edge, .text = sign, .weight = FontWeight::Bold};
}

/// What the three themes do alike, from their palette.
class Builder {
public:
    Builder(std::string_view name, const Palette& palette) {
        theme_.name = name;
        theme_.palette = palette;
    }

    Theme build() {
        ground();
        parts();
        zones();
        heat();
        hand();
        labels();
        page();
        return theme_;
    }

private:
    void set(Role role, Style style) { theme_.styles[static_cast<std::size_t>(role)] = style; }

    void ground() {
        set(Role::Paper, area(p_.paper));
        set(Role::GridLine, line(faded(p_.rule, 130)));
        set(Role::GridLineMajor, line(p_.rule));
        set(Role::Board, area(p_.panel));
        set(Role::BoardEdge, line(p_.ink));
        set(Role::CutOut, area(p_.paper));
    }

    void parts() {
        set(Role::PadCopper, area(p_.copper));
        set(Role::PadMissing, {});
        set(Role::PadEdge, line(p_.copper_edge));
        set(Role::PadFault, line(p_.ink));
        set(Role::Body, area(p_.body));
        set(Role::BodyEdge, line(p_.ink));
        set(Role::SensitiveBody, area(p_.sensitive));
        set(Role::SensitiveEdge, line(p_.ink));
        set(Role::MissingEdge, line(p_.ink, {4, 3}));
        set(Role::UnknownEdge, line(p_.unknown, {5, 3}, 1.25));
        set(Role::FarSide, {});
        set(Role::FarSideEdge, line(p_.far, {2.5, 2.5}));
        set(Role::Mark, {.fill = p_.ink, .stroke = p_.ink});
    }

    void zones() {
        set(Role::NoAim, hatched(faded(p_.paper, 205), {HatchKind::Lines, 8, 1.4, p_.danger}));
        set(Role::NoAimEdge, line(p_.danger, {}, 1.1));
        set(Role::Depends, hatched(std::nullopt, {HatchKind::Dots, 7, 2.0, p_.depends}));
        set(Role::DependsEdge, line(p_.depends_text, {6, 4}));
        set(Role::GoodAimEdge, line(p_.fine, {8, 3}, 1.2));
        set(Role::KeepOut, hatched(faded(p_.paper, 205), {HatchKind::CrossLines, 7, 1.2, p_.danger}));
        set(Role::KeepOutEdge, line(p_.danger, {}, 1.3));
        set(Role::Shield, hatched(faded(p_.rule, 90), {HatchKind::Lines, 4.5, 0.9, p_.muted}));
        set(Role::ShieldEdge, line(p_.muted, {9, 2.5}, 1.1));
    }

    void heat() {
        set(Role::Isotherm, line(faded(p_.danger_text, 225), {}, 0.8));
        set(Role::IsothermLiquidus, line(p_.danger_text, {}, 1.0));
        set(Role::Stale, line(faded(p_.muted, 215), {3, 3}));
        set(Role::StaleZone, hatched(std::nullopt, {HatchKind::Lines, 8, 0.8, faded(p_.muted, 110)}));
        set(Role::NozzleRing, line(p_.ink, {2, 4}));
        set(Role::AimCross, line(p_.ink));
    }

    void hand() {
        Style selection = line(p_.selection);
        selection.text = p_.selection_text;
        selection.weight = FontWeight::Bold;
        set(Role::Selection, selection);
        set(Role::SelectionHandle, badge(p_.panel, p_.selection, p_.selection));
        set(Role::Hover, line(p_.selection, {}, 0.8));
        set(Role::Marquee, {.fill = faded(p_.selection, 26), .stroke = p_.selection, .dash = {4, 3}});
        set(Role::Preview, {.fill = faded(p_.selection, 30), .stroke = p_.selection, .dash = {3, 2}});
        set(Role::Snap, line(p_.unknown));
        set(Role::Measure, {.fill = p_.ink, .stroke = p_.ink});
        set(Role::Leader, line(p_.muted));
        set(Role::BadgeUnknown, badge(p_.unknown, p_.paper, p_.paper));
        set(Role::BadgeDone, badge(p_.fine, p_.paper, p_.paper));
        set(Role::BadgeWarning, badge(p_.danger_text, p_.paper, p_.paper));
        set(Role::BadgeNote, badge(p_.panel, p_.ink, p_.ink));
    }

    void labels() {
        set(Role::LabelPart, words(p_.ink, FontWeight::SemiBold));
        set(Role::LabelMuted, words(p_.muted));
        set(Role::LabelDanger, words(p_.danger_text, FontWeight::SemiBold));
        set(Role::LabelNote, words(p_.ink));
        set(Role::LabelMeasure, words(p_.ink, FontWeight::SemiBold));
        set(Role::LabelIsotherm, words(p_.danger_text, FontWeight::SemiBold));
    }

    void page() {
        set(Role::PageInk, {.fill = p_.ink, .stroke = p_.ink});
        set(Role::PageRule, line(p_.rule));
        set(Role::PageMuted, words(p_.muted));
        set(Role::PageHeading, words(p_.ink, FontWeight::Bold));
        set(Role::PageText, words(p_.ink));
        set(Role::PageTextStrong, words(p_.ink, FontWeight::SemiBold));
        set(Role::PageCaution,
            {.fill = p_.danger_panel, .stroke = p_.danger, .text = p_.danger_text, .weight = FontWeight::SemiBold});
        set(Role::PageBox, {.fill = p_.panel, .stroke = p_.muted, .width_factor = 0.8});
        set(Role::PageTick, line(p_.ink, {10, 3}));
        set(Role::ScaleBar, {.fill = p_.ink, .stroke = p_.ink, .text = p_.ink, .weight = FontWeight::SemiBold});
    }

    Theme theme_;
    const Palette& p_ = theme_.palette;
};

// A sea chart: warm paper, ink lines. Words in a signal colour are darker than the signal, for contrast.
Palette paper_palette() {
    return {.paper = rgb(0xF7F3EA),
            .panel = rgb(0xFFFDF8),
            .ink = rgb(0x22303C),
            .muted = rgb(0x58646C),
            .rule = rgb(0xDAD3C4),
            .rail = rgb(0x22303C),
            .rail_text = rgb(0xF7F3EA),
            .danger = rgb(0xD55E00),
            .danger_text = rgb(0xA63D14),
            .danger_panel = rgb(0xFBEADF),
            .depends = rgb(0xB07800),
            .depends_text = rgb(0x8A5D00),
            .unknown = rgb(0xAA4499),
            .unknown_text = rgb(0x8F3580),
            .unknown_panel = rgb(0xF5E6F2),
            .fine = rgb(0x007E5B),
            .fine_text = rgb(0x006B4E),
            .selection = rgb(0x0072B2),
            .selection_text = rgb(0x005F96),
            .copper = rgb(0xC58A55),
            .copper_edge = rgb(0x8A5A2E),
            .body = rgb(0xEDE7DA),
            .sensitive = rgb(0xE4DFEA),
            .far = rgb(0x7F878C)};
}

// Little light, and most of it long-waved: an eye that goes back to the microscope stays adapted.
Palette dark_room_palette() {
    return {.paper = rgb(0x161A1D),
            .panel = rgb(0x1E2428),
            .ink = rgb(0xE2D9C8),
            .muted = rgb(0xA2AAAE),
            .rule = rgb(0x363E43),
            .rail = rgb(0x0E1113),
            .rail_text = rgb(0xE2D9C8),
            .danger = rgb(0xF0803A),
            .danger_text = rgb(0xF79A62),
            .danger_panel = rgb(0x3A241A),
            .depends = rgb(0xE0A93C),
            .depends_text = rgb(0xE8BC66),
            .unknown = rgb(0xD27FC4),
            .unknown_text = rgb(0xE09AD4),
            .unknown_panel = rgb(0x37223A),
            .fine = rgb(0x3DB58B),
            .fine_text = rgb(0x63C9A4),
            .selection = rgb(0x56B0E6),
            .selection_text = rgb(0x7CC4EE),
            .copper = rgb(0x7E532E),
            .copper_edge = rgb(0xC58A55),
            .body = rgb(0x33383A),
            .sensitive = rgb(0x3A3546),
            .far = rgb(0x7E878C)};
}

// Toner on white: signals differ by dash, hatch and sign alone.
Palette grey_palette() {
    return {.paper = rgb(0xFFFFFF),
            .panel = rgb(0xFFFFFF),
            .ink = rgb(0x101010),
            .muted = rgb(0x555555),
            .rule = rgb(0xC8C8C8),
            .rail = rgb(0x101010),
            .rail_text = rgb(0xFFFFFF),
            .danger = rgb(0x303030),
            .danger_text = rgb(0x101010),
            .danger_panel = rgb(0xEEEEEE),
            .depends = rgb(0x606060),
            .depends_text = rgb(0x404040),
            .unknown = rgb(0x202020),
            .unknown_text = rgb(0x202020),
            .unknown_panel = rgb(0xEEEEEE),
            .fine = rgb(0x505050),
            .fine_text = rgb(0x303030),
            .selection = rgb(0x101010),
            .selection_text = rgb(0x101010),
            .copper = rgb(0xB4B4B4),
            .copper_edge = rgb(0x585858),
            .body = rgb(0xF2F2F2),
            .sensitive = rgb(0xE2E2E2),
            .far = rgb(0x808080)};
}

} // namespace

Colour over(Colour top, Colour under) {
    return {mix(top.r, under.r, top.a), mix(top.g, under.g, top.a), mix(top.b, under.b, top.a), 255};
}

double contrast_ratio(Colour a, Colour b) {
    const double la = luminance(a);
    const double lb = luminance(b);
    return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

const Theme& paper_theme() {
    static const Theme kTheme = Builder("paper", paper_palette()).build();
    return kTheme;
}

const Theme& dark_room_theme() {
    static const Theme kTheme = Builder("dark-room", dark_room_palette()).build();
    return kTheme;
}

const Theme& grey_print_theme() {
    static const Theme kTheme = Builder("grey-print", grey_palette()).build();
    return kTheme;
}

const Theme* find_theme(std::string_view name) {
    for (const Theme* theme : {&paper_theme(), &dark_room_theme(), &grey_print_theme()})
        if (theme->name == name) return theme;
    return nullptr;
}

} // namespace padchart::paint
