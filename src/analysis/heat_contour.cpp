#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <unordered_map>

#include "analysis/heat_grid.hpp"
#include "geometry/validity.hpp"

namespace padchart::analysis {
namespace {

using geometry::Polygon;
using geometry::Region;
using geometry::Ring;
using geometry::Vec2;

/// Values at the nodes of a lattice; a contour crosses its edges. Edge 2n goes from node n to the next column, edge
/// 2n + 1 to the next row.
struct Lattice {
    Vec2 origin; ///< of node (0, 0)
    double step = 1.0;
    int columns = 0;
    int rows = 0;
    std::vector<double> value;

    [[nodiscard]] std::size_t node(int i, int j) const {
        return static_cast<std::size_t>(j) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(i);
    }
    [[nodiscard]] Vec2 place(std::size_t n) const {
        const auto width = static_cast<std::size_t>(columns);
        return {origin.x + static_cast<double>(n % width) * step, origin.y + static_cast<double>(n / width) * step};
    }
};

using EdgeKey = std::size_t;

/// Directed steps from edge to edge, larger values on the right.
struct Steps {
    std::vector<EdgeKey> order; ///< starts, as they were found
    std::unordered_map<EdgeKey, EdgeKey> next;
    std::unordered_map<EdgeKey, EdgeKey> previous;

    void add(EdgeKey from, EdgeKey to) {
        order.push_back(from);
        next[from] = to;
        previous[to] = from;
    }
};

void step_through_square(const Lattice& lattice, int i, int j, double level, Steps& steps) {
    // Corners clockwise on the page from the upper left; side k joins corner k and k + 1.
    const std::array<std::size_t, 4> corner{lattice.node(i, j), lattice.node(i + 1, j), lattice.node(i + 1, j + 1),
                                            lattice.node(i, j + 1)};
    const std::array<EdgeKey, 4> side{2 * corner[0], 2 * corner[1] + 1, 2 * corner[3], 2 * corner[0] + 1};
    std::array<bool, 4> above{};
    double mean = 0.0;
    for (std::size_t k = 0; k < 4; ++k) {
        const double v = lattice.value[corner[k]];
        if (std::isnan(v)) return;
        above[k] = v >= level;
        mean += v / 4.0;
    }
    // Clockwise round the square, a walk with the larger values on its right leaves the square where low turns to high
    // and has entered where high turns to low.
    std::array<std::size_t, 2> entries{};
    std::array<std::size_t, 2> exits{};
    std::size_t count_in = 0;
    std::size_t count_out = 0;
    for (std::size_t k = 0; k < 4; ++k) {
        const bool from = above[k];
        const bool to = above[(k + 1) % 4];
        if (from && !to) entries[count_in++] = k;
        if (!from && to) exits[count_out++] = k;
    }
    if (count_in == 1) return steps.add(side[entries[0]], side[exits[0]]);
    if (count_in == 0) return;
    // Saddle. Joined high corners: each walk cuts off one low corner, the one after the side where it enters.
    const bool high_joined = mean >= level;
    for (std::size_t n = 0; n < 2; ++n) {
        const std::size_t wanted = (entries[n] + (high_joined ? 1 : 3)) % 4;
        const std::size_t m = exits[0] == wanted ? 0 : 1;
        steps.add(side[entries[n]], side[exits[m]]);
    }
}

Vec2 crossing(const Lattice& lattice, EdgeKey edge, double level) {
    const std::size_t a = edge / 2;
    const std::size_t b = edge % 2 == 0 ? a + 1 : a + static_cast<std::size_t>(lattice.columns);
    const double va = lattice.value[a];
    const double vb = lattice.value[b];
    // Beyond the field lies minus infinity: the cell on the inside reaches half-way.
    if (std::isinf(va) || std::isinf(vb)) return geometry::lerp(lattice.place(a), lattice.place(b), 0.5);
    return geometry::lerp(lattice.place(a), lattice.place(b), std::clamp((level - va) / (vb - va), 0.0, 1.0));
}

std::vector<Contour> trace(const Lattice& lattice, double level) {
    Steps steps;
    for (int j = 0; j + 1 < lattice.rows; ++j)
        for (int i = 0; i + 1 < lattice.columns; ++i)
            step_through_square(lattice, i, j, level, steps);
    std::vector<Contour> lines;
    std::unordered_map<EdgeKey, bool> used;
    const auto walk = [&](EdgeKey start) {
        Contour line;
        EdgeKey at = start;
        while (true) {
            line.points.push_back(crossing(lattice, at, level));
            used[at] = true;
            const auto found = steps.next.find(at);
            if (found == steps.next.end()) break;
            at = found->second;
            if (at == start) {
                line.is_closed = true;
                break;
            }
        }
        lines.push_back(std::move(line));
    };
    for (const EdgeKey start : steps.order)
        if (!steps.previous.contains(start)) walk(start);
    for (const EdgeKey start : steps.order)
        if (!used.contains(start)) walk(start);
    return lines;
}

/// Loops that run clockwise hold area, the others are holes of the smallest loop round them.
Region nested(const std::vector<Contour>& loops) {
    Region region;
    for (const Contour& loop : loops)
        if (geometry::signed_area(loop.points) > 0.0) region.push_back({loop.points, {}});
    for (const Contour& loop : loops) {
        if (geometry::signed_area(loop.points) >= 0.0) continue;
        Polygon* owner = nullptr;
        for (Polygon& polygon : region) {
            if (!geometry::contains(polygon.outer, loop.points.front())) continue;
            if (!owner || geometry::signed_area(polygon.outer) < geometry::signed_area(owner->outer)) owner = &polygon;
        }
        if (owner) owner->holes.push_back(loop.points);
    }
    return region;
}

} // namespace

std::vector<Contour> contours(const Grid& grid, std::span<const float> values, float level) {
    Lattice lattice{grid.centre(0, 0), grid.cell_mm, grid.columns, grid.rows, {values.begin(), values.end()}};
    return trace(lattice, static_cast<double>(level));
}

geometry::Region area_above(const Grid& grid, std::span<const float> values, float level) {
    Lattice lattice{grid.centre(-1, -1), grid.cell_mm, grid.columns + 2, grid.rows + 2, {}};
    lattice.value.assign(static_cast<std::size_t>(lattice.columns) * static_cast<std::size_t>(lattice.rows),
                         -std::numeric_limits<double>::infinity());
    for (int j = 0; j < grid.rows; ++j)
        for (int i = 0; i < grid.columns; ++i) {
            const float value = values[grid.index(i, j)];
            if (!std::isnan(value)) lattice.value[lattice.node(i + 1, j + 1)] = static_cast<double>(value);
        }
    Region sound;
    for (const Polygon& polygon : nested(trace(lattice, static_cast<double>(level))))
        for (Polygon& piece : geometry::mended(polygon))
            sound.push_back(std::move(piece));
    return sound;
}

} // namespace padchart::analysis
