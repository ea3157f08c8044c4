#include "app/lock_signs.hpp"

#include <algorithm>
#include <unordered_set>

#include "app/tools/tool.hpp"
#include "scene/chart_scene.hpp"

namespace padchart::app {
namespace {

using geometry::Box;
using geometry::Ring;
using geometry::Vec2;

constexpr double kBodyWidth_px = 9.0, kBodyHeight_px = 7.0, kBowWidth_px = 5.0, kBowHeight_px = 5.0;
// A sign larger than its part would hide what it speaks of.
constexpr double kLeastPart_px = 14.0;
constexpr double kRoomWidth_px = 34.0, kRoomHeight_px = 30.0;

/// Of the body; of the pads where none was drawn.
Box seen_bounds(const document::Footprint& part, document::Side seen_from) {
    const Ring body = document::body_on_board(part);
    const Box board = body.empty() ? bounds_of(part) : geometry::bounds(body);
    Box box;
    box.add(scene::scene_from_board(board.min, seen_from));
    box.add(scene::scene_from_board(board.max, seen_from));
    return box;
}

/// Inside the lower right corner of a body that is large enough, else astride it, beside the frame of the selected one.
Vec2 place_of_sign(const Box& body, bool is_selected, double px) {
    const bool has_room = body.width() >= kRoomWidth_px * px && body.height() >= kRoomHeight_px * px;
    if (has_room) return {body.max.x - (kBodyWidth_px + 4.0) * px, body.max.y - 4.0 * px};
    if (is_selected) return {body.max.x + 12.0 * px, body.max.y + 10.0 * px};
    return {body.max.x - kBodyWidth_px / 2.0 * px, body.max.y + kBodyHeight_px / 2.0 * px};
}

/// `at` is the lower left corner of the body.
void add_padlock(scene::Scene& out, Vec2 at, double px) {
    const Vec2 top{at.x, at.y - kBodyHeight_px * px};
    const double left = at.x + (kBodyWidth_px - kBowWidth_px) / 2.0 * px, right = left + kBowWidth_px * px;
    const double bow = top.y - kBowHeight_px * px, slant = kBowWidth_px / 4.0 * px;
    out.add(scene::Role::Mark, scene::Fill{{box_ring(top, {at.x + kBodyWidth_px * px, at.y}), {}}});
    out.add(scene::Role::Mark, scene::Line{Ring{{left, top.y},
                                                {left, bow + slant},
                                                {left + slant, bow},
                                                {right - slant, bow},
                                                {right, bow + slant},
                                                {right, top.y}},
                                           false, scene::Weight::Bold});
}

} // namespace

void add_lock_signs(scene::Scene& out, const Editor& editor, document::Side seen_from, double mm_per_px) {
    const std::unordered_set<document::Id> selected(editor.selection().begin(), editor.selection().end());
    for (const document::Footprint& part : editor.shown().parts) {
        if (!part.locked || part.placement.side != seen_from) continue;
        const Box box = seen_bounds(part, seen_from);
        if (std::max(box.width(), box.height()) < kLeastPart_px * mm_per_px) continue;
        add_padlock(out, place_of_sign(box, selected.count(part.id) > 0, mm_per_px), mm_per_px);
    }
}

} // namespace padchart::app
