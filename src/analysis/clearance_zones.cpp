#include "analysis/clearance_zones.hpp"

#include <utility>

#include "analysis/clearance_outlines.hpp"
#include "geometry/overlay.hpp"

namespace padchart::analysis {

namespace {

using document::Footprint;
using document::KeepOut;
using geometry::PreparedArea;
using geometry::Region;

/// The board's area with its edge made ready: most zones lie wholly inside, and asking that is cheaper than clipping.
class Clip {
public:
    explicit Clip(const std::optional<Region>& board) : board_(board) {
        if (!board || geometry::bounds(*board).is_empty()) return;
        std::vector<geometry::Ring> rings;
        for (const geometry::Polygon& polygon : *board) {
            rings.push_back(polygon.outer);
            rings.insert(rings.end(), polygon.holes.begin(), polygon.holes.end());
        }
        edge_.emplace(PreparedArea::along(rings));
    }

    [[nodiscard]] Region operator()(Region zone) const {
        if (!edge_ || zone.empty()) return zone;
        const bool crosses = edge_->is_within(PreparedArea(zone), 0.0);
        if (!crosses && zone.size() == 1 && geometry::contains(*board_, zone[0].outer[0])) return zone;
        return geometry::intersect(zone, *board_);
    }

private:
    const std::optional<Region>& board_;
    std::optional<PreparedArea> edge_;
};

Region zone_round(const Region& source, double reach, const Clip& clip) {
    // Round outlines lie up to the tolerance inside the true ones.
    return clip(geometry::widen(source, reach + document::kShapeTolerance));
}

std::string label_of(const KeepOut& keep_out) {
    return keep_out.name.empty() ? keep_out.id.text : keep_out.name;
}

void add_part_zones(const document::Chart& chart, double reach, const Clip& clip, ClearanceReport& report) {
    for (const Footprint& part : chart.parts) {
        if (!is_heat_sensitive(part)) continue;
        const Region source = hot_area_of(part);
        if (source.empty()) continue;
        if (!part.body)
            report.findings.push_back({Severity::Note, "zone-round-pads",
                                       name_of(part) + " is heat-sensitive and has no body outline; its zone is drawn "
                                                       "round its pads. Draw the body to have it right.",
                                       "", part.id.text});
        report.zones.push_back({part.id, part.name, part.placement.side, true, reach, zone_round(source, reach, clip)});
    }
}

void add_keep_out_zones(const document::Chart& chart, double reach, const Clip& clip, ClearanceReport& report) {
    for (const KeepOut& keep_out : chart.keep_outs) {
        if (keep_out.measure == document::Measure::Removed) {
            report.findings.push_back({Severity::Note, "keep-out-removed",
                                       "Keep-out " + label_of(keep_out) + " is marked as removed, so it has no zone.",
                                       "", keep_out.id.text});
            continue;
        }
        const Region source =
            proper_area(keep_out.outline, "Keep-out " + label_of(keep_out), keep_out.id, report.findings);
        report.zones.push_back({keep_out.id, keep_out.name, keep_out.side, keep_out.through_board, reach,
                                zone_round(source, reach, clip)});
    }
}

/// One union of what holds on both sides, then what holds on one side only: mostly there is little of that.
void unite_zones(ClearanceReport& report) {
    Region both;
    Region top;
    Region bottom;
    for (const HeatZone& zone : report.zones) {
        Region& into = zone.through_board ? both : zone.side == document::Side::Top ? top : bottom;
        into.insert(into.end(), zone.area.begin(), zone.area.end());
    }
    both = geometry::unite(both);
    report.top_zones = top.empty() ? both : geometry::unite(both, top);
    report.bottom_zones = bottom.empty() ? both : geometry::unite(both, bottom);
}

} // namespace

double nozzle_reach(const document::Rules& rules) {
    return rules.nozzle_bore_mm / 2.0 + rules.nozzle_margin_mm;
}

void add_zones(const document::Chart& chart, const std::optional<Region>& board, ClearanceReport& report) {
    const Clip clip(board);
    const double reach = nozzle_reach(chart.rules);
    add_part_zones(chart, reach, clip, report);
    add_keep_out_zones(chart, reach, clip, report);
    unite_zones(report);
}

} // namespace padchart::analysis
