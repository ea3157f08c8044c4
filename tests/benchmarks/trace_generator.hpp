#pragma once
// Traces as a drawing program writes them, of any size: what the import is timed with.

#include <cstddef>
#include <string>

namespace padchart::benchmarks {

enum class TraceKind {
    Mixed,  ///< parts of a board: bodies, lands, marks, and what was traced between them by hand
    Rects,  ///< turned rectangles with style attributes
    Lines,  ///< polygons of short steps
    Curves, ///< outlines of cubic curves, as a freehand pen leaves them
    Arcs    ///< circles and rounded lands
};

/// A whole SVG of at least `bytes` bytes; the same for the same arguments.
[[nodiscard]] std::string generated_trace(TraceKind kind, std::size_t bytes);

/// The parts of a trace `boards` times over, side by side and with numbers of their own ("C1" of the third is "C2001").
/// Requires: `trace` holds the groups "top" and "keep-out" in this order.
[[nodiscard]] std::string repeated_trace(const std::string& trace, int boards);

} // namespace padchart::benchmarks
