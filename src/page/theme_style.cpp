#include "page/theme_style.hpp"

#include <fmt/format.h>

#include "page/markup.hpp"
#include "paint/theme.hpp"

namespace padchart::page {

using paint::Colour;
using paint::HatchKind;
using paint::Palette;
using paint::Style;
using paint::Theme;

namespace {

std::string css(Colour c) {
    if (c.a == 255) return fmt::format("#{:02x}{:02x}{:02x}", c.r, c.g, c.b);
    return fmt::format("rgba({},{},{},{})", c.r, c.g, c.b, short_number(c.a / 255.0));
}

std::string variables(const Palette& p) {
    const std::pair<const char*, Colour> list[] = {{"paper", p.paper},
                                                   {"panel", p.panel},
                                                   {"ink", p.ink},
                                                   {"muted", p.muted},
                                                   {"rule", p.rule},
                                                   {"rail", p.rail},
                                                   {"rail-text", p.rail_text},
                                                   {"danger", p.danger},
                                                   {"danger-text", p.danger_text},
                                                   {"danger-panel", p.danger_panel},
                                                   {"unknown", p.unknown},
                                                   {"unknown-text", p.unknown_text},
                                                   {"unknown-panel", p.unknown_panel},
                                                   {"fine-text", p.fine_text},
                                                   {"selection", p.selection},
                                                   {"selection-text", p.selection_text}};
    std::string out = ":root{";
    for (const auto& [name, colour] : list)
        out += fmt::format("--{}:{};", name, css(colour));
    return out + "}\n";
}

int weight_of(const Style& style) {
    return style.weight == paint::FontWeight::Bold ? 700 : style.weight == paint::FontWeight::SemiBold ? 600 : 400;
}

std::string hatch_rules(const std::string& role, const Style& style) {
    std::string out = fmt::format(".fill-{0}{{fill:url(#hatch-{0})}}.px .fill-{0}{{fill:url(#hatch-px-{0})}}"
                                  ".ground-{0}{{fill:{1}}}",
                                  role, style.fill ? css(*style.fill) : "none");
    if (style.hatch.kind == HatchKind::Dots)
        return out + fmt::format(".dots-{}{{fill:{}}}\n", role, css(style.hatch.colour));
    return out + fmt::format(".hatching-{}{{stroke:{};stroke-width:{}}}\n", role, css(style.hatch.colour),
                             short_number(style.hatch.width_px));
}

std::string rules_of(const std::string& role, const Style& style) {
    std::string out;
    const std::string fill = style.fill ? css(*style.fill) : "none";
    const std::string stroke = style.stroke ? css(*style.stroke) : "none";
    if (style.hatch.kind != HatchKind::None)
        out += hatch_rules(role, style);
    else
        out += fmt::format(".fill-{}{{fill:{}}}", role, fill);
    if (style.stroke) {
        out += fmt::format(".line-{}{{stroke:{};--f:{}", role, stroke, short_number(style.width_factor));
        if (style.dash.on_px > 0.0)
            out +=
                fmt::format(";stroke-dasharray:{} {}", short_number(style.dash.on_px), short_number(style.dash.off_px));
        out += '}';
    }
    if (style.text != Colour{})
        out += fmt::format(".text-{}{{fill:{};font-weight:{}}}", role, css(style.text), weight_of(style));
    if (style.fill || style.stroke)
        out += fmt::format(".sign-{}{{fill:{};stroke:{};color:{}}}", role, fill, stroke, css(style.text));
    return out + '\n';
}

std::string rules_of(const Theme& theme) {
    std::string out = variables(theme.palette);
    for (std::size_t i = 0; i < scene::kRoleCount; ++i) {
        const auto role = static_cast<scene::Role>(i);
        out += rules_of(std::string(scene::to_text(role)), theme.style(role));
    }
    return out;
}

} // namespace

std::string theme_style() {
    std::string out;
    const auto& weights = paint::paper_theme().weight_px;
    for (std::size_t i = 0; i < weights.size(); ++i)
        out += fmt::format(".w{}{{--w:{}}}", i, short_number(weights[i]));
    out += '\n' + rules_of(paint::paper_theme());
    out += "@media screen and (prefers-color-scheme:dark){\n" + rules_of(paint::dark_room_theme()) + "}\n";
    return out + "@media print{\n" + rules_of(paint::grey_print_theme()) + "}\n";
}

} // namespace padchart::page
