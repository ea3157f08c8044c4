#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "patterns/material.hpp"
#include "scene/badges.hpp"
#include "scene/canvas.hpp"
#include "scene/labels.hpp"
#include "scene/turn_handle.hpp"
#include "scene/words.hpp"

namespace padchart::scene {

using geometry::Box;
using geometry::Ring;
using geometry::Vec2;

namespace {

constexpr double kNoteRadius_px = 7.0;
constexpr double kReadingRadius_px = 4.5;

enum class Detail { Name, NameAndLimit, NameClassAndLimit };

class Annotator {
public:
    explicit Annotator(Canvas& canvas)
        : canvas_(canvas), scene_(canvas.scene), options_(canvas.options),
          occupied_(std::max(1.0, 40.0 / canvas.options.px_per_mm)), written_(occupied_), in_the_way_(occupied_),
          bodies_(occupied_) {}

    void add() {
        for (const PartView& view : canvas_.views) {
            occupied_.add(around(view));
            occupied_.add(view.mark_box);
            // What stands in a can is reached over the can.
            if (!view.is_cover) bodies_.add(view.body_box);
        }
        for (const Box& box : canvas_.avoided)
            occupied_.add(box);
        for (const Box& label : canvas_.taken)
            take(label);
        turn_handle();
        board_edge();
        badges();
        place_pins();
        if (options_.show_labels) labels();
        pins();
    }

private:
    [[nodiscard]] double mm(double px) const { return canvas_.mm(px); }

    /// The part with its lands, and its selection frame.
    [[nodiscard]] Box around(const PartView& view) const {
        return canvas_.is_selected(view.part->id) ? view.box.grown(mm(8)) : view.box;
    }

    /// Nothing else is written here any more.
    void take(const Box& label) {
        occupied_.add(label);
        written_.add(label);
        in_the_way_.add(label);
    }

    void turn_handle() {
        Box selected;
        for (const PartView& view : canvas_.views)
            if (canvas_.has_handles(view.part->id)) selected.add(view.box);
        if (selected.is_empty()) return;
        const double x = selected.centre().x, half = mm(kTurnHandleRadius_px + 2);
        const double top = selected.min.y - mm(kTurnHandle_px + kTurnHandleRadius_px + 2);
        occupied_.add({{x - half, top}, {x + half, selected.min.y}});
    }

    /// In short pieces, so that a slanted edge does not take the whole box round it.
    void board_edge() {
        if (!canvas_.chart.board.outline) return;
        const geometry::Polygon outline = geometry::transformed(*canvas_.chart.board.outline, canvas_.map);
        const double piece = mm(options_.label_px);
        const auto add_ring = [&](const Ring& ring) {
            for (std::size_t i = 0; i < ring.size(); ++i) {
                const Vec2 a = ring[i];
                const Vec2 b = ring[(i + 1) % ring.size()];
                const int count = static_cast<int>(std::min(2000.0, std::ceil(geometry::distance(a, b) / piece)));
                for (int k = 0; k < count; ++k) {
                    Box box;
                    box.add(geometry::lerp(a, b, static_cast<double>(k) / count));
                    box.add(geometry::lerp(a, b, static_cast<double>(k + 1) / count));
                    occupied_.add(box.grown(mm(1.5)));
                }
            }
        };
        add_ring(outline.outer);
        for (const Ring& hole : outline.holes)
            add_ring(hole);
    }

    void badges() {
        Occupied signs = Occupied(occupied_.cell_mm());
        // Beside its handles a sign has its place; those of others make way for it.
        for (const PartView& view : canvas_.views)
            if (canvas_.has_handles(view.part->id))
                for (const Badge& badge : badges_of(view, canvas_))
                    signs.add(badge.box(canvas_));
        for (PartView& view : canvas_.views)
            for (Badge& badge : badges_of(view, canvas_)) {
                if (!canvas_.has_handles(view.part->id)) step_aside(badge, signs, canvas_);
                const Box box = badge.box(canvas_);
                signs.add(box);
                occupied_.add(box);
                view.badge_box.add(box);
                scene_.add(badge.role, badge.symbol, view.source);
            }
    }

    [[nodiscard]] LabelBlock block_of(const PartView& view, Detail detail) const {
        const document::Footprint& part = *view.part;
        const double px = options_.label_px;
        const bool full = detail == Detail::NameClassAndLimit;
        LabelBlock block{.lines = {}, .px_per_mm = options_.px_per_mm};
        const Role role = part.name.empty()              ? Role::LabelMuted
                          : canvas_.is_selected(part.id) ? Role::Selection
                                                         : Role::LabelPart;
        const std::string nameless = part.body ? "no name" : "loose pads";
        block.lines.push_back({part.name.empty() ? nameless : part.name, role, full ? px * 1.3 : px, true});
        if (detail == Detail::Name) return block;
        if (full && part.part_class != document::PartClass::Unknown)
            block.lines.push_back({in_words(part.part_class), Role::LabelMuted, px, false});
        if (const std::optional<patterns::HeatLimits> limits = patterns::limits_of(part))
            block.lines.push_back({(full ? "limit " : "≤ ") + celsius(limits->limit_c), Role::LabelDanger, px, true});
        return block;
    }

    /// Letters over a pad's edge cannot be read; wholly on one land they can.
    [[nodiscard]] bool is_legible(const PartView& view, const Box& text) const {
        const Box airy = text.grown(mm(2.5));
        return std::none_of(view.pads_on_top.begin(), view.pads_on_top.end(), [&](const Box& pad) {
            return pad.overlaps(airy) && !(pad.contains(text.min) && pad.contains(text.max));
        });
    }

    /// Mark and badge, and pins of notes and readings that stand on the part.
    [[nodiscard]] std::vector<Box> taken_in(const PartView& view) const {
        std::vector<Box> taken{view.mark_box, view.badge_box};
        for (const Box& pin : pins_)
            if (pin.overlaps(view.body_box)) taken.push_back(pin);
        return taken;
    }

    bool label_inside(const PartView& view, Detail detail) {
        if (view.outline.empty()) return false;
        const LabelBlock block = block_of(view, detail);
        const Ring& room = view.inner.empty() ? view.outline : view.inner;
        const std::optional<Vec2> at = place_inside(block, room, view.body_box.centre(), taken_in(view));
        if (!at || !is_legible(view, block.box_at(*at))) return false;
        // The name of a part that stands in it, such as in a shield can, may be there already.
        if (written_.overlaps(block.box_at(*at)) || is_over_another(view, block.box_at(*at))) return false;
        take(block.box_at(*at));
        const Span span = chord(room, *at);
        add_block(scene_, block, *at, 2.0 * std::min(span.right - at->x, at->x - span.left), false, view.source);
        return true;
    }

    /// A can's name on a part below it would be read as that part's own.
    [[nodiscard]] bool is_over_another(const PartView& can, const Box& text) const {
        return can.is_cover && std::any_of(canvas_.views.begin(), canvas_.views.end(), [&](const PartView& view) {
                   return view.part != can.part && view.box.overlaps(text);
               });
    }

    [[nodiscard]] bool is_over_hatch(const Box& box) const {
        const auto covers = [&](const geometry::Polygon& p) {
            if (!geometry::bounds(p).overlaps(box)) return false;
            const Vec2 points[] = {box.min, box.max, box.centre(), {box.min.x, box.max.y}, {box.max.x, box.min.y}};
            return std::any_of(std::begin(points), std::end(points),
                               [&](Vec2 point) { return geometry::contains(p, point); });
        };
        return std::any_of(canvas_.hatched.begin(), canvas_.hatched.end(), covers);
    }

    template <class Visit>
    bool along(const Lead& lead, const Visit& visit) const {
        return pieces_along(lead, options_.px_per_mm, visit);
    }

    /// Neither over another part nor over words nor over another such line: it would seem to lead there.
    [[nodiscard]] bool leads_freely(const Box& label, const Box& part) const {
        return along(lead_between(label, part),
                     [&](const Box& piece) { return !in_the_way_.overlaps(piece) && !bodies_.overlaps(piece); });
    }

    /// A pin may stand on a part, which its line then has to leave.
    [[nodiscard]] bool leads_freely_off(const Box& label, const Box& pin) const {
        return along(lead_between(label, pin), [&](const Box& piece) { return !in_the_way_.overlaps(piece); });
    }

    void leader(const Box& part, const Box& label, std::int32_t source) {
        const Lead lead = lead_between(label, part);
        scene_.add(Role::Leader, Line{{lead.from, lead.to}, false, Weight::Hair}, source);
        along(lead, [&](const Box& piece) {
            in_the_way_.add(piece);
            return true;
        });
    }

    [[nodiscard]] std::optional<OutsidePlace> beside(const LabelBlock& block, const Box& part) const {
        return place_outside(block, part, occupied_, [&](const Box& label) { return leads_freely(label, part); });
    }

    void label_outside(const PartView& view, Detail detail) {
        const Box part = around(view);
        if (part.is_empty()) return;
        const LabelBlock block = block_of(view, detail);
        const std::optional<OutsidePlace> place = beside(block, part);
        // Where all is taken the name stands on the part itself, on a plate: a part without its name is worse than a
        // part that is partly covered. Two names over each other would be none; nearer by, both are there.
        const Vec2 at = place ? place->centre : part.centre();
        const Box box = block.box_at(at);
        if (!place && written_.overlaps(box) && !canvas_.is_selected(view.part->id)) return;
        if (place && place->needs_leader) leader(part, box, view.source);
        take(box);
        const double fit = canvas_.is_selected(view.part->id) ? 0.0 : 2.0 * block.width_mm();
        add_block(scene_, block, at, fit, !place || is_over_hatch(box), view.source);
    }

    void labels() {
        // Those that must stand outside wait until all that fit inside are placed and known.
        std::vector<const PartView*> outside;
        for (const PartView& view : canvas_.views) {
            const bool placed = view.sensitive ? label_inside(view, Detail::NameClassAndLimit) ||
                                                     label_inside(view, Detail::NameAndLimit)
                                               : label_inside(view, Detail::Name);
            const bool is_wanted = !options_.only_names_that_fit || canvas_.is_selected(view.part->id);
            if (!placed && is_wanted) outside.push_back(&view);
        }
        for (const PartView* view : outside)
            label_outside(*view, view->sensitive ? Detail::NameAndLimit : Detail::Name);
        if (!options_.only_names_that_fit)
            for (const KeepOutView& view : canvas_.keep_outs)
                keep_out_label(view);
        if (options_.show_far_side) far_side_labels();
        if (options_.show_pad_numbers) pad_numbers();
    }

    void keep_out_label(const KeepOutView& view) {
        const document::KeepOut& keep_out = *view.keep_out;
        LabelBlock block{.lines = {}, .px_per_mm = options_.px_per_mm};
        const bool is_off = keep_out.measure == document::Measure::Removed;
        block.lines.push_back({keep_out.name.empty() ? plain_words(keep_out.reason) : keep_out.name,
                               is_off ? Role::LabelMuted : Role::LabelDanger, options_.label_px, true});
        if (is_off) block.lines.push_back({"removed", Role::LabelMuted, options_.label_px, false});
        if (keep_out.limit_c && !is_off)
            block.lines.push_back({"≤ " + celsius(*keep_out.limit_c), Role::LabelDanger, options_.label_px, true});
        const Box area = geometry::bounds(view.outline);
        std::optional<Vec2> at = place_inside(block, view.outline.outer, area.centre(), {});
        if (at && occupied_.overlaps(block.box_at(*at))) at = std::nullopt;
        if (!at)
            if (const std::optional<OutsidePlace> place = beside(block, area)) at = place->centre;
        if (!at) return;
        take(block.box_at(*at));
        add_block(scene_, block, *at, 2.0 * block.width_mm(), true, view.source);
    }

    /// What heat would hurt through the board is named, where there is room for it.
    void far_side_labels() {
        for (const document::Footprint& part : canvas_.chart.parts) {
            if (canvas_.is_near(part.placement.side) || part.name.empty()) continue;
            if (!analysis::is_heat_sensitive(part)) continue;
            const Ring outline = geometry::transformed(document::extent_on_board(part), canvas_.map);
            if (outline.empty()) continue;
            const LabelBlock block{.lines = {{part.name, Role::LabelMuted, options_.label_px, true},
                                             {"far side", Role::LabelMuted, options_.label_px, false}},
                                   .px_per_mm = options_.px_per_mm};
            const Vec2 at = geometry::bounds(outline).centre();
            if (occupied_.overlaps(block.box_at(at))) continue;
            take(block.box_at(at));
            add_block(scene_, block, at, 1.5 * block.width_mm(), is_over_hatch(block.box_at(at)), -1);
        }
    }

    void pad_numbers() {
        for (const PartView& view : canvas_.views)
            for (const document::Pad& pad : view.part->pads) {
                if (pad.number.empty()) continue;
                const Ring outline = geometry::transformed(document::outline_in_part(pad), view.scene_from_part);
                const Box box = geometry::bounds(outline);
                Text text{.at = box.centre(),
                          .text = pad.number,
                          .height_px = options_.label_px * 0.8,
                          .fit_width_mm = box.width()};
                const Box letters = box_of(text, options_.px_per_mm);
                if (written_.overlaps(letters)) continue; // the name of the part on its large land
                if (letters.width() <= box.width()) written_.add(letters);
                scene_.add(Role::LabelPart, std::move(text), view.source);
            }
    }

    void place_pins() {
        const auto place = [&](Vec2 on_board, double radius_px) {
            const Vec2 at = canvas_.map(on_board);
            pins_.push_back(Box{at, at}.grown(mm(radius_px)));
            occupied_.add(pins_.back());
        };
        for (const document::Note& note : canvas_.chart.notes)
            if (canvas_.is_near(note.side)) place(note.at, kNoteRadius_px);
        for (const document::Reading& reading : canvas_.chart.readings)
            if (canvas_.is_near(reading.side)) place(reading.at, kReadingRadius_px);
    }

    void pins() {
        // Numbered as in the lists of the sheet, whichever side they are on.
        std::size_t number = 0;
        for (const document::Note& note : canvas_.chart.notes) {
            const std::string name = fmt::format("N{}", ++number);
            if (canvas_.is_near(note.side))
                pin(note.at, {Role::BadgeNote, Sign::NoteSign, kNoteRadius_px}, {name, Role::LabelNote}, note.id);
        }
        number = 0;
        for (const document::Reading& reading : canvas_.chart.readings) {
            const std::string name = fmt::format("M{}", ++number);
            if (canvas_.is_near(reading.side))
                pin(reading.at, {Role::Measure, Sign::Cross, kReadingRadius_px}, {name, Role::LabelMeasure},
                    reading.id);
        }
    }

    struct PinSign {
        Role role;
        Sign sign;
        double radius_px;
    };
    struct PinName {
        std::string text;
        Role role;
    };
    void pin(Vec2 on_board, PinSign sign, PinName name, const document::Id& id) {
        const Vec2 at = canvas_.map(on_board);
        const std::int32_t source = scene_.add_source(id);
        scene_.add(sign.role, Symbol{at, sign.sign, sign.radius_px}, source);
        if (!options_.show_labels) return;
        const Box area = Box{at, at}.grown(mm(sign.radius_px));
        const LabelBlock block{.lines = {{std::move(name.text), name.role, options_.label_px, true}},
                               .px_per_mm = options_.px_per_mm};
        const std::optional<OutsidePlace> place =
            place_outside(block, area, occupied_, [&](const Box& label) { return leads_freely_off(label, area); });
        const std::optional<Vec2> centre = place ? place->centre : beside_sign_off_words(block, area);
        if (!centre) return;
        if (place && place->needs_leader) leader(area, block.box_at(*centre), source);
        take(block.box_at(*centre));
        add_block(scene_, block, *centre, 2.0 * block.width_mm(), !place || is_over_hatch(block.box_at(*centre)),
                  source);
    }

    /// Right beside a sign, over what is drawn there if need be, but never at the throat of other words.
    [[nodiscard]] std::optional<Vec2> beside_sign_off_words(const LabelBlock& block, const Box& sign) const {
        const double across = (sign.width() + block.width_mm()) / 2.0 + mm(3);
        const double along = (sign.height() + block.height_mm()) / 2.0 + mm(3);
        for (const Vec2 way : {Vec2{across, 0}, Vec2{-across, 0}, Vec2{0, along}, Vec2{0, -along}})
            if (!written_.overlaps(block.box_at(sign.centre() + way).grown(mm(5)))) return sign.centre() + way;
        return std::nullopt;
    }

    Canvas& canvas_;
    Scene& scene_;
    const ViewOptions& options_;
    Occupied occupied_;   ///< by anything a label beside a part must keep clear of
    Occupied written_;    ///< by words alone
    Occupied in_the_way_; ///< of a line from a name to its part: words and other such lines
    Occupied bodies_;     ///< of parts but cans
    std::vector<Box> pins_;
};

} // namespace

void add_annotations(Canvas& canvas) {
    Annotator(canvas).add();
}

} // namespace padchart::scene
