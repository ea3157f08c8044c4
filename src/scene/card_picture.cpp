#include "scene/card_picture.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "scene/chart_scene.hpp"
#include "scene/marks.hpp"
#include "scene/page_writer.hpp"
#include "scene/words.hpp"

namespace padchart::scene {

using document::Footprint;
using geometry::Affine;
using geometry::Box;
using geometry::Ring;
using geometry::Vec2;

namespace {

/// Room round the part, page mm: for pen circles, for the number of land 1, for neither.
constexpr double kPenMargin_mm = 5.2;
constexpr double kNumberMargin_mm = 4.4;
constexpr double kBareMargin_mm = 1.5;
constexpr double kPenCircle_mm = 2.8;

/// From the part to how it is seen from its own side with the board's up edge up.
Affine view_of(const Footprint& part) {
    return scene_from_board(part.placement.side) * document::board_from_part(part.placement);
}

Box pads_box(const Footprint& part, const Affine& view) {
    Box box;
    for (const document::Pad& pad : part.pads)
        box.add(geometry::bounds(geometry::transformed(document::outline_in_part(pad), view)));
    return box;
}

Box part_box(const Footprint& part, const Affine& view) {
    Box box = pads_box(part, view);
    box.add(geometry::bounds(geometry::transformed(document::extent_in_part(part), view)));
    return box;
}

void add_pads(Scene& scene, const Footprint& part, const Affine& view, bool as_ghost) {
    for (const document::Pad& pad : part.pads) {
        const Ring outline = geometry::transformed(document::outline_in_part(pad), view);
        if (!as_ghost) scene.add(Role::PadCopper, Fill{{outline, {}}});
        scene.add(Role::PadEdge, Line{outline, true, Weight::Hair});
    }
}

/// As on the map: the lands of a two-ended part lie under its ends, all others are drawn over the body.
bool pads_lie_under(const Footprint& part) {
    return part.body && part.pads.size() <= 2;
}

void add_body(Scene& scene, const Footprint& part, const Affine& view, bool is_open) {
    const Ring outline = geometry::transformed(document::extent_in_part(part), view);
    if (outline.empty()) return;
    if (part.body) scene.add(Role::Body, Fill{{outline, {}}});
    scene.add(is_open ? Role::UnknownEdge : Role::BodyEdge, Line{outline, true, Weight::Normal});
}

/// Eight places round the part, one of which is to be filled in by pen.
void add_pen_circles(Scene& scene, const Box& box, double scale) {
    const Box places = box.grown(kPenCircle_mm / scale);
    const Ring circle = geometry::circle(kPenCircle_mm / 2.0 / scale, 0.02 / scale);
    for (const double x : {places.min.x, places.centre().x, places.max.x})
        for (const double y : {places.min.y, places.centre().y, places.max.y}) {
            if (Vec2{x, y} == places.centre()) continue;
            scene.add(Role::BodyEdge,
                      Line{geometry::transformed(circle, Affine::translation({x, y})), true, Weight::Thin});
        }
}

/// Where the ray from the middle of the box towards `through` leaves it.
Vec2 rim_of(const Box& box, Vec2 through) {
    const Vec2 d = through - box.centre();
    const double along_x = std::abs(d.x) > 1e-9 ? box.width() / 2.0 / std::abs(d.x) : 1e9;
    const double along_y = std::abs(d.y) > 1e-9 ? box.height() / 2.0 / std::abs(d.y) : 1e9;
    return box.centre() + d * std::min(along_x, along_y);
}

/// A mark smaller on paper than this is pointed out, page mm.
constexpr double kSmallMark_mm = 2.4;

/// A ring round a mark that would be overlooked.
void add_ring(Scene& scene, const Box& mark, double scale) {
    if (mark.is_empty() || std::max(mark.width(), mark.height()) * scale >= kSmallMark_mm) return;
    const Ring ring = geometry::circle(0.8 * kSmallMark_mm / scale, 0.02 / scale);
    scene.add(Role::BodyEdge,
              Line{geometry::transformed(ring, Affine::translation(mark.centre())), true, Weight::Thin});
}

/// On a small picture: a disc where the mark would be overlooked.
void add_disc(Scene& scene, const Box& mark, double scale) {
    if (mark.is_empty() || std::max(mark.width(), mark.height()) * scale >= 0.5 * kSmallMark_mm) return;
    const Ring disc = geometry::circle(0.35 * kSmallMark_mm / scale, 0.02 / scale);
    scene.add(Role::Mark, Fill{{geometry::transformed(disc, Affine::translation(mark.centre())), {}}});
}

std::vector<document::Pad>::const_iterator land_one(const Footprint& part) {
    return std::find_if(part.pads.begin(), part.pads.end(),
                        [](const document::Pad& pad) { return pad.number == "1" || pad.number == "A1"; });
}

double margin_for(const Footprint& part, bool is_open) {
    if (is_open) return kPenMargin_mm;
    return land_one(part) == part.pads.end() ? kBareMargin_mm : kNumberMargin_mm;
}

/// "1" outside the part, beside the land that bears it, unless the mark stands there.
void add_land_one(Scene& scene, const Footprint& part, const Affine& view, const Box& box, const Box& mark,
                  double scale) {
    const auto first = land_one(part);
    if (first == part.pads.end()) return;
    const Vec2 land = view(first->at);
    if (geometry::distance(land, box.centre()) < 1e-6) return;
    const double height = kTextHeight_mm / scale;
    const Vec2 at = rim_of(box.grown(0.75 * height), land);
    if (!mark.is_empty() && mark.overlaps(Box{at, at}.grown(height / 2.0))) return;
    scene.add(Role::LabelPart, Text{.at = at, .text = first->number, .height_mm = height, .strong = true});
}

PlacedScene placed(Scene scene, double scale, Vec2 scene_point, Vec2 page_point) {
    PlacedScene result;
    result.scene = std::move(scene);
    result.scale = scale;
    result.at = page_point - scene_point * scale;
    return result;
}

/// What turned_picture draws for one turn.
struct Turned {
    Vec2 about; ///< the middle of the lands, as seen
    Affine map; ///< from the part to the turned part, as seen
    Ring outline;
};

Turned turned_part(const Footprint& part, double turn_deg) {
    const Affine view = view_of(part);
    const Box pads = pads_box(part, view);
    Turned turned;
    turned.about = pads.is_empty() ? view(document::centre_in_part(part)) : pads.centre();
    turned.map = Affine::rotation_about(turned.about, Angle::degrees(turn_deg)) * view;
    turned.outline = geometry::transformed(document::extent_in_part(part), turned.map);
    return turned;
}

/// Where no mark shows how the part is turned: an arrow that points up on the part as it sits.
void add_up_arrow(Scene& scene, const Turned& turned, const Footprint& part, double turn_deg) {
    const Box box = part_box(part, view_of(part));
    const double size = 0.3 * std::min(box.width(), box.height());
    const Affine from_upright = Affine::translation(turned.about) * Affine::rotation(Angle::degrees(turn_deg));
    const Ring head{{0, -size}, {0.5 * size, -0.2 * size}, {-0.5 * size, -0.2 * size}};
    scene.add(Role::Mark, Fill{{geometry::transformed(head, from_upright), {}}});
    scene.add(Role::Mark, Line{{from_upright({0, -0.2 * size}), from_upright({0, size})}, false, Weight::Normal});
}

} // namespace

PlacedScene part_picture(const Footprint& part, const analysis::PartFit& fit, const Box& box) {
    const Affine view = view_of(part);
    const Box own = part_box(part, view);
    Scene scene;
    if (own.is_empty()) {
        scene.add(Role::BadgeUnknown, Symbol{});
        return placed(std::move(scene), 1.0, {}, box.centre());
    }
    const bool is_open = fit.needs_record && !fit.has_record;
    const double margin = margin_for(part, is_open);
    const Vec2 room{std::max(2.0, box.width() - 2 * margin), std::max(2.0, box.height() - 2 * margin)};
    const double scale = std::min(room.x / std::max(own.width(), 0.1), room.y / std::max(own.height(), 0.1));
    if (pads_lie_under(part)) add_pads(scene, part, view, false);
    add_body(scene, part, view, is_open);
    if (!pads_lie_under(part)) add_pads(scene, part, view, false);
    const Box mark = add_mark(scene, part, view, -1);
    if (is_open) {
        add_pen_circles(scene, own, scale);
        scene.add(Role::BadgeUnknown, Symbol{.at = own.centre(), .radius_px = 11.0});
    } else {
        add_ring(scene, mark, scale);
        add_land_one(scene, part, view, own, mark, scale);
    }
    return placed(std::move(scene), scale, own.centre(), box.centre());
}

double turned_scale(const Footprint& part, const std::vector<double>& turns_deg, Vec2 room_mm) {
    Vec2 half{0.05, 0.05};
    for (const double turn_deg : turns_deg) {
        const Turned turned = turned_part(part, turn_deg);
        Box box = pads_box(part, view_of(part));
        box.add(geometry::bounds(turned.outline));
        for (const Vec2 corner : {box.min, box.max})
            half = {std::max(half.x, std::abs(corner.x - turned.about.x)),
                    std::max(half.y, std::abs(corner.y - turned.about.y))};
    }
    return std::min(room_mm.x / half.x, room_mm.y / half.y) / 2.0;
}

PlacedScene turned_picture(const Footprint& part, double turn_deg, Vec2 centre_on_page, double scale) {
    const Turned turned = turned_part(part, turn_deg);
    Scene scene;
    add_pads(scene, part, view_of(part), true);
    if (!turned.outline.empty()) scene.add(Role::UnknownEdge, Line{turned.outline, true, Weight::Thin});
    if (part.orientation.state == document::RecordState::Recorded)
        add_disc(scene, add_mark(scene, part, turned.map, -1), scale);
    else
        add_up_arrow(scene, turned, part, turn_deg);
    return placed(std::move(scene), scale, turned.about, centre_on_page);
}

} // namespace padchart::scene
