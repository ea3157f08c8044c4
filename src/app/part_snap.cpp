#include "app/part_snap.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "app/tools/tool.hpp"

namespace padchart::app {
namespace {

using document::Footprint;
using geometry::Vec2;

// More pads than a hand can aim with; a marquee of hundreds of parts still moves fluently.
constexpr std::size_t kMostAnchors = 200;

double to_step(double value, double step) {
    return step > 0 ? std::round(value / step) * step : value;
}

/// Without the noise of sums: what is met is met to the last digit of the file.
Vec2 clean(Vec2 mm) {
    constexpr double kPerMm = 1e6;
    return {std::round(mm.x * kPerMm) / kPerMm, std::round(mm.y * kPerMm) / kPerMm};
}

/// Only their middles can be met: a round outline has no corners.
std::vector<SnapOutline> pad_middles(const document::Chart& chart, document::Side side,
                                     const std::vector<document::Id>& without) {
    std::vector<SnapOutline> outlines;
    for (const Footprint& part : chart.parts) {
        if (part.placement.side != side) continue;
        if (std::find(without.begin(), without.end(), part.id) != without.end()) continue;
        for (const document::Pad& pad : part.pads)
            outlines.push_back({pad_words(part, pad), document::outline_on_board(part, pad), true, true});
    }
    return outlines;
}

} // namespace

PartSnap::PartSnap(const document::Chart& chart, document::Side side, const std::vector<Footprint>& moving) {
    std::vector<document::Id> ids;
    for (const Footprint& part : moving) {
        ids.push_back(part.id);
        const auto board = document::board_from_part(part.placement);
        if (anchors_.size() + part.pads.size() <= kMostAnchors)
            for (const document::Pad& pad : part.pads)
                anchors_.push_back(board(pad.at));
        const GuideThing thing = guide_thing(part);
        moving_.box.add(thing.box);
        if (thing.box.is_empty()) moving_.box.add(part.placement.at);
        moving_.likeness = thing.likeness;
    }
    if (moving.size() > 1) moving_.likeness = "several";
    pads_ = SnapField(pad_middles(chart, side, ids));
    things_ = guide_things(chart, side, ids);
    unit_ = chart.scale ? "mm" : "units";
}

PartShift PartSnap::shift(Vec2 by, double reach, const SnapDesk& wanted, bool suspended) const {
    const bool is_there = !moving_.box.is_empty();
    constexpr double kLeast = 0.01;
    // Seen from afar a few pixels are as much as a small part: what is met must stay a matter of less than its size.
    if (is_there) reach = std::min(reach, std::max(0.25 * std::min(moving_.box.width(), moving_.box.height()), 0.1));
    const double grid = suspended ? kLeast : wanted.grid_mm;
    PartShift shift{clean({to_step(by.x, grid), to_step(by.y, grid)}), {}, {}, {}};
    if (is_there) shift.at = moving_.box.centre() + shift.by;
    if (suspended || !is_there) return shift;
    if (wanted.pads && !anchors_.empty()) {
        SnapShift met = pads_.snap_shift(anchors_, by, {.reach = reach, .edges = false});
        if (met.snap.kind == SnapKind::Centre) {
            shift.by = clean(met.by);
            shift.pad = std::move(met.snap);
            return shift;
        }
    }
    if (!wanted.alignment) return shift;
    GuideShift met = snap_to_guides(things_, moving_, by, {.reach = reach, .pitch = wanted.pitch, .unit = unit_});
    if (met.met_x) shift.by.x = met.by.x;
    if (met.met_y) shift.by.y = met.by.y;
    shift.by = clean(shift.by);
    shift.guides = std::move(met.guides);
    shift.at = moving_.box.centre() + shift.by;
    return shift;
}

void add_part_shift(scene::Scene& out, const PartShift& shift, document::Side seen_from, const Pointer& pointer) {
    if (shift.pad.kind != SnapKind::None) return add_snap(out, shift.pad, seen_from, pointer);
    add_guides(out, shift.guides, shift.at, seen_from, pointer);
}

} // namespace padchart::app
