#include "scene/chart_scene.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_map>

#include <fmt/format.h>

#include "patterns/material.hpp"
#include "scene/labels.hpp"
#include "scene/marks.hpp"
#include "scene/words.hpp"

namespace padchart::scene {

using document::Chart;
using document::Footprint;
using document::Side;
using geometry::Affine;
using geometry::Box;
using geometry::Ring;
using geometry::Vec2;

namespace {

constexpr double kBadgeRadius_px = 9.0;

/// A part of the side that is looked at, with all that several layers need of it.
struct PartView {
    const Footprint* part = nullptr;
    std::int32_t source = -1;
    Affine scene_from_part;
    Ring outline; ///< body or box round the pads, scene mm
    Box box;      ///< body and pads
    Box mark_box;
    std::vector<Box> pads_on_top; ///< boxes of pads drawn over the body
    bool absent = false;
    bool sensitive = false;
    bool needs_record = false;
    bool has_record = false;
};

Box box_of(std::span<const Vec2> ring) {
    return geometry::bounds(ring);
}

/// Drawn in by `by` mm along every edge; right for convex outlines, which bodies are.
Ring inset(const Ring& ring, double by) {
    const Vec2 c = geometry::centroid(ring);
    const Box box = box_of(ring);
    if (ring.size() > 8) { // round: towards the centre
        Ring smaller;
        for (const Vec2 p : ring) {
            const double d = geometry::distance(p, c);
            smaller.push_back(d > by ? geometry::lerp(p, c, by / d) : c);
        }
        return smaller;
    }
    const double turn = geometry::signed_area(ring) >= 0 ? 1.0 : -1.0;
    Ring smaller;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 before = ring[i] - ring[(i + ring.size() - 1) % ring.size()];
        const Vec2 after = ring[(i + 1) % ring.size()] - ring[i];
        const double lb = geometry::length(before);
        const double la = geometry::length(after);
        if (lb < 1e-9 || la < 1e-9) return {};
        const Vec2 u = before / lb;
        const Vec2 v = after / la;
        const double k = 1.0 + geometry::dot(u, v);
        if (k < 0.05) return {}; // a needle: no room for a second line
        const Vec2 normal = Vec2{-u.y - v.y, u.x + v.x} * turn;
        smaller.push_back(ring[i] + normal * (by / k));
    }
    return box.width() > 2 * by && box.height() > 2 * by ? smaller : Ring{};
}

class Builder {
public:
    Builder(const Chart& chart, const Reports& reports, const ViewOptions& options)
        : chart_(chart), reports_(reports), options_(options), map_(scene_from_board(options.seen_from)),
          occupied_(std::max(1.0, 40.0 / options.px_per_mm)) {}

    Scene build() {
        collect_parts();
        reserve();
        board();
        zones();
        keep_outs();
        shields();
        far_side();
        copper_under();
        bodies();
        marks();
        plans();
        reserve_label_room();
        badges();
        labels();
        pins();
        selection();
        return std::move(scene_);
    }

private:
    double mm(double px) const { return px / options_.px_per_mm; }
    bool near(Side side) const { return side == options_.seen_from; }
    bool is_selected(const document::Id& id) const {
        return std::find(options_.selection.begin(), options_.selection.end(), id) != options_.selection.end();
    }
    bool speaks_of_heat() const {
        return options_.stage == Stage::Heat || options_.stage == Stage::Access || options_.stage == Stage::HandOver;
    }
    geometry::Polygon out(const geometry::Polygon& board) const { return geometry::transformed(board, map_); }
    Ring out(std::span<const Vec2> board) const { return geometry::transformed(board, map_); }

    void area(Role fill, Role edge, const geometry::Polygon& polygon, Weight weight, std::int32_t source = -1) {
        scene_.add(fill, Fill{polygon}, source);
        scene_.add(edge, Line{polygon.outer, true, weight}, source);
        for (const Ring& hole : polygon.holes)
            scene_.add(edge, Line{hole, true, weight}, source);
    }

    void collect_parts() {
        std::unordered_map<document::Id, const analysis::PartFit*> fits;
        if (reports_.fit != nullptr)
            for (const analysis::PartFit& fit : reports_.fit->parts)
                fits.emplace(fit.part, &fit);
        views_.reserve(chart_.parts.size());
        for (const Footprint& part : chart_.parts) {
            if (!near(part.placement.side)) continue;
            const auto fit = fits.find(part.id);
            views_.push_back(view_of(part, fit == fits.end() ? nullptr : fit->second));
        }
    }

    PartView view_of(const Footprint& part, const analysis::PartFit* fit) {
        PartView view;
        view.part = &part;
        view.scene_from_part = map_ * document::board_from_part(part.placement);
        view.outline = geometry::transformed(document::extent_in_part(part), view.scene_from_part);
        view.box = box_of(view.outline);
        view.absent = is_absent(part);
        const std::optional<patterns::HeatLimits> limits = patterns::limits_of(part);
        view.sensitive = part.heat.has_value() || (limits && limits->delicate);
        if (fit != nullptr) {
            view.needs_record = fit->needs_record;
            view.has_record = fit->has_record;
        }
        return view;
    }

    void reserve() {
        std::size_t pads = 0;
        for (const PartView& view : views_)
            pads += view.part->pads.size();
        const std::size_t parts = chart_.parts.size();
        scene_.items.reserve(2 * pads + 8 * parts);
        scene_.fills.reserve(pads + 2 * parts);
        scene_.lines.reserve(pads + 3 * parts);
        scene_.texts.reserve(2 * parts);
        scene_.sources.reserve(pads + parts);
    }

    void board() {
        if (!chart_.board.outline) return;
        const geometry::Polygon outline = out(*chart_.board.outline);
        scene_.add(Role::Board, Fill{outline});
        for (const Ring& hole : outline.holes)
            scene_.add(Role::CutOut, Fill{{hole, {}}});
        scene_.add(Role::BoardEdge, Line{outline.outer, true, Weight::Bold});
        for (const Ring& hole : outline.holes)
            scene_.add(Role::BoardEdge, Line{hole, true, Weight::Normal});
    }

    void zones() {
        if (!options_.show_zones || reports_.clearance == nullptr || !speaks_of_heat()) return;
        const geometry::Region& region =
            near(Side::Top) ? reports_.clearance->top_zones : reports_.clearance->bottom_zones;
        for (const geometry::Polygon& polygon : region) {
            hatched_.push_back(out(polygon));
            area(Role::NoAim, Role::NoAimEdge, hatched_.back(), Weight::Normal);
        }
    }

    void keep_outs() {
        for (const document::KeepOut& keep_out : chart_.keep_outs) {
            const std::int32_t source = scene_.add_source(keep_out.id);
            const geometry::Polygon outline = out(keep_out.outline);
            if (!near(keep_out.side) && !keep_out.through_board) {
                if (options_.show_far_side)
                    scene_.add(Role::FarSideEdge, Line{outline.outer, true, Weight::Thin}, source);
                continue;
            }
            hatched_.push_back(outline);
            area(Role::KeepOut, Role::KeepOutEdge, outline, Weight::Normal, source);
        }
    }

    void shields() {
        for (const document::Shield& shield : chart_.shields)
            if (near(shield.side))
                area(Role::Shield, Role::ShieldEdge, out(shield.outline), Weight::Normal, scene_.add_source(shield.id));
    }

    void far_side() {
        if (!options_.show_far_side) return;
        for (const Footprint& part : chart_.parts) {
            if (near(part.placement.side)) continue;
            Ring outline = out(document::extent_on_board(part));
            if (outline.empty()) continue;
            scene_.add(Role::FarSideEdge, Line{std::move(outline), true, Weight::Thin}, scene_.add_source(part.id));
        }
    }

    /// The lands of a two-ended part lie under its ends; all others are drawn over the body, or nobody would see them.
    static bool lies_under(const PartView& view, const Box& pad) {
        if (view.absent || !view.part->body || view.part->pads.size() > 2) return false;
        const Box body = box_of(view.outline);
        return !(body.contains(pad.min) && body.contains(pad.max));
    }

    void pad(const PartView& view, std::size_t i, Ring outline) {
        const document::Pad& pad = view.part->pads[i];
        const std::int32_t source = scene_.add_source(view.part->id, static_cast<std::int32_t>(i));
        const bool gone = pad.land == document::LandState::Missing;
        scene_.add(gone ? Role::PadMissing : Role::PadCopper, Fill{{outline, {}}}, source);
        scene_.add(gone ? Role::MissingEdge : Role::PadEdge,
                   Line{std::move(outline), true, gone ? Weight::Thin : Weight::Hair}, source);
    }

    void copper_under() {
        for (PartView& view : views_) {
            view.source = scene_.add_source(view.part->id);
            for (std::size_t i = 0; i < view.part->pads.size(); ++i) {
                Ring outline =
                    geometry::transformed(document::outline_in_part(view.part->pads[i]), view.scene_from_part);
                const Box box = box_of(outline);
                view.box.add(box);
                if (lies_under(view, box)) pad(view, i, std::move(outline));
            }
        }
    }

    void copper_over(PartView& view) {
        for (std::size_t i = 0; i < view.part->pads.size(); ++i) {
            Ring outline = geometry::transformed(document::outline_in_part(view.part->pads[i]), view.scene_from_part);
            const Box box = box_of(outline);
            if (lies_under(view, box)) continue;
            view.pads_on_top.push_back(box);
            pad(view, i, std::move(outline));
        }
    }

    void bodies() {
        for (PartView& view : views_) {
            body(view);
            copper_over(view);
            if (view.absent && !view.outline.empty())
                scene_.add(Role::MissingEdge, Line{view.outline, true, Weight::Normal}, view.source);
        }
    }

    void body(const PartView& view) {
        if (view.outline.empty() || view.absent) return;
        const bool unknown = view.needs_record && !view.has_record;
        if (view.part->body) {
            scene_.add(view.sensitive ? Role::SensitiveBody : Role::Body, Fill{{view.outline, {}}}, view.source);
            if (view.sensitive) inner_line(view);
            const Role edge = unknown ? Role::UnknownEdge : view.sensitive ? Role::SensitiveEdge : Role::BodyEdge;
            scene_.add(edge, Line{view.outline, true, view.sensitive || unknown ? Weight::Normal : Weight::Thin},
                       view.source);
        } else if (unknown) {
            scene_.add(Role::UnknownEdge, Line{view.outline, true, Weight::Normal}, view.source);
        }
    }

    void inner_line(const PartView& view) {
        const Box box = box_of(view.outline);
        Ring inner = inset(view.outline, std::min(0.1, 0.09 * std::min(box.width(), box.height())));
        if (!inner.empty()) scene_.add(Role::SensitiveEdge, Line{std::move(inner), true, Weight::Hair}, view.source);
    }

    void marks() {
        for (PartView& view : views_)
            view.mark_box = add_mark(scene_, *view.part, view.scene_from_part, view.source);
    }

    void plans() {
        if (!options_.show_plans || !(options_.stage == Stage::Heat || options_.stage == Stage::HandOver)) return;
        for (const document::HeatPlan& plan : chart_.heat_plans) {
            if (!near(plan.side)) continue;
            const std::int32_t source = scene_.add_source(plan.id);
            const Vec2 at = map_(plan.aim);
            const double radius = plan.nozzle_bore_mm / 2.0;
            Ring ring = geometry::transformed(geometry::circle(radius, 0.002), Affine::translation(at));
            scene_.add(Role::NozzleRing, Line{std::move(ring), true, Weight::Normal}, source);
            for (const Vec2 d : {Vec2{1, 0}, Vec2{0, 1}, Vec2{-1, 0}, Vec2{0, -1}})
                scene_.add(Role::AimCross,
                           Line{{at + d * (radius * 1.12), at + d * (radius * 1.12 + mm(14))}, false, Weight::Normal},
                           source);
        }
    }

    void reserve_label_room() {
        for (const PartView& view : views_) {
            occupied_.add(view.box);
            occupied_.add(view.mark_box);
        }
    }

    void badge(Role role, Sign sign, Vec2 at, const PartView& view) {
        occupied_.add(Box{at, at}.grown(mm(kBadgeRadius_px)));
        scene_.add(role, Symbol{at, sign, kBadgeRadius_px}, view.source);
    }

    void badges() {
        for (const PartView& view : views_) {
            if (view.outline.empty()) continue;
            const Box body = box_of(view.outline);
            if (view.needs_record && !view.has_record)
                badge(Role::BadgeUnknown, Sign::Query, {body.max.x, body.min.y}, view);
            else if (options_.stage == Stage::Orient && view.has_record)
                badge(Role::BadgeDone, Sign::Tick, {body.max.x, body.min.y}, view);
            if (options_.stage != Stage::Orient && options_.stage != Stage::Heat && has_fault(*view.part))
                badge(Role::BadgeWarning, Sign::Exclamation, body.min, view);
        }
    }

    std::vector<LabelLine> limit_lines(const PartView& view, bool wordy) const {
        const std::optional<patterns::HeatLimits> limits = patterns::limits_of(*view.part);
        std::vector<LabelLine> lines;
        const double px = options_.label_px;
        if (wordy && view.part->part_class != document::PartClass::Unknown)
            lines.push_back({in_words(view.part->part_class), Role::LabelMuted, px, false});
        if (limits)
            lines.push_back({(wordy ? "limit " : "≤ ") + celsius(limits->limit_c), Role::LabelDanger, px, true});
        return lines;
    }

    LabelBlock block_of(const PartView& view, bool with_limit, bool wordy) const {
        LabelBlock block{.lines = {}, .px_per_mm = options_.px_per_mm};
        const bool large = with_limit && wordy;
        const Role role = is_selected(view.part->id) ? Role::Selection : Role::LabelPart;
        block.lines.push_back({view.part->name.empty() ? "no name" : view.part->name,
                               view.part->name.empty() ? Role::LabelMuted : role,
                               large ? options_.label_px * 1.35 : options_.label_px, true});
        if (!with_limit) return block;
        for (LabelLine& line : limit_lines(view, wordy))
            block.lines.push_back(std::move(line));
        return block;
    }

    /// Letters over a pad edge cannot be read; wholly on one land they can.
    static bool is_legible(const PartView& view, const Box& text) {
        return std::none_of(view.pads_on_top.begin(), view.pads_on_top.end(), [&](const Box& pad) {
            return pad.overlaps(text) && !(pad.contains(text.min) && pad.contains(text.max));
        });
    }

    bool label_inside(const PartView& view, const LabelBlock& block) {
        if (view.outline.empty()) return false;
        const Vec2 centre = box_of(view.outline).centre();
        const std::optional<Vec2> at = place_inside(block, view.outline, centre, view.mark_box);
        if (!at || !is_legible(view, block.box_at(*at))) return false;
        const double room =
            2.0 * std::min(chord(view.outline, *at).right - at->x, at->x - chord(view.outline, *at).left);
        add_block(scene_, block, *at, room, false, view.source);
        return true;
    }

    bool over_hatch(const Box& box) const {
        const auto covers = [&](const geometry::Polygon& p) {
            return box_of(p.outer).overlaps(box) &&
                   (geometry::contains(p, box.min) || geometry::contains(p, box.max) ||
                    geometry::contains(p, box.centre()) || geometry::contains(p, {box.min.x, box.max.y}) ||
                    geometry::contains(p, {box.max.x, box.min.y}));
        };
        return std::any_of(hatched_.begin(), hatched_.end(), covers);
    }

    void label_outside(const PartView& view, const LabelBlock& block) {
        const Box around = view.box.is_empty() ? Box{} : view.box;
        if (around.is_empty()) return;
        const std::optional<OutsidePlace> place = place_outside(block, around, occupied_);
        const Vec2 at = place ? place->centre : Vec2{around.centre().x, around.min.y - block.height_mm() * 0.75};
        const Box box = block.box_at(at);
        if (place && place->needs_leader) leader(around, box, view.source);
        const bool always = is_selected(view.part->id);
        occupied_.add(box);
        add_block(scene_, block, at, always ? 0.0 : 2.0 * block.width_mm(), !place || over_hatch(box), view.source);
    }

    void leader(const Box& part, const Box& label, std::int32_t source) {
        const Vec2 from{std::clamp(part.centre().x, label.min.x, label.max.x),
                        std::clamp(part.centre().y, label.min.y, label.max.y)};
        const Vec2 to{std::clamp(from.x, part.min.x, part.max.x), std::clamp(from.y, part.min.y, part.max.y)};
        scene_.add(Role::Leader, Line{{from, to}, false, Weight::Hair}, source);
    }

    void labels() {
        if (!options_.show_labels) return;
        // Those that must stand outside wait until all that fit inside are placed and known.
        std::vector<std::pair<const PartView*, LabelBlock>> outside;
        for (const PartView& view : views_) {
            bool placed = false;
            if (view.sensitive)
                placed =
                    label_inside(view, block_of(view, true, true)) || label_inside(view, block_of(view, true, false));
            else
                placed = label_inside(view, block_of(view, false, false));
            if (!placed) outside.emplace_back(&view, block_of(view, view.sensitive, false));
        }
        for (const auto& [view, block] : outside)
            label_outside(*view, block);
        keep_out_labels();
        if (options_.show_pad_numbers) pad_numbers();
    }

    void keep_out_labels() {
        std::int32_t source = -1;
        for (const document::KeepOut& keep_out : chart_.keep_outs) {
            ++source; // keep-outs are the scene's first sources, one each
            if (!near(keep_out.side) && !keep_out.through_board) continue;
            const Ring outline = out(keep_out.outline.outer);
            LabelBlock block{.lines = {}, .px_per_mm = options_.px_per_mm};
            block.lines.push_back({keep_out.name.empty() ? plain_words(keep_out.reason) : keep_out.name,
                                   Role::LabelDanger, options_.label_px, true});
            const Box around = box_of(outline);
            std::optional<Vec2> at = place_inside(block, outline, around.centre(), {});
            if (at && occupied_.overlaps(block.box_at(*at))) at = std::nullopt;
            if (!at)
                if (const std::optional<OutsidePlace> place = place_outside(block, around, occupied_))
                    at = place->centre;
            if (!at) continue;
            occupied_.add(block.box_at(*at));
            add_block(scene_, block, *at, 2.0 * block.width_mm(), true, source);
        }
    }

    void pad_numbers() {
        for (const PartView& view : views_)
            for (const document::Pad& pad : view.part->pads) {
                if (pad.number.empty()) continue;
                const Box box = box_of(geometry::transformed(document::outline_in_part(pad), view.scene_from_part));
                scene_.add(Role::LabelPart,
                           Text{.at = box.centre(),
                                .text = pad.number,
                                .height_px = options_.label_px * 0.8,
                                .fit_width_mm = box.width()},
                           view.source);
            }
    }

    void pins() {
        std::size_t number = 0;
        for (const document::Note& note : chart_.notes) {
            ++number;
            if (near(note.side))
                pin(map_(note.at), Role::BadgeNote, Sign::NoteSign, fmt::format("N{}", number), Role::LabelNote,
                    scene_.add_source(note.id));
        }
        number = 0;
        for (const document::Reading& reading : chart_.readings) {
            ++number;
            if (near(reading.side))
                pin(map_(reading.at), Role::Measure, Sign::Cross, fmt::format("M{}", number), Role::LabelMeasure,
                    scene_.add_source(reading.id));
        }
    }

    void pin(Vec2 at, Role role, Sign sign, std::string text, Role text_role, std::int32_t source) {
        const double radius = sign == Sign::Cross ? 5.0 : 7.0;
        scene_.add(role, Symbol{at, sign, radius}, source);
        if (!options_.show_labels) return;
        const Box around = Box{at, at}.grown(mm(radius));
        occupied_.add(around);
        LabelBlock block{.lines = {{std::move(text), text_role, options_.label_px, true}},
                         .px_per_mm = options_.px_per_mm};
        const std::optional<OutsidePlace> place = place_outside(block, around, occupied_);
        const Vec2 centre = place ? place->centre : at + Vec2{mm(radius + 3) + block.width_mm() / 2.0, 0};
        occupied_.add(block.box_at(centre));
        add_block(scene_, block, centre, 2.0 * block.width_mm(), true, source);
    }

    /// The frame of what is selected: for a part in its own axes, else upright.
    Ring frame_of(const document::Id& id, double grow) const {
        for (const PartView& view : views_) {
            if (view.part->id != id) continue;
            Box box = box_of(document::extent_in_part(*view.part));
            for (const document::Pad& pad : view.part->pads)
                box.add(box_of(document::outline_in_part(pad)));
            return framed(box.grown(grow), view.scene_from_part);
        }
        return framed(thing_box(id).grown(grow), map_);
    }

    static Ring framed(const Box& box, const Affine& map) {
        if (box.is_empty()) return {};
        const Ring corners{box.min, {box.max.x, box.min.y}, box.max, {box.min.x, box.max.y}};
        return geometry::transformed(corners, map);
    }

    Box thing_box(const document::Id& id) const {
        for (const Footprint& part : chart_.parts)
            if (part.id == id) return box_of(document::extent_on_board(part));
        for (const document::KeepOut& thing : chart_.keep_outs)
            if (thing.id == id) return geometry::bounds(thing.outline);
        for (const document::Shield& thing : chart_.shields)
            if (thing.id == id) return geometry::bounds(thing.outline);
        for (const document::Note& thing : chart_.notes)
            if (thing.id == id) return Box{thing.at, thing.at}.grown(mm(6));
        for (const document::Reading& thing : chart_.readings)
            if (thing.id == id) return Box{thing.at, thing.at}.grown(mm(6));
        return {};
    }

    void selection() {
        if (options_.hover && !is_selected(*options_.hover)) {
            Ring frame = frame_of(*options_.hover, mm(4));
            if (!frame.empty()) scene_.add(Role::Hover, Line{std::move(frame), true, Weight::Normal});
        }
        for (const document::Id& id : options_.selection) {
            Ring frame = frame_of(id, mm(5));
            if (frame.empty()) continue;
            scene_.add(Role::Selection, Line{frame, true, Weight::Normal});
            for (const Vec2 corner : frame)
                scene_.add(Role::SelectionHandle, Symbol{corner, Sign::Handle, 4.0});
        }
    }

    const Chart& chart_;
    const Reports& reports_;
    const ViewOptions& options_;
    Affine map_;
    Scene scene_;
    std::vector<PartView> views_;
    std::vector<geometry::Polygon> hatched_;
    Occupied occupied_;
};

} // namespace

Scene chart_scene(const Chart& chart, const Reports& reports, const ViewOptions& options) {
    return Builder(chart, reports, options).build();
}

Affine scene_from_board(Side seen_from) {
    return seen_from == Side::Top ? Affine{} : Affine::scaling(-1.0, 1.0);
}

Vec2 scene_from_board(Vec2 board, Side seen_from) {
    return scene_from_board(seen_from)(board);
}

void add_gap(Scene& scene, const geometry::Gap& gap, Side seen_from, double px_per_mm) {
    const Vec2 from = scene_from_board(gap.from, seen_from);
    const Vec2 to = scene_from_board(gap.to, seen_from);
    scene.add(Role::Measure, Line{{from, to}, false, Weight::Thin});
    const double span = geometry::distance(from, to);
    if (span > 1e-9) {
        const Vec2 along = (to - from) / span;
        const Vec2 across{-along.y, along.x};
        const double head = std::min(9.0 / px_per_mm, span * 0.3);
        for (const auto& [tip, back] : {std::pair{from, along}, std::pair{to, -along}})
            scene.add(Role::Measure,
                      Fill{{{tip, tip + back * head + across * (head * 0.4), tip + back * head - across * (head * 0.4)},
                            {}}});
    }
    scene.add(Role::LabelMeasure, Text{.at = geometry::lerp(from, to, 0.5),
                                       .text = number(gap.mm, gap.mm < 1 ? 2 : 1) + " mm",
                                       .height_px = 11.5,
                                       .strong = true,
                                       .halo = true});
}

} // namespace padchart::scene
