#include "patterns/pad_overlap.hpp"

#include <algorithm>
#include <numeric>
#include <vector>

#include "geometry/overlay.hpp"

namespace padchart::patterns {
namespace {

using document::Pad;
using geometry::Box;
using geometry::Ring;

/// Less than this is touching, not overlapping, mm2.
constexpr double kTouch_mm2 = 1e-9;

bool overlap(const Pad& a, const Pad& b) {
    const Ring first = outline_in_part(a);
    const Ring second = outline_in_part(b);
    const bool convex = a.shape.kind != document::ShapeKind::Polygon && b.shape.kind != document::ShapeKind::Polygon;
    if (convex) return geometry::convex_overlap_area(first, second) > kTouch_mm2;
    return geometry::area(geometry::intersect({{first, {}}}, {{second, {}}})) > kTouch_mm2;
}

} // namespace

std::optional<std::pair<std::size_t, std::size_t>> first_overlap(std::span<const Pad> pads) {
    std::vector<Box> boxes;
    for (const Pad& pad : pads)
        boxes.push_back(geometry::bounds(outline_in_part(pad)));
    std::vector<std::size_t> by_left(pads.size());
    std::iota(by_left.begin(), by_left.end(), std::size_t{0});
    std::stable_sort(by_left.begin(), by_left.end(),
                     [&](std::size_t a, std::size_t b) { return boxes[a].min.x < boxes[b].min.x; });
    std::optional<std::pair<std::size_t, std::size_t>> found;
    for (std::size_t i = 0; i < by_left.size(); ++i)
        for (std::size_t j = i + 1; j < by_left.size(); ++j) {
            const std::size_t a = std::min(by_left[i], by_left[j]);
            const std::size_t b = std::max(by_left[i], by_left[j]);
            if (boxes[by_left[j]].min.x >= boxes[by_left[i]].max.x) break;
            if (found && std::pair(a, b) >= *found) continue;
            if (boxes[a].overlaps(boxes[b]) && overlap(pads[a], pads[b])) found = {a, b};
        }
    return found;
}

} // namespace padchart::patterns
