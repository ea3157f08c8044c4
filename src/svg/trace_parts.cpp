#include "svg/trace_parts.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <optional>
#include <set>

#include "geometry/box_index.hpp"
#include "geometry/segment.hpp"
#include "svg/free_ids.hpp"
#include "svg/trace_names.hpp"
#include "svg/trace_shapes.hpp"

namespace padchart::svg {
namespace {

using document::Footprint;
using document::MarkKind;
using document::Side;
using geometry::Affine;
using geometry::Ring;
using geometry::Vec2;

/// A pad whose edge is this near to a body, in its own longest sides, is taken for one of its leads.
constexpr double kLeadReach = 0.75;

struct Pending {
    const TraceItem* body = nullptr;
    std::string name;
    std::string role;
    Side side = Side::Top;
    bool sensitive = false;
    std::vector<const TraceItem*> pads;
    std::vector<const TraceItem*> marks;
    std::size_t first_shape = std::numeric_limits<std::size_t>::max();

    void touch(const TraceItem& item) { first_shape = std::min(first_shape, item.shape); }
};

const Ring& largest_ring(const TraceItem& item) {
    return *std::max_element(item.rings.begin(), item.rings.end(), [](const Ring& a, const Ring& b) {
        return std::abs(geometry::signed_area(a)) < std::abs(geometry::signed_area(b));
    });
}

/// Which of the rings begin inside a larger one.
std::vector<bool> holes_among(const std::vector<Ring>& rings) {
    std::vector<bool> holes(rings.size(), false);
    if (rings.size() < 2) return holes;
    std::vector<geometry::Box> boxes;
    std::vector<double> areas;
    for (const Ring& ring : rings) {
        boxes.push_back(geometry::bounds(ring));
        areas.push_back(std::abs(geometry::signed_area(ring)));
    }
    const geometry::BoxIndex index(boxes); // one path may hold a hundred thousand rings
    for (std::size_t i = 0; i < rings.size(); ++i)
        for (const std::size_t other : index.touching({rings[i].front(), rings[i].front()}))
            holes[i] = holes[i] || (areas[other] > areas[i] && geometry::contains(rings[other], rings[i].front()));
    return holes;
}

class PartBuilder {
public:
    PartBuilder(const std::vector<TraceItem>& items, double tolerance, TraceLog& log)
        : items_(items), tolerance_(tolerance), log_(log) {}

    void run() {
        collect_bodies();
        index_bodies();
        for (const TraceItem& item : items_)
            if (item.role == Role::Pad && !item.rings.empty()) place_pad(item);
        for (const TraceItem& item : items_)
            if (item.role == Role::Mark) place_mark(item);
        finish();
    }

private:
    // Who belongs to whom -----------------------------------------------------------------------------------------

    void collect_bodies() {
        for (const TraceItem& item : items_) {
            if (item.role != Role::Body || item.rings.empty()) continue;
            const std::size_t at = pending_.size();
            Pending part;
            part.body = &item;
            part.name = item.part_name;
            part.role = item.part_role;
            part.side = item.side;
            part.sensitive = item.sensitive;
            part.touch(item);
            if (!part.name.empty() && !by_name_.try_emplace({part.name, part.side}, at).second)
                log_.find(Severity::Warning, "name-twice",
                          log_.name_of(item.shape) + " is a second body named " + part.name +
                              ": taken as a part of its own",
                          item.shape);
            for (std::int32_t group = log_.drawing.shapes[item.shape].group; group >= 0; group = parent_of(group))
                bodies_in_[group].push_back(at);
            pending_.push_back(std::move(part));
        }
        bodies_ = pending_.size();
    }

    void index_bodies() {
        std::vector<geometry::Box> boxes;
        for (const Pending& part : pending_)
            boxes.push_back(part.body->box);
        index_.emplace(boxes);
    }

    [[nodiscard]] std::int32_t parent_of(std::int32_t group) const {
        return log_.drawing.groups[static_cast<std::size_t>(group)].parent;
    }

    [[nodiscard]] std::optional<std::size_t> named(const std::string& name, Side side) const {
        const auto found = by_name_.find({name, side});
        return found == by_name_.end() ? std::nullopt : std::optional(found->second);
    }

    /// The only body in the nearest group that holds any, of the same side.
    [[nodiscard]] std::optional<std::size_t> in_same_group(const TraceItem& item) const {
        for (std::int32_t group = log_.drawing.shapes[item.shape].group; group >= 0; group = parent_of(group)) {
            const auto found = bodies_in_.find(group);
            if (found == bodies_in_.end()) continue;
            if (found->second.size() != 1 || pending_[found->second[0]].side != item.side) return std::nullopt;
            return found->second[0];
        }
        return std::nullopt;
    }

    /// The smallest body round the middle of the item, else the nearest one within `reach`.
    [[nodiscard]] std::optional<std::size_t> by_place(const TraceItem& item, double reach) const {
        const Vec2 centre = item.box.centre();
        std::optional<std::size_t> best;
        double best_area = std::numeric_limits<double>::infinity();
        std::optional<std::size_t> nearest;
        double nearest_gap = reach;
        for (const std::size_t at : index_->touching(item.box.grown(reach))) {
            if (pending_[at].side != item.side) continue;
            const Ring& ring = largest_ring(*pending_[at].body);
            const double area = std::abs(geometry::signed_area(ring));
            if (geometry::contains(ring, centre)) {
                if (area < best_area) {
                    best = at;
                    best_area = area;
                }
                continue;
            }
            const double gap = gap_to_outside(ring, item);
            if (gap < nearest_gap) {
                nearest = at;
                nearest_gap = gap;
            }
        }
        return best ? best : nearest;
    }

    /// From the body's edge to the nearest vertex or edge of a shape whose middle lies outside it; 0 where they
    /// overlap.
    [[nodiscard]] static double gap_to_outside(const Ring& body, const TraceItem& item) {
        double gap = std::numeric_limits<double>::infinity();
        for (const Ring& ring : item.rings) {
            for (const Vec2 p : ring)
                gap = geometry::contains(body, p) ? 0.0 : std::min(gap, geometry::distance_to_closed_line(p, body));
            if (ring.size() >= 3)
                for (const Vec2 p : body)
                    gap = geometry::contains(ring, p) ? 0.0 : std::min(gap, geometry::distance_to_closed_line(p, ring));
        }
        return gap;
    }

    void place_pad(const TraceItem& item) {
        const double longest = std::max(item.box.width(), item.box.height());
        std::optional<std::size_t> at;
        if (!item.part_name.empty()) at = named(item.part_name, item.side);
        // "B2" may be a ball's number or a part's name: a name only where there is such a part.
        const bool is_number = item.bare_name && !at;
        if (item.bare_name && !is_number) numberless_.insert(&item);
        const std::string& name = is_number ? item.group_name : item.part_name;
        // Two bodies may bear one name by mistake: then the group tells.
        const auto grouped = in_same_group(item);
        if (grouped && !name.empty() && pending_[*grouped].name == name) at = grouped;
        if (!at && !name.empty()) at = named(name, item.side);
        if (!at && name.empty()) at = grouped;
        if (!at && name.empty()) at = by_place(item, kLeadReach * longest);
        if (!at) at = name.empty() ? group_part(item) : add_without_body(name, item);
        Pending& part = pending_[*at];
        part.pads.push_back(&item);
        part.touch(item);
        if (part.role.empty() && name == part.name) part.role = item.part_role;
    }

    std::size_t add_without_body(const std::string& name, const TraceItem& item) {
        Pending part;
        part.name = name;
        part.role = item.part_role;
        part.side = item.side;
        part.sensitive = item.sensitive;
        pending_.push_back(std::move(part));
        if (!name.empty()) by_name_[{name, item.side}] = pending_.size() - 1;
        return pending_.size() - 1;
    }

    /// Pads that belong to nobody: one part for each group.
    std::size_t group_part(const TraceItem& item) {
        const std::int32_t group = log_.drawing.shapes[item.shape].group;
        const auto [found, is_new] = by_group_.try_emplace({group, item.side}, 0);
        if (is_new) {
            found->second = add_without_body({}, item);
            log_.find(Severity::Warning, "pads-without-body",
                      log_.name_of(item.shape) + " lies in no body and names no part: taken as a part of its own with "
                                                 "the other such pads of its group",
                      item.shape);
        }
        return found->second;
    }

    void place_mark(const TraceItem& item) {
        std::optional<std::size_t> at = in_same_group(item);
        if (at && !item.part_name.empty() && pending_[*at].name != item.part_name) at.reset();
        if (!at && !item.part_name.empty()) at = named(item.part_name, item.side);
        if (!at) at = by_place(item, 0.5 * std::max(item.box.width(), item.box.height()) + tolerance_);
        if (!at) {
            log_.find(Severity::Warning, "mark-without-body",
                      log_.name_of(item.shape) + " is a mark outside of every body: left out", item.shape);
            log_.account(item.shape, Role::Mark, {}, "left out: no body");
            return;
        }
        pending_[*at].marks.push_back(&item);
    }

    // From what belongs together to a part ------------------------------------------------------------------------

    void finish() {
        std::vector<std::size_t> order(pending_.size());
        for (std::size_t i = 0; i < order.size(); ++i)
            order[i] = i;
        std::sort(order.begin(), order.end(),
                  [&](std::size_t a, std::size_t b) { return pending_[a].first_shape < pending_[b].first_shape; });
        for (const std::size_t at : order)
            add_part(pending_[at]);
    }

    [[nodiscard]] std::string key_of_part(const Pending& part) const {
        if (!part.name.empty()) return part.name + (part.side == Side::Bottom ? "@bottom" : "");
        return key_of(log_.drawing, log_.drawing.shapes[part.first_shape]);
    }

    void add_part(const Pending& pending) {
        if (pending.body == nullptr && pending.pads.empty()) return;
        Footprint part;
        part.name = pending.name;
        part.role = pending.role;
        part.trace_key = key_of_part(pending);
        part.id = free_ids_.take("part", part.trace_key);
        part.placement.side = pending.side;
        if (pending.sensitive)
            part.heat = document::HeatSensitivity{{}, {}, {}, "drawn in a layer named sensitive", {}};
        std::optional<PlacedShape> body;
        if (pending.body != nullptr) body = recognised(largest_ring(*pending.body), tolerance_);
        place(part, pending, body);
        const Affine to_part = document::board_from_part(part.placement).inverse();
        if (body) {
            const auto [shape, at, turn] = in_part(*body, to_part);
            part.body = document::Body{at, turn, shape, {}};
            account_body(*pending.body, part);
        }
        for (const TraceItem* pad : pending.pads)
            add_pad(part, *pad, to_part);
        for (const TraceItem* mark : pending.marks)
            add_mark(part, *mark, to_part);
        if (part.name.empty())
            log_.find(Severity::Warning, "no-name",
                      "a part at x " + to_hundredths(part.placement.at.x) + ", y " +
                          to_hundredths(part.placement.at.y) + log_.unit() +
                          " has no name: give its group or body an id or label such as U4",
                      pending.first_shape, part.id);
        log_.result.chart.parts.add(std::move(part));
    }

    static std::string to_hundredths(double length) {
        const std::string text = std::to_string(std::round(length * 100.0) / 100.0);
        return text.substr(0, text.size() - 4);
    }

    void place(Footprint& part, const Pending& pending, const std::optional<PlacedShape>& body) const {
        if (body) {
            part.placement.at = tidy(body->at);
            const bool drawn_as_rect = log_.drawing.shapes[pending.body->shape].kind == Kind::Rect;
            const bool has_axis =
                body->shape.kind == document::ShapeKind::Rectangle || body->shape.kind == document::ShapeKind::Oblong;
            if (has_axis)
                part.placement.turn = turn_of(*body, pending.side, drawn_as_rect && pending.side == Side::Top);
            return;
        }
        geometry::Box box;
        for (const TraceItem* pad : pending.pads)
            box.add(pad->box);
        part.placement.at = tidy(box.centre());
    }

    /// A rect keeps the turn it was drawn with; any other rectangle has four, the least one counts.
    static Angle turn_of(const PlacedShape& body, Side side, bool keeps_turn) {
        const Vec2 seen = side == Side::Bottom ? Vec2{-body.axis.x, body.axis.y} : body.axis;
        double degrees = geometry::bearing(seen).degrees();
        if (!keeps_turn) {
            degrees = std::remainder(degrees, 90.0);
            if (degrees <= -45.0) degrees += 90.0;
        }
        // A thousandth of a degree is far below what a hand draws: 0 is meant.
        const double whole = std::round(degrees / 90.0) * 90.0;
        return Angle::degrees(std::abs(degrees - whole) < 1e-3 ? whole : tidy_degrees(degrees)).wrapped();
    }

    struct ShapeInPart {
        document::Shape shape;
        Vec2 at;
        Angle turn;
    };

    static double tidy_degrees(double degrees) { return tidy(degrees); }

    static ShapeInPart in_part(const PlacedShape& placed, const Affine& to_part) {
        ShapeInPart out{placed.shape, tidy(to_part(placed.at)), {}};
        out.shape.width_mm = tidy(out.shape.width_mm);
        out.shape.height_mm = tidy(out.shape.height_mm);
        if (placed.shape.kind == document::ShapeKind::Polygon) {
            for (Vec2& p : out.shape.points)
                p = tidy(to_part.linear(p));
            return out;
        }
        if (placed.shape.kind == document::ShapeKind::Round) return out;
        // Half a turn is no turn for these; a quarter swaps the sides.
        double degrees = tidy_degrees(std::remainder(geometry::bearing(to_part.linear(placed.axis)).degrees(), 180.0));
        if (std::abs(degrees) == 90.0) {
            std::swap(out.shape.width_mm, out.shape.height_mm);
            const bool upright_oblong = placed.shape.kind == document::ShapeKind::Oblong;
            if (upright_oblong) std::swap(out.shape.width_mm, out.shape.height_mm);
            degrees = upright_oblong ? 90.0 : 0.0;
        }
        out.turn = Angle::degrees(degrees).wrapped();
        return out;
    }

    void account_body(const TraceItem& item, const Footprint& part) {
        log_.account(item.shape, Role::Body, part.id, "body of " + shown(part));
        if (item.rings.size() > 1)
            log_.find(Severity::Note, "body-rings",
                      log_.name_of(item.shape) + " has more than one ring: the largest is the body", item.shape,
                      part.id);
    }

    static std::string shown(const Footprint& part) { return part.name.empty() ? "a part without a name" : part.name; }

    void add_pad(Footprint& part, const TraceItem& item, const Affine& to_part) {
        const std::vector<bool> holes = holes_among(item.rings);
        for (std::size_t i = 0; i < item.rings.size(); ++i) {
            const Ring& ring = item.rings[i];
            if (holes[i]) {
                log_.find(Severity::Note, "pad-hole", log_.name_of(item.shape) + " has a hole: the land is taken whole",
                          item.shape, part.id);
                continue;
            }
            const auto [shape, at, turn] = in_part(recognised(ring, tolerance_), to_part);
            document::Pad pad;
            pad.number = numberless_.contains(&item) ? std::string() : item.pad_number;
            pad.at = at;
            pad.turn = turn;
            pad.shape = shape;
            part.pads.push_back(std::move(pad));
        }
        log_.account(item.shape, Role::Pad, part.id,
                     "pad " + (item.pad_number.empty() ? std::string() : item.pad_number + " ") + "of " + shown(part));
    }

    void add_mark(Footprint& part, const TraceItem& item, const Affine& to_part) {
        if (part.orientation.state == document::RecordState::Recorded) {
            log_.find(Severity::Warning, "mark-twice",
                      log_.name_of(item.shape) + " is a second mark of " + shown(part) + ": the first is kept",
                      item.shape, part.id);
            log_.account(item.shape, Role::Mark, part.id, "left out: second mark of " + shown(part));
            return;
        }
        const Vec2 from_centre = to_part(item.box.centre()) - document::centre_in_part(part);
        if (geometry::length(from_centre) < tolerance_) {
            log_.find(Severity::Warning, "mark-in-middle",
                      log_.name_of(item.shape) + " lies in the middle of " + shown(part) +
                          ": it points nowhere and is left out",
                      item.shape, part.id);
            log_.account(item.shape, Role::Mark, part.id, "left out: in the middle");
            return;
        }
        part.orientation.state = document::RecordState::Recorded;
        part.orientation.mark = item.mark ? *item.mark : drawn_mark(item, part);
        part.orientation.bearing = Angle::degrees(tidy_degrees(geometry::bearing(from_centre).degrees())).wrapped();
        part.orientation.evidence.kind = document::EvidenceKind::Photo;
        part.orientation.evidence.note = "drawn in the trace";
        log_.account(item.shape, Role::Mark, part.id, "mark of " + shown(part));
    }

    /// What a mark without a name looks like.
    MarkKind drawn_mark(const TraceItem& item, const Footprint& part) const {
        const DrawnShape& shape = log_.drawing.shapes[item.shape];
        if (shape.kind == Kind::Circle || shape.kind == Kind::Ellipse) return MarkKind::Dot;
        if (item.rings.empty() || item.rings[0].size() < 3) return MarkKind::Line;
        const PlacedShape seen = recognised(item.rings[0], tolerance_);
        if (seen.shape.kind == document::ShapeKind::Round) return MarkKind::Dot;
        if (seen.shape.kind == document::ShapeKind::Polygon)
            return seen.shape.points.size() == 3 ? MarkKind::Triangle : MarkKind::Unknown;
        const double longer = std::max(seen.shape.width_mm, seen.shape.height_mm);
        const double shorter = std::min(seen.shape.width_mm, seen.shape.height_mm);
        if (longer < 2.0 * shorter) return MarkKind::Unknown;
        // A stripe right across the body is a band, a shorter one a bar.
        const geometry::Box box = geometry::bounds(document::extent_in_part(part));
        return longer > 0.9 * std::min(box.width(), box.height()) ? MarkKind::Band : MarkKind::Bar;
    }

    const std::vector<TraceItem>& items_;
    const double tolerance_;
    TraceLog& log_;
    std::vector<Pending> pending_;
    std::size_t bodies_ = 0;
    std::map<std::pair<std::string, Side>, std::size_t> by_name_;
    std::map<std::pair<std::int32_t, Side>, std::size_t> by_group_;
    std::map<std::int32_t, std::vector<std::size_t>> bodies_in_;
    std::set<const TraceItem*> numberless_;
    FreeIds free_ids_;
    std::optional<geometry::BoxIndex> index_;
};

} // namespace

void add_parts(const std::vector<TraceItem>& items, double tolerance_mm, TraceLog& log) {
    PartBuilder(items, tolerance_mm, log).run();
}

} // namespace padchart::svg
