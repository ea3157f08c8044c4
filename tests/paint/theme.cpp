#include "paint/theme.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "paint/font.hpp"

using namespace padchart;
using namespace padchart::paint;
using scene::Role;

namespace {

const std::array kThemes{&paper_theme(), &dark_room_theme(), &grey_print_theme()};

bool says_nothing(const Style& style) {
    return !style.fill && !style.stroke && style.hatch.kind == HatchKind::None && style.text == Colour{};
}

/// What can lie under a line or a label of a map.
std::vector<Colour> grounds(const Theme& theme) {
    const Palette& p = theme.palette;
    return {p.paper, p.panel, p.body, p.sensitive};
}

void check_against(const Theme& theme, Role role, Colour colour, Colour ground, double least) {
    CAPTURE(theme.name);
    CAPTURE(std::string(to_text(role)));
    CHECK(contrast_ratio(over(colour, ground), ground) >= least);
}

} // namespace

TEST_CASE("contrast ratios are those of the web accessibility guidelines") {
    // WCAG 2.1: black on white is 21:1. #777777 on white 4.48:1 and #767676 4.54:1 are the well-known pair
    // either side of 4.5:1 (from memory).
    CHECK(contrast_ratio(rgb(0x000000), rgb(0xFFFFFF)) == doctest::Approx(21.0));
    CHECK(contrast_ratio(rgb(0x777777), rgb(0xFFFFFF)) == doctest::Approx(4.48).epsilon(0.002));
    CHECK(contrast_ratio(rgb(0xFFFFFF), rgb(0x767676)) == doctest::Approx(4.54).epsilon(0.002));
    CHECK(contrast_ratio(rgb(0x123456), rgb(0x123456)) == doctest::Approx(1.0));
}

TEST_CASE("a see-through colour mixes with what lies under it") {
    CHECK(over(rgb(0xFF0000, 255), rgb(0x0000FF)) == rgb(0xFF0000));
    CHECK(over(rgb(0xFF0000, 0), rgb(0x0000FF)) == rgb(0x0000FF));
    CHECK(over(rgb(0xFFFFFF, 51), rgb(0x000000)) == rgb(0x333333)); // 51 of 255 is a fifth
}

TEST_CASE("every theme has a style for every role") {
    for (const Theme* theme : kThemes)
        for (std::size_t i = 0; i < scene::kRoleCount; ++i) {
            const Role role = static_cast<Role>(i);
            if (role == Role::PadMissing || role == Role::FarSide) continue; // told by their edge alone
            CAPTURE(theme->name);
            CAPTURE(std::string(to_text(role)));
            CHECK_FALSE(says_nothing(theme->style(role)));
        }
}

TEST_CASE("words on the map and on the page reach a contrast of 4.5 to 1") {
    for (const Theme* theme : kThemes) {
        for (Role role : {Role::LabelPart, Role::LabelMuted, Role::LabelDanger, Role::LabelNote, Role::LabelMeasure,
                          Role::LabelIsotherm, Role::PageMuted, Role::PageHeading, Role::PageText, Role::PageTextStrong,
                          Role::PageCaution, Role::ScaleBar})
            for (Colour ground : grounds(*theme))
                check_against(*theme, role, theme->style(role).text, ground, 4.5);
        check_against(*theme, Role::LabelPart, theme->style(Role::LabelPart).text, theme->palette.copper, 4.5);
        check_against(*theme, Role::PageCaution, theme->style(Role::PageCaution).text, theme->palette.danger_panel,
                      4.5);
    }
}

TEST_CASE("words of the window reach a contrast of 4.5 to 1") {
    for (const Theme* theme : kThemes) {
        const Palette& p = theme->palette;
        for (Colour words :
             {p.ink, p.muted, p.danger_text, p.depends_text, p.unknown_text, p.fine_text, p.selection_text})
            for (Colour ground : {p.paper, p.panel})
                CHECK(contrast_ratio(words, ground) >= 4.5);
        CHECK(contrast_ratio(p.danger_text, p.danger_panel) >= 4.5);
        CHECK(contrast_ratio(p.unknown_text, p.unknown_panel) >= 4.5);
        CHECK(contrast_ratio(p.ink, p.unknown_panel) >= 4.5);
        CHECK(contrast_ratio(p.rail_text, p.rail) >= 4.5);
    }
}

TEST_CASE("lines with a meaning reach a contrast of 3 to 1") {
    for (const Theme* theme : kThemes) {
        const Palette& p = theme->palette;
        for (Role role :
             {Role::BoardEdge,   Role::PadEdge,     Role::BodyEdge, Role::SensitiveEdge,    Role::MissingEdge,
              Role::UnknownEdge, Role::FarSideEdge, Role::Mark,     Role::NoAimEdge,        Role::DependsEdge,
              Role::KeepOutEdge, Role::ShieldEdge,  Role::Isotherm, Role::IsothermLiquidus, Role::NozzleRing,
              Role::AimCross,    Role::Selection,   Role::Hover,    Role::Marquee,          Role::Measure,
              Role::Leader,      Role::PageCaution, Role::ScaleBar})
            for (Colour ground : {p.paper, p.panel})
                check_against(*theme, role, theme->style(role).stroke.value(), ground, 3.0);
        check_against(*theme, Role::Mark, theme->style(Role::Mark).fill.value(), p.body, 3.0);
        check_against(*theme, Role::NoAim, theme->style(Role::NoAim).hatch.colour, p.paper, 3.0);
        check_against(*theme, Role::KeepOut, theme->style(Role::KeepOut).hatch.colour, p.paper, 3.0);
    }
}

TEST_CASE("no role is left out of what is held to a contrast") {
    // Areas are told by their edge, grid and rules are no more than a help to the eye, the rest is held above.
    const std::set<Role> areas{Role::Paper,   Role::Board,         Role::CutOut,  Role::PadCopper, Role::PadMissing,
                               Role::Body,    Role::SensitiveBody, Role::FarSide, Role::NoAim,     Role::Depends,
                               Role::KeepOut, Role::Shield,        Role::PageBox, Role::StaleZone};
    const std::set<Role> helps{Role::GridLine, Role::GridLineMajor, Role::PageRule, Role::PageTick};
    for (const Theme* theme : kThemes)
        for (std::size_t i = 0; i < scene::kRoleCount; ++i) {
            const Role role = static_cast<Role>(i);
            if (areas.contains(role) || helps.contains(role)) continue;
            const Style& style = theme->style(role);
            for (Colour ground : {theme->palette.paper, theme->palette.panel}) {
                const double stroke = style.stroke ? contrast_ratio(over(*style.stroke, ground), ground) : 0.0;
                const double fill = style.fill ? contrast_ratio(over(*style.fill, ground), ground) : 0.0;
                const double text = style.text == Colour{} ? 0.0 : contrast_ratio(over(style.text, ground), ground);
                CAPTURE(theme->name);
                CAPTURE(std::string(to_text(role)));
                CHECK(std::max({stroke, fill, text}) >= 3.0);
            }
        }
}

TEST_CASE("a sign can be told from its badge and the badge from the paper") {
    for (const Theme* theme : kThemes)
        for (Role role : {Role::BadgeUnknown, Role::BadgeDone, Role::BadgeWarning, Role::BadgeNote}) {
            const Style& style = theme->style(role);
            check_against(*theme, role, style.text, style.fill.value(), role == Role::BadgeUnknown ? 4.5 : 3.0);
            const double fill = contrast_ratio(*style.fill, theme->palette.panel);
            const double edge = contrast_ratio(style.stroke.value(), theme->palette.panel);
            CHECK(std::max(fill, edge) >= 3.0);
        }
}

TEST_CASE("no two edges of the map differ by colour alone") {
    const Theme& theme = grey_print_theme();
    const auto told_by_shape = [&](Role a, Role b) {
        const Style& s = theme.style(a);
        const Style& t = theme.style(b);
        return s.dash.on_px != t.dash.on_px || s.dash.off_px != t.dash.off_px;
    };
    CHECK(told_by_shape(Role::MissingEdge, Role::BodyEdge));
    CHECK(told_by_shape(Role::UnknownEdge, Role::BodyEdge));
    CHECK(told_by_shape(Role::UnknownEdge, Role::MissingEdge));
    CHECK(told_by_shape(Role::FarSideEdge, Role::MissingEdge));
    CHECK(told_by_shape(Role::DependsEdge, Role::NoAimEdge));
    CHECK(theme.style(Role::NoAim).hatch.kind != theme.style(Role::Depends).hatch.kind);
    CHECK(theme.style(Role::NoAim).hatch.kind != theme.style(Role::KeepOut).hatch.kind);
}

TEST_CASE("a theme is found by its name") {
    CHECK(find_theme("dark-room") == &dark_room_theme());
    CHECK(find_theme("grey-print") == &grey_print_theme());
    CHECK(find_theme("neon") == nullptr);
}

TEST_CASE("the three weights of the font are three faces of one family") {
    const Result<FontFile>& regular = find_font(FontWeight::Regular);
    const Result<FontFile>& bold = find_font(FontWeight::Bold);
    REQUIRE(regular.has_value());
    REQUIRE(bold.has_value());
    CHECK(regular->family == bold->family);
    CHECK((regular->path != bold->path || regular->index != bold->index));
    CHECK((regular->family == "Inter" || regular->family == "DejaVu Sans"));
}

TEST_CASE("a character no font has is an error and a usual one is not") {
    CHECK(find_font_with(U'A', FontWeight::Regular).has_value());
    CHECK_FALSE(find_font_with(char32_t{0x10FFFD}, FontWeight::Regular).has_value()); // private use, plane 16
}
