#pragma once
// A grid of square cells over the board, how much of each cell an area covers, and lines of equal value through it.
// Board frame, mm, y down. Cell (i, j) is column i, row j; its index is j * columns + i.

#include <cstddef>
#include <span>
#include <vector>

#include "geometry/polygon.hpp"

namespace padchart::analysis {

struct Grid {
    geometry::Vec2 origin; ///< corner of cell (0, 0) with the least x and y
    double cell_mm = 1.0;
    int columns = 0;
    int rows = 0;

    bool operator==(const Grid&) const = default;

    [[nodiscard]] std::size_t size() const {
        return static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows);
    }
    [[nodiscard]] std::size_t index(int i, int j) const {
        return static_cast<std::size_t>(j) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(i);
    }
    [[nodiscard]] geometry::Vec2 centre(int i, int j) const {
        return {origin.x + (i + 0.5) * cell_mm, origin.y + (j + 0.5) * cell_mm};
    }
    [[nodiscard]] geometry::Vec2 centre(std::size_t index) const {
        const auto width = static_cast<std::size_t>(columns);
        return centre(static_cast<int>(index % width), static_cast<int>(index / width));
    }
    [[nodiscard]] double cell_area_mm2() const { return cell_mm * cell_mm; }
};

/// The grid of cells of `cell_mm` that covers the box; what it reaches beyond that is shared by both sides.
/// Requires: a box that is not empty, cell_mm > 0.
[[nodiscard]] Grid grid_over(const geometry::Box& box, double cell_mm);

/// Share of each cell that the area covers, 0 to 1: exact areas, no sampling.
/// Requires: a valid region (geometry::mended); what lies beyond the grid is left out.
[[nodiscard]] std::vector<double> coverage(const Grid& grid, const geometry::Region& region);

/// Share of each face between two cells that lies inside the area on both sides: where heat can pass.
struct Openings {
    std::vector<double> east;  ///< between (i, j) and (i + 1, j), at index(i, j)
    std::vector<double> south; ///< between (i, j) and (i, j + 1), at index(i, j)
};
[[nodiscard]] Openings openings(const Grid& grid, const geometry::Region& region);

/// Length in mm of the part of a ring's edges in one cell, and their summed outward normal times length.
struct EdgePiece {
    std::size_t cell = 0;
    double length_mm = 0.0;
    geometry::Vec2 outward; ///< unit vector, away from the ring's inside
    geometry::Vec2 middle;  ///< board frame
};
/// Every edge of the ring cut at the cell borders. What lies beyond the grid is left out.
[[nodiscard]] std::vector<EdgePiece> edge_pieces(const Grid& grid, std::span<const geometry::Vec2> ring);

struct Contour {
    geometry::Ring points; ///< the larger values lie on the right-hand side, going along
    bool is_closed = false;
};

/// Lines where the values, taken at the cell centres and linear between them, equal `level` (marching squares).
/// Cells whose value is not a number end a line. Saddles are joined by their mean.
[[nodiscard]] std::vector<Contour> contours(const Grid& grid, std::span<const float> values, float level);

/// The area where the values reach `level`, as far as the grid's outer border; valid, clipped to nothing.
[[nodiscard]] geometry::Region area_above(const Grid& grid, std::span<const float> values, float level);

} // namespace padchart::analysis
