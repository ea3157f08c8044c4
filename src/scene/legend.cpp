#include <algorithm>
#include <array>
#include <bitset>

#include "scene/chart_scene.hpp"

namespace padchart::scene {
namespace {

/// In reading order. Where two roles say the same thing together (an edge and its badge), one of them speaks.
struct Words {
    Role role;
    std::string_view text;
};
constexpr std::array kWords{
    Words{Role::Body, "part"},
    Words{Role::SensitiveBody, "heat-sensitive part"},
    Words{Role::PadCopper, "land"},
    Words{Role::Mark, "mark on the part"},
    Words{Role::MissingEdge, "missing"},
    Words{Role::PadFault, "land or joint at fault"},
    Words{Role::FarSideEdge, "on the far side"},
    Words{Role::BadgeUnknown, "could go back wrong, not recorded"},
    Words{Role::UnknownEdge, "could go back wrong, not recorded"},
    Words{Role::BadgeDone, "which way round is recorded"},
    Words{Role::BadgeWarning, "damage, poor joint or seat seen"},
    Words{Role::NoAim, "no-aim zone by distance alone"},
    Words{Role::Depends, "depends on the board"},
    Words{Role::GoodAimEdge, "melts surely, spares all"},
    Words{Role::KeepOut, "keep heat out"},
    Words{Role::Shield, "shield in place"},
    Words{Role::NozzleRing, "nozzle"},
    Words{Role::IsothermLiquidus, "solder melts inside, estimate"},
    Words{Role::Isotherm, "peak temperature in °C, estimate"},
    Words{Role::Stale, "of the last plan, being worked out anew"},
    Words{Role::StaleZone, "of the last plan, being worked out anew"},
    Words{Role::BadgeNote, "note"},
    Words{Role::Measure, "measured here"},
    Words{Role::Marquee, "swept over"},
    Words{Role::CutOut, "hole in the board"},
};

} // namespace

std::vector<LegendEntry> legend_of(const Scene& scene) {
    std::bitset<kRoleCount> present;
    for (const Item& item : scene.items)
        present.set(static_cast<std::size_t>(item.role));
    std::vector<LegendEntry> entries;
    for (const Words& words : kWords) {
        std::string text(words.text);
        for (const RoleWords& own : scene.legend_words)
            if (own.role == words.role) text = own.text;
        const auto same = [&](const LegendEntry& entry) { return entry.text == text; };
        if (present.test(static_cast<std::size_t>(words.role)) && std::none_of(entries.begin(), entries.end(), same))
            entries.push_back({words.role, std::move(text)});
    }
    return entries;
}

bool is_about_heat(Role role) {
    switch (role) {
    case Role::SensitiveBody:
    case Role::FarSideEdge:
    case Role::NoAim:
    case Role::Depends:
    case Role::GoodAimEdge:
    case Role::KeepOut:
    case Role::Shield:
    case Role::NozzleRing:
    case Role::IsothermLiquidus:
    case Role::Isotherm:
    case Role::Stale:
    case Role::StaleZone: return true;
    default: return false;
    }
}

std::optional<Role> edge_of(Role area) {
    switch (area) {
    case Role::Board:
    case Role::CutOut: return Role::BoardEdge;
    case Role::PadCopper: return Role::PadEdge;
    case Role::Body: return Role::BodyEdge;
    case Role::SensitiveBody: return Role::SensitiveEdge;
    case Role::FarSide: return Role::FarSideEdge;
    case Role::NoAim: return Role::NoAimEdge;
    case Role::Depends: return Role::DependsEdge;
    case Role::KeepOut: return Role::KeepOutEdge;
    case Role::Shield: return Role::ShieldEdge;
    case Role::Marquee: return Role::Marquee;
    default: return std::nullopt;
    }
}

} // namespace padchart::scene
