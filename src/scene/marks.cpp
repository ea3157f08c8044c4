#include "scene/marks.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace padchart::scene {

using document::Footprint;
using document::MarkKind;
using geometry::Affine;
using geometry::Ring;
using geometry::Vec2;

namespace {

/// The body as a box about its own centre, and the mark's direction in it.
struct Place {
    Vec2 half;    ///< half width and height, mm
    Vec2 towards; ///< unit vector
    Affine scene_from_box;
    double unit = 0.0; ///< size of a small mark, mm

    /// Which of the four ends the bearing points at, as a unit vector.
    [[nodiscard]] Vec2 end() const {
        if (std::abs(towards.x) * half.y >= std::abs(towards.y) * half.x) return {towards.x < 0 ? -1.0 : 1.0, 0.0};
        return {0.0, towards.y < 0 ? -1.0 : 1.0};
    }
    [[nodiscard]] Vec2 corner() const {
        return {towards.x < -1e-9 ? -half.x : half.x, towards.y > 1e-9 ? half.y : -half.y};
    }
    /// Where the ray from the centre leaves the box, drawn in by `inset`.
    [[nodiscard]] Vec2 rim(double inset) const {
        const double to_x = std::abs(towards.x) > 1e-9 ? half.x / std::abs(towards.x) : 1e9;
        const double to_y = std::abs(towards.y) > 1e-9 ? half.y / std::abs(towards.y) : 1e9;
        const Vec2 hit = towards * std::min(to_x, to_y);
        const Vec2 room{std::max(0.0, half.x - inset), std::max(0.0, half.y - inset)};
        return {std::clamp(hit.x, -room.x, room.x), std::clamp(hit.y, -room.y, room.y)};
    }
};

Place place_of(const Footprint& part, const Affine& scene_from_part) {
    Place place;
    Affine part_from_box = Affine::translation(document::centre_in_part(part));
    geometry::Box box;
    if (part.body) {
        const Ring outline = document::outline_of(part.body->shape);
        box = geometry::bounds(outline);
        part_from_box = Affine::translation(part.body->at) * Affine::rotation(part.body->turn);
        if (!box.is_empty()) part_from_box = part_from_box * Affine::translation(box.centre());
    } else {
        box = geometry::bounds(document::extent_in_part(part));
    }
    place.half = {std::max(box.width() / 2, 0.05), std::max(box.height() / 2, 0.05)};
    place.scene_from_box = scene_from_part * part_from_box;
    const Vec2 in_part = geometry::direction(part.orientation.bearing);
    place.towards = part.body ? Affine::rotation(-part.body->turn).linear(in_part) : in_part;
    place.unit = std::clamp(0.1 * std::min(place.half.x, place.half.y), 0.05, 0.14);
    return place;
}

class Drawer {
public:
    Drawer(Scene& scene, const Place& place, std::int32_t source) : scene_(scene), place_(place), source_(source) {}

    void draw(MarkKind kind) {
        switch (kind) {
        case MarkKind::Dot: disc(place_.rim(place_.unit * 2.0), place_.unit); return;
        case MarkKind::Dimple:
        case MarkKind::Unknown:
        case MarkKind::Port: circle(place_.rim(place_.unit * 2.0), place_.unit); return;
        case MarkKind::Bar:
        case MarkKind::Band: across(0.16, 0.20); return;
        case MarkKind::Line: across(0.16, 0.06); return;
        case MarkKind::DarkSector: across(0.0, 0.4); return;
        case MarkKind::FilledHalf: across(0.0, 0.7); return;
        case MarkKind::Notch: notch(); return;
        case MarkKind::Bevel: bevel(); return;
        case MarkKind::Chamfer:
        case MarkKind::CutCorner: cut_corner(); return;
        case MarkKind::Triangle: corner_triangle(); return;
        case MarkKind::Arrow: arrow(0.0, true); return;
        case MarkKind::Plus: cross(true); return;
        case MarkKind::Minus: cross(false); return;
        case MarkKind::LetterK: letter("K"); return;
        case MarkKind::LetterA: letter("A"); return;
        case MarkKind::Text: letter("T"); return;
        case MarkKind::OutlineGap: gap(); return;
        case MarkKind::SquareLand:
        case MarkKind::LongerLand:
        case MarkKind::MissingBall:
        case MarkKind::LoneLead:
        case MarkKind::WiderLead: arrow(place_.unit * 3.2, false); return;
        case MarkKind::Key: key(); return;
        case MarkKind::ActuatorSide: outside_bar(); return;
        }
    }

    [[nodiscard]] const geometry::Box& box() const { return box_; }

private:
    Vec2 out(Vec2 in_box) {
        const Vec2 p = place_.scene_from_box(in_box);
        box_.add(p);
        return p;
    }
    Ring out(const Ring& in_box) {
        Ring ring;
        ring.reserve(in_box.size());
        for (const Vec2 p : in_box)
            ring.push_back(out(p));
        return ring;
    }
    void fill(const Ring& in_box) { scene_.add(Role::Mark, Fill{{out(in_box), {}}}, source_); }
    void line(const Ring& in_box, bool closed, Weight weight = Weight::Thin) {
        scene_.add(Role::Mark, Line{out(in_box), closed, weight}, source_);
    }
    static Ring round(Vec2 at, double radius) {
        return geometry::transformed(geometry::circle(radius, radius * 0.02), Affine::translation(at));
    }

    void disc(Vec2 at, double radius) { fill(round(at, radius)); }
    void circle(Vec2 at, double radius) { line(round(at, radius), true, Weight::Normal); }

    /// A stripe across one end; both numbers in halves of the body's length that way.
    void across(double from_end, double thickness) {
        const Vec2 e = place_.end();
        const Vec2 side{std::abs(e.y) * place_.half.x, std::abs(e.x) * place_.half.y};
        const double reach = std::abs(e.x) * place_.half.x + std::abs(e.y) * place_.half.y;
        const Vec2 outer = e * (reach * (1.0 - from_end));
        const Vec2 inner = e * (reach * (1.0 - from_end - thickness));
        fill({outer - side, outer + side, inner + side, inner - side});
    }

    void notch() {
        const Vec2 e = place_.end();
        const Vec2 at{e.x * place_.half.x, e.y * place_.half.y};
        const double radius = 1.8 * place_.unit;
        Ring half_round;
        for (int i = 0; i <= 12; ++i) {
            const double t = 3.14159265358979 * (i / 12.0 - 0.5);
            const Vec2 inward = -e * (radius * std::cos(t));
            half_round.push_back(at + inward + Vec2{-e.y, e.x} * (radius * std::sin(t)));
        }
        fill(half_round);
    }

    void bevel() {
        const Vec2 e = place_.end();
        const Vec2 side{std::abs(e.y) * place_.half.x, std::abs(e.x) * place_.half.y};
        const Vec2 inner{e.x * (place_.half.x - 1.5 * place_.unit), e.y * (place_.half.y - 1.5 * place_.unit)};
        line({inner - side, inner + side}, false, Weight::Normal);
    }

    Ring corner_at(double leg) const {
        const Vec2 c = place_.corner();
        const Vec2 inward{c.x > 0 ? -leg : leg, c.y > 0 ? -leg : leg};
        return {c, {c.x + inward.x, c.y}, {c.x, c.y + inward.y}};
    }
    void corner_triangle() { fill(corner_at(3.2 * place_.unit)); }
    void cut_corner() {
        const Ring corner = corner_at(4.0 * place_.unit);
        line({corner[1], corner[2]}, false, Weight::Bold);
    }

    /// Outwards from the rim, or inwards from `distance` beyond it.
    void arrow(double distance, bool outwards) {
        const Vec2 d = place_.towards;
        const Vec2 side{-d.y, d.x};
        const double size = 2.2 * place_.unit;
        const Vec2 rim = place_.rim(0.0);
        const Vec2 tip = outwards ? rim - d * (0.4 * place_.unit) : rim + d * (distance - size);
        const Vec2 base = outwards ? tip - d * size : tip + d * size;
        fill({tip, base + side * (size * 0.6), base - side * (size * 0.6)});
    }

    void cross(bool upright_too) {
        const double arm = 1.4 * place_.unit;
        // Drawn upright on the scene whatever the part's turn: a turned plus is a times sign.
        const Vec2 at = place_.scene_from_box(place_.rim(2.4 * place_.unit));
        box_.add(geometry::Box{at, at}.grown(arm));
        scene_.add(Role::Mark, Line{{at - Vec2{arm, 0}, at + Vec2{arm, 0}}, false, Weight::Normal}, source_);
        if (upright_too)
            scene_.add(Role::Mark, Line{{at - Vec2{0, arm}, at + Vec2{0, arm}}, false, Weight::Normal}, source_);
    }

    void letter(const char* text) {
        const double height = 4.0 * place_.unit;
        const Vec2 at = place_.scene_from_box(place_.rim(2.4 * place_.unit));
        box_.add(geometry::Box{at, at}.grown(height * 0.45));
        scene_.add(Role::Mark, Text{.at = at, .text = text, .height_mm = height, .strong = true}, source_);
    }

    void gap() {
        const Vec2 rim = place_.rim(0.0);
        const Vec2 e = place_.end();
        const Vec2 side = Vec2{-e.y, e.x} * (2.0 * place_.unit);
        const Vec2 tick = e * (1.5 * place_.unit);
        line({rim + side - tick, rim + side + tick}, false, Weight::Normal);
        line({rim - side - tick, rim - side + tick}, false, Weight::Normal);
    }

    void key() {
        const Vec2 rim = place_.rim(0.0);
        const Vec2 e = place_.end();
        const Vec2 side = Vec2{-e.y, e.x} * (2.0 * place_.unit);
        const Vec2 depth = e * (1.6 * place_.unit);
        fill({rim - side, rim + side, rim + side + depth, rim - side + depth});
    }

    void outside_bar() {
        const Vec2 e = place_.end();
        const Vec2 side{std::abs(e.y) * place_.half.x, std::abs(e.x) * place_.half.y};
        const Vec2 at{e.x * (place_.half.x + 1.5 * place_.unit), e.y * (place_.half.y + 1.5 * place_.unit)};
        line({at - side, at + side}, false, Weight::Bold);
    }

    Scene& scene_;
    const Place& place_;
    std::int32_t source_;
    geometry::Box box_;
};

} // namespace

geometry::Box add_mark(Scene& scene, const Footprint& part, const Affine& scene_from_part, std::int32_t source) {
    if (part.orientation.state != document::RecordState::Recorded) return {};
    const Place place = place_of(part, scene_from_part);
    Drawer drawer(scene, place, source);
    drawer.draw(part.orientation.mark);
    return drawer.box();
}

void add_fault_cross(Scene& scene, const geometry::Box& pad, std::int32_t source) {
    const Vec2 centre = pad.centre();
    const double r = std::min(pad.width(), pad.height()) * 0.4;
    for (const Vec2 arm : {Vec2{r, r}, Vec2{r, -r}})
        scene.add(Role::PadFault, Line{{centre - arm, centre + arm}, false, Weight::Normal}, source);
}

void add_faulty_land(Scene& scene, const geometry::Box& box) {
    const Ring ring{box.min, {box.max.x, box.min.y}, box.max, {box.min.x, box.max.y}};
    scene.add(Role::PadCopper, Fill{{ring, {}}});
    scene.add(Role::PadEdge, Line{ring, true, Weight::Hair});
    add_fault_cross(scene, box, -1);
}

} // namespace padchart::scene
