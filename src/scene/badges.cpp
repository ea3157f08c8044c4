#include "scene/badges.hpp"

#include <algorithm>

#include "scene/words.hpp"

namespace padchart::scene {
namespace {

using geometry::Vec2;

constexpr double kRadius_px = 9.0;
constexpr double kSmallRadius_px = 7.0;
constexpr double kNeeds_px = 36.0; // of a body, both ways

Badge badge_at(Role role, Sign sign, Vec2 at, const PartView& view, const Canvas& canvas) {
    const bool covers = std::min(view.body_box.width(), view.body_box.height()) < canvas.mm(kNeeds_px);
    const double radius_px = covers ? kSmallRadius_px : kRadius_px;
    if (covers) {
        const Vec2 centre = view.body_box.centre();
        const double out = canvas.mm(radius_px * 0.8);
        at += Vec2{at.x > centre.x ? out : -out, at.y > centre.y ? out : -out};
    }
    return {role, Symbol{at, sign, radius_px}};
}

} // namespace

std::vector<Badge> badges_of(const PartView& view, const Canvas& canvas) {
    const Stage stage = canvas.options.stage;
    const bool orients = stage == Stage::Orient;
    const bool inspects = !orients && stage != Stage::Heat && stage != Stage::Access;
    std::vector<Badge> badges;
    if (view.outline.empty()) return badges;
    const geometry::Box& body = view.body_box;
    const Vec2 corner{body.max.x, body.min.y};
    if (view.is_unknown())
        badges.push_back(badge_at(Role::BadgeUnknown, Sign::Query, corner, view, canvas));
    else if (orients && view.needs_record)
        badges.push_back(badge_at(Role::BadgeDone, Sign::Tick, corner, view, canvas));
    if (inspects && has_fault(*view.part))
        badges.push_back(badge_at(Role::BadgeWarning, Sign::Exclamation, body.min, view, canvas));
    return badges;
}

} // namespace padchart::scene
