#include "svg/trace_to_chart.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/box_index.hpp"
#include "svg/free_ids.hpp"
#include "svg/trace_items.hpp"
#include "svg/trace_parts.hpp"
#include "svg/trace_shapes.hpp"

namespace padchart::svg {
namespace {

using geometry::Polygon;
using geometry::Ring;

double area_of(const Ring& ring) {
    return std::abs(geometry::signed_area(ring));
}

struct OwnedRing {
    Ring ring;
    std::size_t shape = 0;
};

void set_outline(const std::vector<TraceItem>& items, TraceLog& log) {
    std::vector<OwnedRing> edges;
    std::vector<OwnedRing> holes;
    for (const TraceItem& item : items)
        if (item.role == Role::Outline || item.role == Role::CutOut)
            for (const Ring& ring : item.rings)
                (item.role == Role::Outline ? edges : holes).push_back({ring, item.shape});
    if (edges.empty()) {
        for (const OwnedRing& hole : holes)
            log.find(Severity::Warning, "hole-without-board",
                     log.name_of(hole.shape) + " is a cut-out, but there is no board outline: left out", hole.shape);
        return;
    }
    const auto board = std::max_element(edges.begin(), edges.end(), [](const OwnedRing& a, const OwnedRing& b) {
        return area_of(a.ring) < area_of(b.ring);
    });
    Polygon outline{board->ring, {}};
    log.account(board->shape, Role::Outline, {}, "board outline");
    for (const OwnedRing& edge : edges)
        if (&edge != &*board) holes.push_back(edge);
    for (const OwnedRing& hole : holes) {
        const bool inside = std::all_of(hole.ring.begin(), hole.ring.end(),
                                        [&](geometry::Vec2 p) { return geometry::contains(outline.outer, p); });
        if (inside)
            outline.holes.push_back(hole.ring);
        else
            log.find(Severity::Warning, "hole-outside",
                     log.name_of(hole.shape) + " does not lie inside the board outline: left out", hole.shape);
        if (hole.shape != board->shape)
            log.account(hole.shape, Role::CutOut, {}, inside ? "cut-out of the board" : "left out: outside the board");
    }
    log.result.chart.board.outline = tidy(std::move(outline));
}

/// Rings of one shape as areas: a ring inside a larger one is its hole.
std::vector<Polygon> areas_of(std::vector<Ring> rings) {
    std::sort(rings.begin(), rings.end(), [](const Ring& a, const Ring& b) { return area_of(a) > area_of(b); });
    // An index, since one path may hold a hundred thousand rings.
    std::vector<geometry::Box> boxes;
    for (const Ring& ring : rings)
        boxes.push_back(geometry::bounds(ring));
    const geometry::BoxIndex index(boxes);
    constexpr std::size_t kHole = static_cast<std::size_t>(-1);
    std::vector<std::size_t> area_of_ring(rings.size(), kHole);
    std::vector<Polygon> areas;
    for (std::size_t i = 0; i < rings.size(); ++i) {
        const geometry::Vec2 at = rings[i].front();
        std::size_t round = kHole;
        for (const std::size_t other : index.touching({at, at})) // the first of those that came before
            if (other < i && area_of_ring[other] < round && geometry::contains(areas[area_of_ring[other]].outer, at))
                round = area_of_ring[other];
        if (round != kHole) {
            areas[round].holes.push_back(std::move(rings[i]));
            continue;
        }
        area_of_ring[i] = areas.size();
        areas.push_back({std::move(rings[i]), {}});
    }
    return areas;
}

void add_areas(const std::vector<TraceItem>& items, TraceLog& log) {
    document::Chart& chart = log.result.chart;
    FreeIds free_ids; // no part has an id that begins as these do
    for (const TraceItem& item : items) {
        if (item.role != Role::KeepOut && item.role != Role::Shield) continue;
        for (Polygon& area : areas_of(item.rings)) {
            const std::string key = key_of(log.drawing, log.drawing.shapes[item.shape]);
            const bool keep_out = item.role == Role::KeepOut;
            const document::Id id = free_ids.take(keep_out ? "keep" : "shield", key);
            const std::string name = item.label.empty() ? item.part_name : item.label;
            if (keep_out) {
                document::KeepOut thing;
                thing.id = id;
                thing.name = name;
                thing.outline = tidy(std::move(area));
                thing.side = item.side;
                thing.trace_key = key;
                chart.keep_outs.add(std::move(thing));
            } else {
                document::Shield thing;
                thing.id = id;
                thing.name = name;
                thing.outline = tidy(std::move(area));
                thing.side = item.side;
                chart.shields.add(std::move(thing));
            }
            log.account(item.shape, item.role, id, (keep_out ? "keep-out " : "shield ") + name);
        }
    }
}

void account_rest(const std::vector<TraceItem>& items, TraceLog& log) {
    for (const TraceItem& item : items) {
        if (item.role == Role::Note) log.account(item.shape, Role::Note, {}, "left out: note");
        if (item.role != Role::None) continue;
        log.account(item.shape, Role::None, {}, "nothing");
        log.find(Severity::Warning, "not-understood",
                 log.name_of(item.shape) + " lies in no known layer: taken as nothing; put it into a layer named "
                                           "outline, cut-out, body, pads, mark, keep-out, shield or note",
                 item.shape);
    }
}

void set_scale(const Drawing& drawing, const TraceOptions& options, TraceResult& result) {
    if (options.scale) {
        result.chart.scale = options.scale;
        return;
    }
    if (!drawing.mm_per_unit) {
        result.diagnostics.push_back({Severity::Warning,
                                      "no-scale",
                                      "the chart has no scale: its lengths are the trace's own units until one is set",
                                      {},
                                      {}});
        return;
    }
    document::Scale scale;
    scale.mm_per_unit = *drawing.mm_per_unit;
    scale.source = document::ScaleSource::DocumentUnits;
    // A size in px is what a program writes when nobody thought of millimetres: a guess until it is measured.
    scale.relative_uncertainty = drawing.size_in_px ? kGuessedScale : options.relative_uncertainty;
    scale.note = drawing.size_note + (drawing.size_in_px ? "; px taken as 1/96 in, a guess" : "");
    result.chart.scale = scale;
}

/// From the drawing's lengths to the chart's.
double factor_of(const Drawing& drawing, const TraceOptions& options) {
    if (!options.scale) return 1.0;
    return options.scale->mm_per_unit / drawing.mm_per_unit.value_or(1.0);
}

} // namespace

std::string_view to_text(Role role) {
    static constexpr std::array<std::string_view, 9> kNames{"nothing", "outline",  "cut-out", "body", "pad",
                                                            "mark",    "keep-out", "shield",  "note"};
    return kNames[static_cast<std::size_t>(role)];
}

Result<TraceResult> chart_from_trace(const Drawing& drawing, const TraceOptions& options) {
    if (drawing.shapes.empty()) return Error{"the trace holds no shape: nothing to import", ""};
    if (options.scale && !(options.scale->mm_per_unit > 0.0 && std::isfinite(options.scale->mm_per_unit)))
        return Error{"the scale must be above 0 mm per unit", ""};
    TraceResult result;
    result.diagnostics = drawing.diagnostics;
    // What becomes of hidden shapes is told of each below.
    std::erase_if(result.diagnostics, [](const Diagnostic& finding) { return finding.code == "hidden"; });
    // A scale that was given answers what the reader asks for.
    if (options.scale)
        std::erase_if(result.diagnostics, [](const Diagnostic& finding) {
            return finding.code == "no-physical-size" || finding.code == "size-in-px";
        });
    result.account.resize(drawing.shapes.size());
    for (std::size_t i = 0; i < drawing.shapes.size(); ++i)
        result.account[i] = {i, Role::None, {}, "left out"};
    result.chart.title.title = drawing.title;
    set_scale(drawing, options, result);
    TraceLog log{drawing, result};
    const std::vector<TraceItem> items = items_of(drawing, options, factor_of(drawing, options), log);
    for (const TraceItem& item : items)
        result.account[item.shape].role = item.role;
    const auto called_off = [&](double share) { return options.go_on && !options.go_on(share); };
    // Without items the work was called off on the way to them.
    if (items.empty() || called_off(0.6)) return Error{"making the chart was called off", ""};
    set_outline(items, log);
    add_parts(items, options.shape_tolerance_mm, log);
    if (called_off(0.9)) return Error{"making the chart was called off", ""};
    add_areas(items, log);
    account_rest(items, log);
    return result;
}

} // namespace padchart::svg
