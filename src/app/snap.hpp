#pragma once
// Where the hand probably means when it comes near something drawn: a centre, a corner, the middle of an edge, an edge,
// level with a centre or a corner near by, the grid. Pure, and fast enough for every move of the pointer. Board frame,
// in the chart's own lengths: mm, or the trace's units where the chart has no scale.
//
//     const SnapField field = snap_field(editor.chart(), {.side = seen_from, .without = editor.selection()});
//     const Snap snap = field.snap(board_at, {.reach = pointer.mm(kSnapReach_px)});   // per move of the pointer
//     const SnapShift shift = field.snap_shift(anchors_of(part), by, options);        // a part that moves by `by`
//     add_snap(overlay, snap, seen_from, pointer);                                    // shows what was met
//
// Order of preference, each within `reach`: a point (centre, corner, middle: the nearest of them), an edge, level with
// a centre (x and y each on its own), the grid. Where nothing is met the place stays as the hand gave it.
// Build the field once a gesture, of the chart as it was when the gesture began.

#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "document/chart.hpp"

namespace padchart::scene {
struct Scene;
}

namespace padchart::app {

struct Pointer;

/// A usual `reach`, on the screen at scale 1.
inline constexpr double kSnapReach_px = 9.0;

enum class SnapKind { None, Grid, Level, Edge, Middle, Corner, Centre };

struct SnapOptions {
    double reach = 0.2;
    double grid = 0.0; ///< its step; 0: none. Met from any distance, unlike the rest
    bool points = true;
    bool edges = true;
    bool bodies = true;        ///< a land begins under its body's edge, beside it or across it: it has its own place
    double level_within = 0.0; ///< centres and corners at most this far away count for being level; 0: none
};

struct Snap {
    geometry::Vec2 at;
    SnapKind kind = SnapKind::None;
    std::string words; ///< "corner of pad 3 of U4", "in line with pad 3 of U4, level with a corner of J2"; empty for
                       ///< None and Grid
    /// The centres and corners `at` is level with, at most two; for the overlay.
    std::vector<geometry::Vec2> level_with;
};

struct SnapShift {
    geometry::Vec2 by; ///< put right
    Snap snap;         ///< where the anchor that decided comes to lie; kind None or Grid where nothing was met
};

/// An outline that can be met. Of a round one only the centre and the edge.
struct SnapOutline {
    std::string name; ///< "pad 3 of U4"
    geometry::Ring ring;
    bool is_round = false;
    bool has_centre = true;
    bool is_body = false;
};

class SnapField {
public:
    SnapField() : SnapField(std::vector<SnapOutline>{}) {}
    explicit SnapField(std::vector<SnapOutline> outlines);

    [[nodiscard]] Snap snap(geometry::Vec2 at, const SnapOptions& options) const;
    /// `anchors`: points of the thing that moves, where they lie before the move. The one that needs least to meet a
    /// point decides, else the one that needs least to meet an edge, else the first of them by level and grid.
    /// Requires: anchors not empty.
    [[nodiscard]] SnapShift snap_shift(std::span<const geometry::Vec2> anchors, geometry::Vec2 by,
                                       const SnapOptions& options) const;

private:
    struct State;
    std::shared_ptr<const State> state_; ///< never changes; copies share it
};

struct SnapFieldOptions {
    document::Side side = document::Side::Top; ///< what lies on the other side is left out
    std::span<const document::Id> without{};   ///< parts, keep-outs, shields that do not count: those that move
    bool board = true;                         ///< the board's outline and its cut-outs
};

/// Board, bodies, pads, keep-outs and shields of one side.
[[nodiscard]] std::vector<SnapOutline> snap_outlines(const document::Chart& chart, const SnapFieldOptions& options);
[[nodiscard]] inline SnapField snap_field(const document::Chart& chart, const SnapFieldOptions& options) {
    return SnapField(snap_outlines(chart, options));
}

/// What a part may be moved by: its middle, its pads' centres, its body's and its pads' corners; board frame.
[[nodiscard]] std::vector<geometry::Vec2> anchors_of(const document::Footprint& part);

/// Vertices where the ring turns by more than 15 degrees: a flattened curve has none.
[[nodiscard]] geometry::Ring corners_of(std::span<const geometry::Vec2> ring);

/// "pad 3 of U4", "a pad of U4", "a pad": how messages and snaps speak of it.
[[nodiscard]] std::string pad_words(const document::Footprint& part, const document::Pad& pad);

/// A cross where it was met, lines to what it is level with, and the words beside it. Nothing for None; no words for
/// Grid.
void add_snap(scene::Scene& out, const Snap& snap, document::Side seen_from, const Pointer& pointer);

} // namespace padchart::app
