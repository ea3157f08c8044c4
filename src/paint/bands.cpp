#include "paint/bands.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <span>

namespace padchart::paint {
namespace {

using geometry::Polygon;
using geometry::Ring;
using geometry::Vec2;

/// Not horizontal, from top to bottom.
struct Edge {
    Vec2 top, bottom;

    [[nodiscard]] double x_at(double y) const {
        if (y <= top.y) return top.x;
        if (y >= bottom.y) return bottom.x;
        return top.x + (bottom.x - top.x) * ((y - top.y) / (bottom.y - top.y));
    }
};

void add_edges(const Ring& ring, std::vector<Edge>& edges) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 a = ring[i];
        const Vec2 b = ring[i + 1 == ring.size() ? 0 : i + 1];
        if (a.y < b.y) edges.push_back({a, b});
        if (b.y < a.y) edges.push_back({b, a});
    }
}

std::vector<Edge> edges_of(const Polygon& polygon) {
    std::vector<Edge> edges;
    add_edges(polygon.outer, edges);
    for (const Ring& hole : polygon.holes)
        add_edges(hole, edges);
    std::sort(edges.begin(), edges.end(), [](const Edge& a, const Edge& b) { return a.top.y < b.top.y; });
    return edges;
}

std::vector<double> heights_of(const std::vector<Edge>& edges) {
    std::vector<double> heights;
    heights.reserve(edges.size() * 2);
    for (const Edge& edge : edges) {
        heights.push_back(edge.top.y);
        heights.push_back(edge.bottom.y);
    }
    std::sort(heights.begin(), heights.end());
    heights.erase(std::unique(heights.begin(), heights.end()), heights.end());
    return heights;
}

/// Where in the band two neighbours swap places, or `bottom`.
double crossing_height(const Edge& a, const Edge& b, double top, double bottom) {
    const double gap_top = b.x_at(top) - a.x_at(top);
    const double gap_bottom = b.x_at(bottom) - a.x_at(bottom);
    if (gap_top * gap_bottom >= 0.0) return bottom;
    return top + (bottom - top) * (gap_top / (gap_top - gap_bottom));
}

// A band in which edges cross is cut where the first of them does; the depth bounds the work on a scribble.
void fill_band(std::vector<const Edge*>& active, double top, double bottom, int depth, std::vector<Band>& bands) {
    const double probe = depth > 0 ? top + (bottom - top) * 1e-6 : (top + bottom) / 2;
    std::sort(active.begin(), active.end(),
              [&](const Edge* a, const Edge* b) { return a->x_at(probe) < b->x_at(probe); });
    double cut = bottom;
    for (std::size_t i = 0; depth > 0 && i + 1 < active.size(); ++i) {
        const double y = crossing_height(*active[i], *active[i + 1], probe, bottom);
        if (y < cut && y > probe) cut = y;
    }
    for (std::size_t i = 0; i + 1 < active.size(); i += 2) {
        const Edge& left = *active[i];
        const Edge& right = *active[i + 1];
        bands.push_back({top, cut, left.x_at(top), right.x_at(top), left.x_at(cut), right.x_at(cut)});
    }
    if (cut < bottom) fill_band(active, cut, bottom, depth - 1, bands);
}

} // namespace

std::vector<Band> bands_of(const Polygon& polygon) {
    const std::vector<Edge> edges = edges_of(polygon);
    const std::vector<double> heights = heights_of(edges);
    std::vector<Band> bands;
    std::vector<const Edge*> active;
    std::size_t next = 0;
    for (std::size_t i = 0; i + 1 < heights.size(); ++i) {
        const double top = heights[i];
        std::erase_if(active, [&](const Edge* edge) { return edge->bottom.y <= top; });
        while (next < edges.size() && edges[next].top.y <= top)
            active.push_back(&edges[next++]);
        fill_band(active, top, heights[i + 1], 8, bands);
    }
    return bands;
}

std::vector<RowSpan> row_spans(const Polygon& polygon, double step, const geometry::Box& limits) {
    assert(step > 0);
    struct Hit {
        long row;
        double x;
    };
    std::vector<Hit> hits;
    for (const Edge& edge : edges_of(polygon)) {
        const double from = std::max(edge.top.y, limits.min.y);
        const double to = std::min(edge.bottom.y, limits.max.y);
        // Half open, [top, bottom): a row through a vertex meets the edges above or below it, never both.
        for (long row = std::lround(std::ceil(from / step)); static_cast<double>(row) * step <= to; ++row) {
            const double y = static_cast<double>(row) * step;
            if (y < edge.bottom.y) hits.push_back({row, edge.x_at(y)});
        }
    }
    std::sort(hits.begin(), hits.end(),
              [](const Hit& a, const Hit& b) { return a.row != b.row ? a.row < b.row : a.x < b.x; });
    std::vector<RowSpan> spans;
    for (std::size_t i = 0; i + 1 < hits.size(); i += 2)
        spans.push_back({hits[i].row, hits[i].x, hits[i + 1].x});
    return spans;
}

} // namespace padchart::paint
