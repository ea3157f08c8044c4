#pragma once
// Outlines that are there already, changed vertex by vertex: board outline and cut-outs, bodies, pads, keep-outs,
// shields. Board frame, the chart's own lengths. A rectangle stays one while its corners and sides are moved; a vertex
// added to it makes it a free polygon. A part whose copper or body is changed leaves its family.

#include <optional>
#include <string>
#include <vector>

#include "app/traced_shape.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::app {

struct OutlineRef {
    TraceWhat what = TraceWhat::Outline;
    document::Id id; ///< of the part, keep-out or shield; empty for the board
    /// Of the pad, or of the cut-out; of a keep-out or shield: 0 for its edge, else that hole of it, counted from 1.
    std::size_t index = 0;

    bool operator==(const OutlineRef&) const = default;
};

struct OutlineView {
    document::ShapeKind kind = document::ShapeKind::Polygon;
    geometry::Ring ring; ///< as seen; its vertices are those to be moved, but of round and oblong shapes none are
};

/// A hole of a keep-out or shield.
[[nodiscard]] bool is_hole(const OutlineRef& ref);
/// Nothing where the thing is gone.
[[nodiscard]] std::optional<OutlineView> view_of(const document::Chart& chart, const OutlineRef& ref);
/// "pad 3 of U4", "the board's outline".
[[nodiscard]] std::string words_of(const document::Chart& chart, const OutlineRef& ref);

/// Every outline of one side; the board's first, so that what lies on it comes later.
[[nodiscard]] std::vector<OutlineRef> outlines_of(const document::Chart& chart, document::Side side);
/// The smallest outline round the place or with its edge within reach; nothing where there is none.
[[nodiscard]] std::optional<OutlineRef> outline_at(const document::Chart& chart, geometry::Vec2 board,
                                                   document::Side side, double reach);

// Each answers the chart changed, or why not: locked, gone, too few vertices, an outline that would cross itself.

/// Requires for all: the ref is of the chart; vertex and edge (from vertex `edge` to the next) are of its view.
[[nodiscard]] Result<document::Chart> move_vertex(const document::Chart& chart, const OutlineRef& ref,
                                                  std::size_t vertex, geometry::Vec2 to);
/// Of a rectangle or oblong that side moves; of a round shape the edge; of a polygon both ends of the edge.
[[nodiscard]] Result<document::Chart> move_edge(const document::Chart& chart, const OutlineRef& ref, std::size_t edge,
                                                geometry::Vec2 from, geometry::Vec2 to);
[[nodiscard]] Result<document::Chart> add_vertex(const document::Chart& chart, const OutlineRef& ref, std::size_t edge,
                                                 geometry::Vec2 at);
[[nodiscard]] Result<document::Chart> remove_vertex(const document::Chart& chart, const OutlineRef& ref,
                                                    std::size_t vertex);
/// The outline itself; of a hole, that it is one. A part loses a pad or its body; without either it goes.
[[nodiscard]] Result<document::Chart> remove_outline(const document::Chart& chart, const OutlineRef& ref);

/// The same outline as something else: a keep-out that is a shield, a pad that is a body. `made` is what it is now.
struct MeaningChange {
    document::Chart chart;
    OutlineRef made;
    std::string label;
};
/// Errors: as remove_outline() and with_traced(). Requires: `what` is not what it is already.
[[nodiscard]] Result<MeaningChange> change_meaning(const document::Chart& chart, const OutlineRef& ref, TraceWhat what);

} // namespace padchart::app
