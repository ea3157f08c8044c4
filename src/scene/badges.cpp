#include "scene/badges.hpp"

#include <algorithm>
#include <optional>

#include "scene/words.hpp"

namespace padchart::scene {
namespace {

using geometry::Vec2;

constexpr double kRadius_px = 9.0;
constexpr double kSmallRadius_px = 7.0;
constexpr double kNeeds_px = 36.0; // of a body, both ways

/// Clear of the handle beside this corner of a part that is selected: along the edge, or past the handle of a small
/// one.
Vec2 clear_of_handle(Vec2 at, bool covers, double radius_px, const PartView& view, const Canvas& canvas) {
    const double side = at.x > view.body_box.centre().x ? 1.0 : -1.0;
    if (!covers) return at - Vec2{side * canvas.mm(radius_px + 2), 0};
    const double edge = side > 0 ? view.box.max.x : view.box.min.x;
    return {edge + side * canvas.mm(kFrame_px + kHandle_px + 2 + radius_px), at.y};
}

Badge badge_at(Role role, Sign sign, Vec2 at, const PartView& view, const Canvas& canvas) {
    const bool covers = std::min(view.body_box.width(), view.body_box.height()) < canvas.mm(kNeeds_px);
    const double radius_px = covers ? kSmallRadius_px : kRadius_px;
    if (covers) {
        const Vec2 centre = view.body_box.centre();
        const double out = canvas.mm(radius_px * 0.8);
        at += Vec2{at.x > centre.x ? out : -out, at.y > centre.y ? out : -out};
    }
    if (canvas.has_handles(view.part->id)) at = clear_of_handle(at, covers, radius_px, view, canvas);
    return {role, Symbol{at, sign, radius_px}};
}

/// Beside the first pad at fault, away from the body; nothing where it lies within the body, among other pads.
std::optional<Vec2> beside_faulty_pad(const PartView& view, const Canvas& canvas) {
    const auto& pads = view.part->pads;
    const auto pad = std::find_if(pads.begin(), pads.end(), [](const document::Pad& p) { return has_fault(p); });
    if (pad == pads.end()) return std::nullopt;
    const geometry::Box box =
        geometry::bounds(geometry::transformed(document::outline_in_part(*pad), view.scene_from_part));
    const geometry::Box& body = view.body_box;
    const double away = canvas.mm(kSmallRadius_px + 3);
    const Vec2 centre = box.centre();
    if (box.min.x < body.min.x) return Vec2{box.min.x - away, centre.y};
    if (box.max.x > body.max.x) return Vec2{box.max.x + away, centre.y};
    if (box.min.y < body.min.y) return Vec2{centre.x, box.min.y - away};
    if (box.max.y > body.max.y) return Vec2{centre.x, box.max.y + away};
    return std::nullopt;
}

Badge fault_badge(const PartView& view, const Canvas& canvas) {
    if (!has_fault(view.part->condition))
        if (const std::optional<Vec2> at = beside_faulty_pad(view, canvas))
            return {Role::BadgeWarning, Symbol{*at, Sign::Exclamation, kSmallRadius_px}};
    return badge_at(Role::BadgeWarning, Sign::Exclamation, view.body_box.min, view, canvas);
}

} // namespace

bool tells_faults(Stage stage) {
    return stage != Stage::Orient && stage != Stage::Heat && stage != Stage::Access;
}

std::vector<Badge> badges_of(const PartView& view, const Canvas& canvas) {
    const Stage stage = canvas.options.stage;
    const bool orients = stage == Stage::Orient;
    std::vector<Badge> badges;
    if (view.outline.empty()) return badges;
    const geometry::Box& body = view.body_box;
    const Vec2 corner{body.max.x, body.min.y};
    if (view.is_unknown())
        badges.push_back(badge_at(Role::BadgeUnknown, Sign::Query, corner, view, canvas));
    else if (orients && view.needs_record)
        badges.push_back(badge_at(Role::BadgeDone, Sign::Tick, corner, view, canvas));
    if (tells_faults(stage) && has_fault(*view.part)) badges.push_back(fault_badge(view, canvas));
    return badges;
}

void step_aside(Badge& badge, const Occupied& signs, const Canvas& canvas) {
    constexpr Vec2 kWays[] = {{-1, 0}, {1, 0}, {0, -1}, {0, 1}, {-1, -1}, {1, -1}, {-1, 1}, {1, 1}};
    constexpr int kSteps = 5; // half a radius each
    if (!signs.overlaps(badge.box(canvas))) return;
    for (int step = 1; step <= kSteps; ++step)
        for (const Vec2 way : kWays) {
            Badge aside = badge;
            aside.symbol.at += way * canvas.mm(badge.symbol.radius_px * 0.5 * step);
            if (signs.overlaps(aside.box(canvas))) continue;
            badge = aside;
            return;
        }
}

} // namespace padchart::scene
