#include "analysis/heat_grid.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace padchart::analysis {
namespace {

using geometry::Polygon;
using geometry::Region;
using geometry::Ring;
using geometry::Vec2;

/// Signed area of what lies to the right of directed edges, cell by cell: the fill that font renderers use, without its
/// rounding. A running sum along each row turns it into the cells' covered area.
class Coverage {
public:
    explicit Coverage(const Grid& grid) : grid_(grid), cell_(grid.size(), 0.0), right_(grid.size(), 0.0) {}

    void add(std::span<const Vec2> ring, double sign) {
        for (std::size_t i = 0; i < ring.size(); ++i)
            add_edge(local(ring[i]), local(ring[(i + 1) % ring.size()]), sign);
    }

    [[nodiscard]] std::vector<double> shares() const {
        std::vector<double> out(cell_.size());
        for (int j = 0; j < grid_.rows; ++j) {
            double carried = 0.0;
            for (int i = 0; i < grid_.columns; ++i) {
                const std::size_t at = grid_.index(i, j);
                out[at] = std::clamp(carried + cell_[at], 0.0, 1.0);
                carried += right_[at];
            }
        }
        return out;
    }

private:
    [[nodiscard]] Vec2 local(Vec2 p) const { return (p - grid_.origin) / grid_.cell_mm; }

    void add_edge(Vec2 a, Vec2 b, double sign) {
        if (a.y == b.y) return;
        if (a.y > b.y) {
            std::swap(a, b);
            sign = -sign;
        }
        const double top = std::max(a.y, 0.0);
        const double bottom = std::min(b.y, static_cast<double>(grid_.rows));
        const double slope = (b.x - a.x) / (b.y - a.y);
        const auto x_at = [&](double y) { return a.x + (y - a.y) * slope; };
        for (int j = static_cast<int>(std::floor(top)); j < grid_.rows && j < bottom; ++j) {
            const double y0 = std::max(top, static_cast<double>(j));
            const double y1 = std::min(bottom, j + 1.0);
            if (y1 > y0) add_in_row(j, x_at(y0), x_at(y1), sign * (y1 - y0));
        }
    }

    /// A straight piece within one row from x0 to x1, `height` of the row high (signed).
    void add_in_row(int j, double x0, double x1, double height) {
        if (x0 > x1) std::swap(x0, x1);
        const double width = x1 - x0;
        const auto share_of = [&](double from, double to) {
            return width > 0.0 ? height * (to - from) / width : height;
        };
        if (x0 < 0.0) { // left of the grid: everything in the row lies to its right
            put(0, j, 0.0, width > 0.0 ? share_of(x0, std::min(x1, 0.0)) : height);
            x0 = 0.0;
            if (x1 <= 0.0) return;
        }
        if (width == 0.0) {
            if (x0 < grid_.columns) put(static_cast<int>(x0), j, x0 - std::floor(x0), height);
            return;
        }
        for (int i = static_cast<int>(x0); i < grid_.columns && i < x1; ++i) {
            const double from = std::max(x0, static_cast<double>(i));
            const double to = std::min(x1, i + 1.0);
            if (to > from) put(i, j, (from + to) / 2.0 - i, share_of(from, to));
        }
    }

    void put(int i, int j, double x_in_cell, double height) {
        const std::size_t at = grid_.index(i, j);
        cell_[at] += height * (1.0 - x_in_cell);
        right_[at] += height;
    }

    Grid grid_;
    std::vector<double> cell_;
    std::vector<double> right_;
};

double direction_sign(const Ring& ring, bool is_hole) {
    // Clockwise on the page encloses its area positively when edges going down (y rising) count as -1.
    const double turn = geometry::signed_area(ring) >= 0.0 ? -1.0 : 1.0;
    return is_hole ? -turn : turn;
}

/// Where a line at constant y (or x, with `swapped`) runs inside the region: sorted crossings, taken two by two.
std::vector<double> crossings(const Region& region, double level, bool swapped) {
    std::vector<double> found;
    const auto add = [&](const Ring& ring) {
        for (std::size_t k = 0; k < ring.size(); ++k) {
            Vec2 a = ring[k];
            Vec2 b = ring[(k + 1) % ring.size()];
            if (swapped) {
                std::swap(a.x, a.y);
                std::swap(b.x, b.y);
            }
            if ((a.y > level) == (b.y > level)) continue;
            found.push_back(a.x + (level - a.y) / (b.y - a.y) * (b.x - a.x));
        }
    };
    for (const Polygon& polygon : region) {
        add(polygon.outer);
        for (const Ring& hole : polygon.holes)
            add(hole);
    }
    std::sort(found.begin(), found.end());
    return found;
}

/// Share of each unit of [0, count) that lies between pairs of crossings.
std::vector<double> inside_shares(const std::vector<double>& at, double start, double step, int count) {
    std::vector<double> share(static_cast<std::size_t>(count), 0.0);
    for (std::size_t k = 0; k + 1 < at.size(); k += 2) {
        const double from = std::clamp((at[k] - start) / step, 0.0, static_cast<double>(count));
        const double to = std::clamp((at[k + 1] - start) / step, 0.0, static_cast<double>(count));
        for (int i = static_cast<int>(from); i < count && i < to; ++i)
            share[static_cast<std::size_t>(i)] += std::max(0.0, std::min(to, i + 1.0) - std::max(from, 1.0 * i));
    }
    return share;
}

/// A border that runs along the line itself closes it: the line is asked a hair to either side, and the less open wins.
std::vector<double> open_shares(const Region& region, double level, bool swapped, double start, double step,
                                int count) {
    const double hair = 1e-7 * step;
    std::vector<double> before = inside_shares(crossings(region, level - hair, swapped), start, step, count);
    const std::vector<double> after = inside_shares(crossings(region, level + hair, swapped), start, step, count);
    for (std::size_t i = 0; i < before.size(); ++i)
        before[i] = std::min(before[i], after[i]);
    return before;
}

} // namespace

Grid grid_over(const geometry::Box& box, double cell_mm) {
    assert(!box.is_empty() && cell_mm > 0.0);
    // A hair less, so that 60 mm at 0.5 mm are 120 cells and not 121 by rounding.
    const auto count = [&](double length) { return std::max(1, static_cast<int>(std::ceil(length / cell_mm - 1e-6))); };
    const int columns = count(box.width()), rows = count(box.height());
    // What the last cells reach beyond the box is shared by both sides: a board turned by a quarter gets the same
    // cells.
    const Vec2 spare{columns * cell_mm - box.width(), rows * cell_mm - box.height()};
    return {box.min - spare / 2.0, cell_mm, columns, rows};
}

std::vector<double> coverage(const Grid& grid, const Region& region) {
    Coverage sum(grid);
    for (const Polygon& polygon : region) {
        sum.add(polygon.outer, direction_sign(polygon.outer, false));
        for (const Ring& hole : polygon.holes)
            sum.add(hole, direction_sign(hole, true));
    }
    return sum.shares();
}

Openings openings(const Grid& grid, const Region& region) {
    Openings open{std::vector<double>(grid.size(), 0.0), std::vector<double>(grid.size(), 0.0)};
    for (int j = 0; j + 1 < grid.rows; ++j) {
        const double y = grid.origin.y + (j + 1) * grid.cell_mm;
        const auto row = open_shares(region, y, false, grid.origin.x, grid.cell_mm, grid.columns);
        for (int i = 0; i < grid.columns; ++i)
            open.south[grid.index(i, j)] = row[static_cast<std::size_t>(i)];
    }
    for (int i = 0; i + 1 < grid.columns; ++i) {
        const double x = grid.origin.x + (i + 1) * grid.cell_mm;
        const auto column = open_shares(region, x, true, grid.origin.y, grid.cell_mm, grid.rows);
        for (int j = 0; j < grid.rows; ++j)
            open.east[grid.index(i, j)] = column[static_cast<std::size_t>(j)];
    }
    return open;
}

std::vector<EdgePiece> edge_pieces(const Grid& grid, std::span<const Vec2> ring) {
    std::vector<EdgePiece> pieces;
    const double side = geometry::signed_area(ring) >= 0.0 ? 1.0 : -1.0;
    for (std::size_t k = 0; k < ring.size(); ++k) {
        const Vec2 a = (ring[k] - grid.origin) / grid.cell_mm;
        const Vec2 b = (ring[(k + 1) % ring.size()] - grid.origin) / grid.cell_mm;
        const double length = geometry::distance(a, b);
        if (length == 0.0) continue;
        const Vec2 along = (b - a) / length;
        const Vec2 outward = Vec2{along.y, -along.x} * side; // left of a walk clockwise on the page
        std::vector<double> cuts{0.0, 1.0};
        const auto cut_at_lines = [&](double from, double to) {
            if (from == to) return;
            for (double line = std::ceil(std::min(from, to)); line <= std::max(from, to); line += 1.0)
                cuts.push_back(std::clamp((line - from) / (to - from), 0.0, 1.0));
        };
        cut_at_lines(a.x, b.x);
        cut_at_lines(a.y, b.y);
        std::sort(cuts.begin(), cuts.end());
        for (std::size_t c = 0; c + 1 < cuts.size(); ++c) {
            const double share = cuts[c + 1] - cuts[c];
            if (share <= 0.0) continue;
            // A hair inwards, so that an edge on a cell border belongs to the cell inside the ring.
            const Vec2 middle = geometry::lerp(a, b, (cuts[c] + cuts[c + 1]) / 2.0) - outward * 1e-9;
            const int i = static_cast<int>(std::floor(middle.x));
            const int j = static_cast<int>(std::floor(middle.y));
            if (i < 0 || j < 0 || i >= grid.columns || j >= grid.rows) continue;
            pieces.push_back(
                {grid.index(i, j), share * length * grid.cell_mm, outward, grid.origin + middle * grid.cell_mm});
        }
    }
    return pieces;
}

} // namespace padchart::analysis
