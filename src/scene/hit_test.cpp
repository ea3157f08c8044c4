#include "scene/hit_test.hpp"
#include "geometry/segment.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_set>

namespace padchart::scene {

using geometry::Box;
using geometry::Vec2;

namespace {

constexpr std::int64_t kManyCells = 64;

double distance_to_lines(Vec2 p, std::span<const Vec2> points, bool closed) {
    if (points.size() == 1) return geometry::distance(p, points.front());
    double nearest = 1e12;
    const std::size_t count = closed ? points.size() : points.size() - 1;
    for (std::size_t i = 0; i < count && !points.empty(); ++i)
        nearest = std::min(nearest, geometry::distance_to_segment(p, points[i], points[(i + 1) % points.size()]));
    return nearest;
}

bool segment_meets_box(Vec2 a, Vec2 b, const Box& box) {
    // Liang and Barsky's clipping: what is left of the segment after the four half planes.
    double first = 0.0;
    double last = 1.0;
    const Vec2 d = b - a;
    const auto clip = [&](double step, double room) {
        if (step == 0.0) return room >= 0.0;
        const double t = room / step;
        if (step < 0.0)
            first = std::max(first, t);
        else
            last = std::min(last, t);
        return first <= last;
    };
    return clip(-d.x, a.x - box.min.x) && clip(d.x, box.max.x - a.x) && clip(-d.y, a.y - box.min.y) &&
           clip(d.y, box.max.y - a.y);
}

bool lines_meet_box(std::span<const Vec2> points, bool closed, const Box& box) {
    if (points.size() == 1) return box.contains(points.front());
    const std::size_t count = closed ? points.size() : points.size() - 1;
    for (std::size_t i = 0; i < count && !points.empty(); ++i)
        if (segment_meets_box(points[i], points[(i + 1) % points.size()], box)) return true;
    return false;
}

bool area_meets_box(const geometry::Polygon& area, const Box& box) {
    if (lines_meet_box(area.outer, true, box)) return true;
    for (const geometry::Ring& hole : area.holes)
        if (lines_meet_box(hole, true, box)) return true;
    return geometry::contains(area, box.centre());
}

Box box_of(const Scene& scene, const Item& item) {
    switch (item.kind) {
    case Item::Kind::Fill: return geometry::bounds(scene.fills[item.index].area.outer);
    case Item::Kind::Line: return geometry::bounds(scene.lines[item.index].points);
    case Item::Kind::Symbol: return {scene.symbols[item.index].at, scene.symbols[item.index].at};
    case Item::Kind::Text: return {};
    }
    return {};
}

bool meets_box(const Scene& scene, const Item& item, const Box& box) {
    switch (item.kind) {
    case Item::Kind::Fill: return area_meets_box(scene.fills[item.index].area, box);
    case Item::Kind::Line: return lines_meet_box(scene.lines[item.index].points, scene.lines[item.index].closed, box);
    case Item::Kind::Symbol: return box.contains(scene.symbols[item.index].at);
    case Item::Kind::Text: return false;
    }
    return false;
}

/// Helpers of the eye, not the thing itself.
bool is_shape(const Item& item) {
    return item.kind != Item::Kind::Text && item.kind != Item::Kind::Symbol && item.role != Role::Leader;
}

struct Cells {
    std::int64_t x0, x1, y0, y1;
    [[nodiscard]] std::int64_t count() const { return (x1 - x0 + 1) * (y1 - y0 + 1); }
};
Cells cells_of(const Box& box, double size) {
    const auto index = [size](double v) { return static_cast<std::int64_t>(std::floor(v / size)); };
    return {index(box.min.x), index(box.max.x), index(box.min.y), index(box.max.y)};
}
std::uint64_t key(std::int64_t x, std::int64_t y) {
    return static_cast<std::uint64_t>(x) * 0x9E3779B97F4A7C15ULL + static_cast<std::uint64_t>(y);
}

/// What is not there is drawn as an empty outline, but a hand points at its whole area.
bool surrounds(const Scene& scene, const Item& item, const Box& box, Vec2 point) {
    if (item.role != Role::MissingEdge || item.kind != Item::Kind::Line) return false;
    const Line& line = scene.lines[item.index];
    return line.closed && box.contains(point) && geometry::contains(geometry::Polygon{line.points, {}}, point);
}

} // namespace

HitTest::HitTest(const Scene& scene) : scene_(&scene) {
    for (std::uint32_t i = 0; i < scene.items.size(); ++i) {
        const Item& item = scene.items[i];
        const Box box = item.source < 0 ? Box{} : box_of(scene, item);
        if (!box.is_empty()) entries_.push_back({box, item.source, i});
    }
    if (entries_.empty()) return;
    const double area = std::max(1.0, scene.bounds.width() * scene.bounds.height());
    cell_mm_ = std::max(0.25, 4.0 * std::sqrt(area / static_cast<double>(entries_.size())));
    for (std::uint32_t e = 0; e < entries_.size(); ++e) {
        const Cells cells = cells_of(entries_[e].box, cell_mm_);
        if (cells.count() > kManyCells) {
            large_.push_back(e);
            continue;
        }
        for (std::int64_t y = cells.y0; y <= cells.y1; ++y)
            for (std::int64_t x = cells.x0; x <= cells.x1; ++x)
                cells_[key(x, y)].push_back(e);
    }
}

bool HitTest::touches(const Entry& entry, Vec2 point, double reach_mm) const {
    if (!entry.box.grown(reach_mm).contains(point)) return false;
    const Item& item = scene_->items[entry.item];
    switch (item.kind) {
    case Item::Kind::Fill: {
        const geometry::Polygon& area = scene_->fills[item.index].area;
        if (geometry::contains(area, point) || distance_to_lines(point, area.outer, true) <= reach_mm) return true;
        return std::any_of(area.holes.begin(), area.holes.end(), [&](const geometry::Ring& hole) {
            return distance_to_lines(point, hole, true) <= reach_mm;
        });
    }
    case Item::Kind::Line:
        return distance_to_lines(point, scene_->lines[item.index].points, scene_->lines[item.index].closed) <= reach_mm;
    case Item::Kind::Symbol: return geometry::distance(point, scene_->symbols[item.index].at) <= reach_mm;
    case Item::Kind::Text: return false;
    }
    return false;
}

std::optional<std::int32_t> HitTest::at(Vec2 point, double reach_mm) const {
    std::optional<std::uint32_t> top, empty;
    const auto look_at = [&](std::uint32_t e) {
        if ((!top || e > *top) && touches(entries_[e], point, reach_mm)) top = e;
        if ((!empty || e > *empty) && surrounds(*scene_, scene_->items[entries_[e].item], entries_[e].box, point))
            empty = e;
    };
    for (const std::uint32_t e : large_)
        look_at(e);
    const Cells cells = cells_of(Box{point, point}.grown(reach_mm), cell_mm_);
    if (cells.count() > kManyCells * kManyCells) { // a reach as large as the board: ask them all
        for (std::uint32_t e = 0; e < entries_.size(); ++e)
            look_at(e);
    } else {
        for (std::int64_t y = cells.y0; y <= cells.y1; ++y)
            for (std::int64_t x = cells.x0; x <= cells.x1; ++x)
                if (const auto found = cells_.find(key(x, y)); found != cells_.end())
                    std::for_each(found->second.begin(), found->second.end(), look_at);
    }
    // A pad inside the outline of its own missing part says more than the outline.
    const auto id_of = [&](std::uint32_t e) {
        return scene_->sources[static_cast<std::size_t>(entries_[e].source)].id;
    };
    if (empty && (!top || (*empty > *top && id_of(*empty) != id_of(*top)))) top = empty;
    if (!top) return std::nullopt;
    return entries_[*top].source;
}

std::vector<document::Id> HitTest::in(const Box& box, bool touching) const {
    std::vector<document::Id> found;
    std::unordered_set<document::Id> seen;
    std::unordered_set<document::Id> outside;
    for (const Entry& entry : entries_) {
        const Item& item = scene_->items[entry.item];
        const document::Id& id = scene_->sources[static_cast<std::size_t>(entry.source)].id;
        const bool inside = box.contains(entry.box.min) && box.contains(entry.box.max);
        if (!is_shape(item)) {
            // A pin is nothing but its sign; a badge belongs to shapes that speak for themselves.
            const bool is_pin = item.role == Role::BadgeNote || item.role == Role::Measure;
            if (is_pin && inside && seen.insert(id).second) found.push_back(id);
            continue;
        }
        if (touching ? !entry.box.overlaps(box) || !meets_box(*scene_, item, box) : !inside) {
            outside.insert(id);
            continue;
        }
        if (seen.insert(id).second) found.push_back(id);
    }
    if (!touching) std::erase_if(found, [&](const document::Id& id) { return outside.count(id) > 0; });
    return found;
}

} // namespace padchart::scene
