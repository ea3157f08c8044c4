#include "scene/access_overlay.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "scene/badges.hpp"
#include "scene/canvas.hpp"
#include "scene/labels.hpp"

namespace padchart::scene {
namespace {

using analysis::AccessReport;
using analysis::AccessSector;
using analysis::Approach;
using analysis::Passage;
using geometry::Polygon;
using geometry::Ring;
using geometry::Vec2;

// Of the rose, px: clear of the part, width of the ring, of a petal at its longest; room that is drawn as the longest.
constexpr double kClear_px = 12.0, kRing_px = 16.0, kPetal_px = 40.0;
constexpr double kWide_mm = 1.0;
constexpr double kArrow_px = 46.0, kHead_px = 12.0;
constexpr double kTick_px = 9.0;  // where 0 degrees are
constexpr double kTold_mm = 4.99; // farther off nobody is near
constexpr double kStep_deg = 2.0;
constexpr double kForbidden_px = 6.5; // sign of what is not to be touched
constexpr double kPadFrame_px = 4.0;  // of the chosen pad, from its own outline
constexpr double kAvoided_px = 8.0;   // between the boxes that keep names off
// Of the tool that is drawn: what lies farther off passes over everything a board holds.
constexpr double kDrawnTool_mm = 14.0;

/// Rounded down, as everywhere where room is told.
std::string room_words(double mm) {
    if (mm >= kTold_mm) return "> 5 mm";
    const double step = mm < 1.0 ? 0.01 : 0.1;
    return fmt::format("{:g} mm", std::floor(mm / step + 1e-6) * step);
}

/// How far the block's box reaches from its middle along the direction.
double reach_along(const LabelBlock& block, Vec2 direction) {
    return std::abs(direction.x) * block.width_mm() / 2.0 + std::abs(direction.y) * block.height_mm() / 2.0;
}

/// Every point that far out from the middle.
Ring grown(const Ring& ring, double by) {
    const Vec2 middle = geometry::bounds(ring).centre();
    Ring out;
    for (const Vec2 p : ring) {
        const double length = geometry::distance(p, middle);
        out.push_back(length > 0 ? p + (p - middle) * (by / length) : p);
    }
    return out;
}

class Rose {
public:
    Rose(Canvas& canvas, const AccessReport& report, const std::optional<geometry::Box>& words_within)
        : canvas_(canvas), report_(report), centre_(canvas.map(report.at)) {
        if (words_within && words_within->contains(centre_)) within_ = words_within;
        double far = 0.0;
        for (const PartView& view : canvas.views)
            if (view.part->id == report.target)
                for (const Vec2 p : view.outline)
                    far = std::max(far, geometry::distance(p, centre_));
        inner_ = far + canvas.mm(kClear_px);
        outer_ = inner_ + canvas.mm(kRing_px);
        collect_signs();
    }

    void under_parts() {
        if (const Approach* best = report_.best())
            for (const Polygon& polygon : best->slip) {
                Ring ring = geometry::transformed(polygon.outer, canvas_.map);
                canvas_.scene.add(Role::Marquee, Fill{{ring, {}}});
                canvas_.scene.add(Role::Marquee, Line{std::move(ring), true, Weight::Thin});
            }
        if (!is_shut()) add_sectors();
    }

    void over_parts() {
        // Whoever stands over the part would hide the ring that says so.
        if (is_shut()) add_sectors();
        mark_pad();
        mark_neighbours();
        if (const Approach* best = report_.best()) {
            add_tool(*best);
            add_arrow(*best);
        }
        add_room_labels();
        add_zero_tick();
        keep_names_off();
        forbid();
        say();
    }

private:
    /// No bearing is left.
    [[nodiscard]] bool is_shut() const { return report_.best() == nullptr; }

    void add_sectors() {
        if (is_shut()) return add_closed_ring();
        for (const AccessSector& sector : report_.sectors)
            add_sector(sector);
    }

    [[nodiscard]] Vec2 at(double bearing_deg, double radius) const {
        return centre_ + geometry::direction(Angle::degrees(bearing_deg)) * radius;
    }

    /// From one bearing to another at a radius that may depend on it.
    template <class Radius>
    Ring arc(const analysis::Sector& bearings, const Radius& radius) const {
        const int steps = std::max(1, static_cast<int>(std::ceil(bearings.width_deg / kStep_deg)));
        Ring points;
        for (int i = 0; i <= steps; ++i) {
            const double bearing = bearings.from_deg + bearings.width_deg * i / steps;
            points.push_back(at(bearing, radius(bearing)));
        }
        return points;
    }

    /// A petal is longer where there is more room.
    [[nodiscard]] double petal(double bearing_deg) const {
        const auto degree = static_cast<std::size_t>(analysis::wrapped_deg(std::round(bearing_deg)));
        const double share = std::clamp(report_.directions[degree % 360].gap_mm / kWide_mm, 0.0, 1.0);
        return outer_ + canvas_.mm(kPetal_px * share);
    }

    template <class Radius>
    Ring ring_of(const AccessSector& sector, const Radius& outer) const {
        Ring ring = arc(sector.bearings, outer);
        const Ring inside = arc(sector.bearings, [this](double) { return inner_; });
        ring.insert(ring.end(), inside.rbegin(), inside.rend());
        return ring;
    }

    /// Blocked all round.
    void add_closed_ring() {
        const auto circle = [this](double radius) {
            Ring ring = arc({0.0, 360.0}, [radius](double) { return radius; });
            ring.pop_back();
            return ring;
        };
        const Polygon ring{circle(outer_), {circle(inner_)}};
        canvas_.scene.add(Role::NoAim, Fill{ring});
        canvas_.hatched.push_back(ring);
        for (const Ring& line : {ring.outer, ring.holes.front()})
            canvas_.scene.add(Role::NoAimEdge, Line{line, true, Weight::Normal});
    }

    void add_sector(const AccessSector& sector) {
        const auto plain = [this](double) { return outer_; };
        switch (sector.passage) {
        case Passage::Blocked: return add_area(Role::NoAim, Role::NoAimEdge, ring_of(sector, plain), true);
        case Passage::Depends: return add_area(Role::Depends, Role::DependsEdge, ring_of(sector, plain), false);
        case Passage::Free: break;
        }
        if (sector.works)
            add_area(Role::Board, Role::GoodAimEdge, ring_of(sector, [this](double bearing) { return petal(bearing); }),
                     false);
        else // free, but of no use with this tool: a line, no area
            canvas_.scene.add(Role::Stale, Line{arc(sector.bearings, [this](double) { return (inner_ + outer_) / 2; }),
                                                false, Weight::Normal});
    }

    void add_area(Role fill, Role edge, Ring ring, bool is_hatched) {
        canvas_.scene.add(fill, Fill{{ring, {}}});
        if (is_hatched) canvas_.hatched.push_back({ring, {}});
        canvas_.scene.add(edge, Line{std::move(ring), true, Weight::Normal});
    }

    // Over the parts ---------------------------------------------------------------------------------------------

    /// The one the iron works on: a double outline, so that it reads without colour.
    void mark_pad() {
        if (report_.pad.empty()) return;
        for (const PartView& view : canvas_.views) {
            if (view.part->id != report_.target) continue;
            const auto& pads = view.part->pads;
            for (std::size_t i = 0; i < pads.size(); ++i) {
                const std::string& number = pads[i].number;
                if ((number.empty() ? fmt::format("#{}", i + 1) : number) != report_.pad) continue;
                const Ring ring = geometry::transformed(document::outline_on_board(*view.part, pads[i]), canvas_.map);
                for (const double off_px : {0.0, kPadFrame_px})
                    canvas_.scene.add(Role::Selection, Line{grown(ring, canvas_.mm(off_px)), true, Weight::Bold},
                                      view.source);
                return;
            }
        }
    }

    void mark_neighbours() {
        for (const analysis::AccessNeighbour& near : report_.neighbours) {
            if (near.takes.empty()) continue;
            const Role role = near.height_mm ? Role::NoAimEdge : Role::DependsEdge;
            for (const PartView& view : canvas_.views)
                if (view.part->id == near.source)
                    canvas_.scene.add(role, Line{view.outline, true, Weight::Bold}, view.source);
        }
    }

    /// The lower end of the tool in plan, as far as it is worth drawing.
    void add_tool(const Approach& way) {
        const Vec2 out = geometry::direction(Angle::degrees(way.bearing_deg));
        for (const Polygon& arm : way.tool) {
            Ring kept;
            const Ring ring = geometry::transformed(arm.outer, canvas_.map);
            for (std::size_t i = 0; i < ring.size(); ++i) {
                const Vec2 here = ring[i], next = ring[(i + 1) % ring.size()];
                const double a = dot(here - centre_, out) - kDrawnTool_mm, b = dot(next - centre_, out) - kDrawnTool_mm;
                if (a <= 0) kept.push_back(here);
                if ((a < 0) != (b < 0)) kept.push_back(geometry::lerp(here, next, a / (a - b)));
            }
            if (kept.size() >= 3) canvas_.scene.add(Role::NozzleRing, Line{std::move(kept), true, Weight::Normal});
        }
    }

    /// From the hand to the part, its head at the rose's inner edge.
    void add_arrow(const Approach& way) {
        const double from = outer_ + canvas_.mm(kPetal_px + kArrow_px), head = canvas_.mm(kHead_px);
        const Vec2 tip = at(way.bearing_deg, inner_ - canvas_.mm(4)), back = at(way.bearing_deg, inner_ + head);
        const Vec2 across = geometry::direction(Angle::degrees(way.bearing_deg + 90.0)) * (head * 0.45);
        canvas_.scene.add(Role::Measure, Line{{at(way.bearing_deg, from), back}, false, Weight::Bold});
        canvas_.scene.add(Role::Measure, Fill{{{tip, back + across, back - across}, {}}});
    }

    /// "0.25 mm to C13": whose edge the room ends at.
    [[nodiscard]] std::string room_to(const Approach& way) const {
        std::string words = room_words(way.gap_mm);
        if (way.nearest && way.gap_mm < kTold_mm) words += " to " + report_.neighbours[*way.nearest].name;
        return words;
    }

    /// The room at the tip of every petal one can use, with a line to it where the words had to stand away.
    void add_room_labels() {
        if (!canvas_.options.show_labels) return;
        for (const Approach& way : report_.approaches) {
            if (!way.sector.works || way.sector.passage != Passage::Free || !way.sector.can_be_held()) continue;
            const LabelBlock block{.lines = {{room_to(way), Role::LabelMeasure, 11.5, true}},
                                   .px_per_mm = canvas_.options.px_per_mm};
            const bool is_best = &way == report_.best();
            const Vec2 out = geometry::direction(Angle::degrees(way.bearing_deg));
            const double half = reach_along(block, out);
            const double end = is_best ? outer_ + canvas_.mm(kPetal_px + kArrow_px) : petal(way.bearing_deg);
            const double wished = end + half + canvas_.mm(6);
            const Vec2 place = clear_place(way.bearing_deg, wished, block), tip = at(way.bearing_deg, end);
            const geometry::Box box = block.box_at(place);
            canvas_.taken.push_back(box.grown(canvas_.mm(2)));
            const Lead lead = lead_between(box, {tip, tip});
            if (geometry::distance(lead.from, lead.to) > canvas_.mm(10))
                canvas_.scene.add(Role::Leader, Line{{lead.from, lead.to}, false, Weight::Thin});
            add_block(canvas_.scene, block, place, 0.0, true, -1);
        }
    }

    /// Where the degrees of the sentences begin.
    void add_zero_tick() {
        const double bearing = 0.0, end = outer_ + canvas_.mm(kTick_px);
        canvas_.scene.add(Role::Measure, Line{{at(bearing, outer_), at(bearing, end)}, false, Weight::Normal});
        if (!canvas_.options.show_labels) return;
        const LabelBlock block{.lines = {{"0°", Role::LabelMuted, 10.5, true}}, .px_per_mm = canvas_.options.px_per_mm};
        const Vec2 across = geometry::direction(Angle::degrees(bearing - 90.0));
        const double half = reach_along(block, across);
        for (const double side : {1.0, -1.0, 2.0, -2.0}) {
            const geometry::Box box = block.box_at(at(bearing, end) + across * ((half + canvas_.mm(7)) * side));
            const auto hits = [&](const geometry::Box& taken) { return taken.overlaps(box); };
            if (!is_inside(box) || std::any_of(canvas_.taken.begin(), canvas_.taken.end(), hits) ||
                std::any_of(signs_.begin(), signs_.end(), hits))
                continue;
            canvas_.taken.push_back(box.grown(canvas_.mm(2)));
            return add_block(canvas_.scene, block, box.centre(), 0.0, true, -1);
        }
    }

    /// From far away the rose reaches over neighbours: their names stand where it does not.
    void keep_names_off() {
        const auto avoid = [this](double bearing_deg, double from, double to) {
            const double step = canvas_.mm(kAvoided_px);
            for (double radius = from; radius <= to; radius += step) {
                const Vec2 p = at(bearing_deg, radius);
                canvas_.avoided.push_back(geometry::Box{p, p}.grown(step / 2));
            }
        };
        for (const AccessSector& sector : report_.sectors) {
            const bool has_petals = sector.works && sector.passage == Passage::Free;
            const double step = canvas_.mm(kAvoided_px) / outer_ * 180.0 / std::numbers::pi;
            for (double turned = 0.0; turned <= sector.bearings.width_deg; turned += step) {
                const double bearing = sector.bearings.from_deg + turned;
                avoid(bearing, inner_, has_petals ? petal(bearing) : outer_);
            }
        }
        if (const Approach* best = report_.best())
            avoid(best->bearing_deg, inner_, outer_ + canvas_.mm(kPetal_px + kArrow_px));
    }

    /// Where the signs of parts will stand: words keep off them.
    void collect_signs() {
        for (const PartView& view : canvas_.views) {
            for (const Badge& badge : badges_of(view, canvas_))
                signs_.push_back(badge.box(canvas_));
            for (const std::size_t i : report_.do_not_touch)
                if (view.part->id == report_.neighbours[i].source)
                    signs_.push_back(
                        geometry::Box{forbidden_at(view), forbidden_at(view)}.grown(canvas_.mm(kForbidden_px)));
        }
    }

    [[nodiscard]] bool is_inside(const geometry::Box& box) const {
        return !within_ || (within_->contains(box.min) && within_->contains(box.max));
    }

    /// Off other words and signs.
    [[nodiscard]] bool is_legible(const LabelBlock& block, Vec2 place) const {
        const geometry::Box box = block.box_at(place);
        const auto is_hit = [&](const geometry::Box& taken) { return taken.overlaps(box); };
        return is_inside(box) && std::none_of(canvas_.taken.begin(), canvas_.taken.end(), is_hit) &&
               std::none_of(signs_.begin(), signs_.end(), is_hit);
    }

    /// Off parts as well.
    [[nodiscard]] bool is_clear(const LabelBlock& block, Vec2 place) const {
        const geometry::Box box = block.box_at(place);
        return is_legible(block, place) && std::none_of(canvas_.views.begin(), canvas_.views.end(),
                                                        [&](const PartView& view) { return view.box.overlaps(box); });
    }

    /// Where no part and no other words lie under the words: out along the bearing a few steps, else beside it; else,
    /// inside a canvas that ends there, as near by as there is room.
    [[nodiscard]] Vec2 clear_place(double bearing_deg, double radius, const LabelBlock& block) const {
        const Vec2 across = geometry::direction(Angle::degrees(bearing_deg + 90.0));
        const double half = reach_along(block, across);
        for (const double side : {0.0, 1.0, -1.0, 2.0, -2.0, 3.0, -3.0, 4.0, -4.0})
            for (int step = 0; step < 5; ++step) {
                const Vec2 aside = across * (side * (half + canvas_.mm(12)));
                const Vec2 place = at(bearing_deg, radius + step * canvas_.mm(12)) + aside;
                if (is_clear(block, place)) return place;
            }
        const Vec2 wished = at(bearing_deg, radius);
        if (!within_) return wished;
        const Vec2 inside = brought_in(wished, block);
        if (const auto place = nearest(inside, [&](Vec2 p) { return is_clear(block, p); })) return *place;
        return nearest(inside, [&](Vec2 p) { return is_legible(block, p); }).value_or(inside);
    }

    [[nodiscard]] Vec2 brought_in(Vec2 place, const LabelBlock& block) const {
        const auto between = [](double value, double low, double high) {
            return low > high ? (low + high) / 2 : std::clamp(value, low, high);
        };
        const double wide = block.width_mm() / 2, high = block.height_mm() / 2;
        return {between(place.x, within_->min.x + wide, within_->max.x - wide),
                between(place.y, within_->min.y + high, within_->max.y - high)};
    }

    /// The nearest place round the one given, in rings, that will do.
    template <class WillDo>
    [[nodiscard]] std::optional<Vec2> nearest(Vec2 from, const WillDo& will_do) const {
        constexpr int kRings = 16;
        constexpr double kApart_px = 12.0, kTurn_deg = 15.0;
        if (will_do(from)) return from;
        for (int ring = 1; ring <= kRings; ++ring)
            for (double turned = 0.0; turned < 360.0; turned += kTurn_deg) {
                const Vec2 place = from + geometry::direction(Angle::degrees(turned)) * canvas_.mm(kApart_px * ring);
                if (will_do(place)) return place;
            }
        return std::nullopt;
    }

    [[nodiscard]] static Vec2 forbidden_at(const PartView& view) { return {view.body_box.min.x, view.body_box.max.y}; }

    void forbid() {
        for (const std::size_t i : report_.do_not_touch)
            for (const PartView& view : canvas_.views)
                if (view.part->id == report_.neighbours[i].source)
                    canvas_.scene.add(Role::BadgeWarning, Symbol{forbidden_at(view), Sign::Exclamation, kForbidden_px},
                                      view.source);
    }

    void say() {
        std::vector<RoleWords>& words = canvas_.scene.legend_words;
        words.push_back({Role::NoAim, "blocked: a part stands in the way"});
        words.push_back({Role::Depends, "depends on a height that is not measured"});
        words.push_back({Role::GoodAimEdge, "come from here; the longer, the more room"});
        words.push_back({Role::Measure, is_shut() ? "bearings count from here" : "best way in"});
        words.push_back({Role::NozzleRing, "the tool from above"});
        words.push_back({Role::Marquee, "a slip sweeps over this"});
        words.push_back({Role::BadgeWarning, "do not touch"});
        words.push_back({Role::Stale, "free, but no hold for this tool"});
    }

    Canvas& canvas_;
    const AccessReport& report_;
    Vec2 centre_;
    double inner_ = 0.0, outer_ = 0.0;
    std::optional<geometry::Box> within_; ///< what the rose says stands in it
    std::vector<geometry::Box> signs_;
};

/// Seen from behind nothing of it can be judged, only where it is.
void mark_from_behind(Canvas& canvas, const AccessReport& report) {
    Ring ring = geometry::transformed(geometry::circle(canvas.mm(14), canvas.mm(0.3)),
                                      geometry::Affine::translation(canvas.map(report.at)));
    canvas.scene.add(Role::FarSideEdge, Line{std::move(ring), true, Weight::Normal});
}

} // namespace

Scene access_scene(const document::Chart& chart, const Reports& reports, const ViewOptions& options,
                   const AccessReport* access, const std::optional<geometry::Box>& words_within) {
    if (access == nullptr) return chart_scene(chart, reports, options);
    StageLayers between;
    between.over_ground = [access, &words_within](Canvas& canvas) {
        if (canvas.is_near(access->side)) Rose(canvas, *access, words_within).under_parts();
    };
    between.over_parts = [access, &words_within](Canvas& canvas) {
        if (canvas.is_near(access->side))
            Rose(canvas, *access, words_within).over_parts();
        else
            mark_from_behind(canvas, *access);
    };
    return layered_scene(chart, reports, options, between);
}

bool is_about_access(Role role) {
    switch (role) {
    case Role::NoAim:
    case Role::Depends:
    case Role::GoodAimEdge:
    case Role::Measure:
    case Role::NozzleRing:
    case Role::Marquee:
    case Role::BadgeWarning:
    case Role::Stale:
    case Role::MissingEdge:
    case Role::FarSideEdge:
    case Role::KeepOut: return true;
    default: return false;
    }
}

} // namespace padchart::scene
