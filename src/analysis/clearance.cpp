#include "analysis/clearance.hpp"

#include <algorithm>
#include <array>
#include <tuple>
#include <utility>

#include "analysis/clearance_outlines.hpp"
#include "analysis/clearance_zones.hpp"
#include "geometry/box_index.hpp"
#include "geometry/overlay.hpp"
#include "patterns/material.hpp"

namespace padchart::analysis {

namespace {

using document::Chart;
using document::Footprint;
using document::Id;
using document::Side;
using geometry::Box;
using geometry::Gap;
using geometry::PreparedArea;
using geometry::Region;
using geometry::Ring;

/// Below what any hand measures: a gap drawn as large as the rule must not fall short of it by rounding.
constexpr double kRounding_mm = 1e-9;

bool breaks(double gap_mm, double rule_mm) {
    return gap_mm == 0.0 || gap_mm < rule_mm - kRounding_mm;
}

/// Outlines with an index over their boxes, and prepared areas for those that turn out to have a neighbour.
class Neighbours {
public:
    explicit Neighbours(const std::vector<Outline>& outlines) : outlines_(outlines), index_(boxes_of(outlines)) {
        prepared_.resize(outlines.size());
    }

    [[nodiscard]] std::vector<std::size_t> near(const Box& box, double mm) const {
        return index_.touching(box.grown(mm));
    }
    [[nodiscard]] const PreparedArea& area(std::size_t i) {
        if (!prepared_[i]) prepared_[i].emplace(outlines_[i].area);
        return *prepared_[i];
    }

private:
    static std::vector<Box> boxes_of(const std::vector<Outline>& outlines) {
        std::vector<Box> boxes;
        boxes.reserve(outlines.size());
        for (const Outline& outline : outlines)
            boxes.push_back(outline.box);
        return boxes;
    }

    const std::vector<Outline>& outlines_;
    geometry::BoxIndex index_;
    std::vector<std::optional<PreparedArea>> prepared_;
};

std::string pad_text(const Chart& chart, const Outline& outline) {
    return outline.pad ? pad_name(chart.parts[outline.part], *outline.pad) : std::string();
}

/// A shield can stands over what lies inside it: their bodies overlap in plan and do not touch.
bool stands_over(const Chart& chart, const Outline& can, const Outline& other) {
    return chart.parts[can.part].part_class == document::PartClass::ShieldCan && can.box.contains(other.box.min) &&
           can.box.contains(other.box.max);
}

/// Pairs of different parts on the same side nearer than `rule`.
void add_close_pairs(const Chart& chart, const std::vector<Outline>& outlines, Neighbours& neighbours, GapKind kind,
                     double rule, std::vector<CloseGap>& close) {
    for (std::size_t i = 0; i < outlines.size(); ++i) {
        const Outline& a = outlines[i];
        for (const std::size_t j : neighbours.near(a.box, rule)) {
            const Outline& b = outlines[j];
            if (j <= i || a.part == b.part || a.side != b.side) continue;
            if (kind == GapKind::BodyToBody && (stands_over(chart, a, b) || stands_over(chart, b, a))) continue;
            if (!neighbours.area(i).is_within(neighbours.area(j), rule)) continue;
            const Gap gap = neighbours.area(i).gap_to(neighbours.area(j));
            if (!breaks(gap.mm, rule)) continue;
            close.push_back({kind, chart.parts[a.part].id, pad_text(chart, a), chart.parts[b.part].id,
                             pad_text(chart, b), rule, gap, a.side});
        }
    }
}

/// The board's outer edge and cut-outs as closed lines.
std::vector<Ring> edge_of(const geometry::Polygon& outline) {
    std::vector<Ring> rings{outline.outer};
    rings.insert(rings.end(), outline.holes.begin(), outline.holes.end());
    return rings;
}

/// Every stretch of the edge has its own box: a long edge's one box would touch everything.
std::vector<Box> stretches(const std::vector<Ring>& rings) {
    std::vector<Box> boxes;
    for (const Ring& ring : rings)
        for (std::size_t i = 0; i < ring.size(); ++i)
            boxes.push_back(geometry::bounds(std::array{ring[i], ring[(i + 1) % ring.size()]}));
    return boxes;
}

void add_close_to_edge(const Chart& chart, const std::vector<Outline>& outlines, Neighbours& neighbours, GapKind kind,
                       std::vector<CloseGap>& close) {
    const double rule = chart.rules.edge_gap_mm;
    const std::vector<Ring> rings = edge_of(*chart.board.outline);
    const geometry::BoxIndex index(stretches(rings));
    const PreparedArea edge = PreparedArea::along(rings);
    for (std::size_t i = 0; i < outlines.size(); ++i) {
        const Outline& outline = outlines[i];
        if (index.touching(outline.box.grown(rule)).empty()) continue;
        if (!edge.is_within(neighbours.area(i), rule)) continue;
        const Gap gap = edge.gap_to(neighbours.area(i));
        if (!breaks(gap.mm, rule)) continue;
        close.push_back({kind, chart.parts[outline.part].id, pad_text(chart, outline), Id{}, "", rule,
                         Gap{gap.mm, gap.to, gap.from}, outline.side});
    }
}

void add_off_board(const Chart& chart, const Region& board, Diagnostics& findings) {
    for (const Footprint& part : chart.parts) {
        const Ring extent = document::extent_on_board(part);
        const bool outside =
            std::none_of(extent.begin(), extent.end(), [&](geometry::Vec2 p) { return geometry::contains(board, p); });
        if (extent.empty() || !outside) continue;
        findings.push_back({Severity::Warning, "part-off-board",
                            name_of(part) + " lies outside the board's outline. Move it, or draw the outline anew.", "",
                            part.id.text});
    }
}

double share_of_rule(const CloseGap& close) {
    return close.rule_mm > 0.0 ? close.gap.mm / close.rule_mm : 0.0;
}

/// Inside the board's outer edge. Cut-outs stay in: air goes through them, they give no shelter.
std::optional<Region> board_area(const Chart& chart, Diagnostics& findings) {
    if (!chart.board.outline || chart.board.outline->outer.empty()) return std::nullopt;
    // Asked with its cut-outs, so that a finding tells of them too.
    std::ignore = proper_area(*chart.board.outline, "The board's outline", Id{}, findings);
    Diagnostics told_already;
    return proper_area({chart.board.outline->outer, {}}, "The board's outline", Id{}, told_already);
}

std::size_t parts_with_outline(const Chart& chart, const Outlines& outlines) {
    std::vector<bool> seen(chart.parts.size());
    for (const auto* list : {&outlines.bodies, &outlines.pads})
        for (const Outline& outline : *list)
            seen[outline.part] = true;
    return static_cast<std::size_t>(std::count(seen.begin(), seen.end(), true));
}

void add_close_gaps(const Chart& chart, const Outlines& outlines, ClearanceReport& report) {
    Neighbours bodies(outlines.bodies);
    Neighbours pads(outlines.pads);
    add_close_pairs(chart, outlines.bodies, bodies, GapKind::BodyToBody, chart.rules.body_gap_mm, report.close);
    add_close_pairs(chart, outlines.pads, pads, GapKind::PadToPad, chart.rules.pad_gap_mm, report.close);
    if (chart.board.outline && !chart.board.outline->outer.empty()) {
        add_close_to_edge(chart, outlines.pads, pads, GapKind::PadToEdge, report.close);
        add_close_to_edge(chart, outlines.bodies, bodies, GapKind::BodyToEdge, report.close);
    }
    std::stable_sort(report.close.begin(), report.close.end(),
                     [](const CloseGap& a, const CloseGap& b) { return share_of_rule(a) < share_of_rule(b); });
}

Region point_region(geometry::Vec2 at) {
    return {{{at}, {}}};
}

geometry::Vec2 centre_on_board(const Footprint& part) {
    return document::board_from_part(part.placement)(document::centre_in_part(part));
}

/// What one question to the sensitive things of a chart needs: the target made ready once.
struct Target {
    Id id; ///< of the part, or empty
    Side side;
    PreparedArea area;
    PreparedArea axis; ///< of the nozzle
    double reach_mm;
    Region shields; ///< that lie on its side
};

/// So much of it under shields counts as shielded: an edge that looks out is the drawing's, not the tape's.
constexpr double kCovered = 0.9;

bool is_covered(const Region& source, const Region& shields) {
    return !shields.empty() &&
           geometry::area(geometry::intersect(source, shields)) >= kCovered * geometry::area(source);
}

SensitiveGap sensitive_gap(const Target& target, const Region& source, const Id& id, Side side) {
    const PreparedArea sensitive(source);
    SensitiveGap answer;
    answer.target = target.id;
    answer.sensitive = id;
    answer.gap = target.area.gap_to(sensitive);
    answer.same_side = side == target.side;
    answer.shielded = answer.same_side && is_covered(source, target.shields);
    answer.inside_ring = target.axis.is_within(sensitive, target.reach_mm + document::kShapeTolerance);
    return answer;
}

bool counts_for(const document::KeepOut& keep_out, Side side) {
    return keep_out.measure != document::Measure::Removed && (keep_out.side == side || keep_out.through_board);
}

std::vector<SensitiveGap> gaps_from(const Chart& chart, const Target& target) {
    std::vector<SensitiveGap> gaps;
    for (const Footprint& part : chart.parts) {
        if (part.id == target.id || !is_heat_sensitive(part)) continue;
        const Region source = hot_area_of(part);
        if (!geometry::bounds(source).is_empty())
            gaps.push_back(sensitive_gap(target, source, part.id, part.placement.side));
    }
    for (const document::KeepOut& keep_out : chart.keep_outs) {
        if (!counts_for(keep_out, target.side) || keep_out.outline.outer.empty()) continue;
        gaps.push_back(sensitive_gap(target, {keep_out.outline}, keep_out.id, keep_out.side));
        if (keep_out.measure == document::Measure::Shielded) gaps.back().shielded = true;
    }
    std::stable_sort(gaps.begin(), gaps.end(),
                     [](const SensitiveGap& a, const SensitiveGap& b) { return a.gap.mm < b.gap.mm; });
    return gaps;
}

/// Body and pads together: what the air of a nozzle meets.
Region all_outlines(const Footprint& part) {
    Region all;
    if (part.body && sits_on_board(part)) all.push_back({document::body_on_board(part), {}});
    for (const document::Pad& pad : part.pads)
        all.push_back({document::outline_on_board(part, pad), {}});
    return all;
}

} // namespace

ClearanceReport clearance(const Chart& chart) {
    ClearanceReport report;
    if (!chart.scale) return report;
    report.has_scale = true;
    const Outlines outlines = outlines_of(chart, report.findings);
    report.parts_compared = parts_with_outline(chart, outlines);
    add_close_gaps(chart, outlines, report);
    const std::optional<Region> board = board_area(chart, report.findings);
    if (board) add_off_board(chart, *board, report.findings);
    add_zones(chart, board, report);
    return report;
}

std::vector<SensitiveGap> gaps_to_sensitive(const Chart& chart, const Id& target) {
    const auto position = document::find_part(chart, target);
    if (!chart.scale || !position) return {};
    const Footprint& part = chart.parts[*position];
    const Region area = plan_of(part);
    if (geometry::bounds(area).is_empty()) return {};
    return gaps_from(chart, Target{part.id,
                                   part.placement.side,
                                   PreparedArea(area),
                                   PreparedArea(point_region(centre_on_board(part))),
                                   nozzle_reach(chart.rules),
                                   {}});
}

std::vector<SensitiveGap> gaps_of_plan(const Chart& chart, const document::HeatPlan& plan) {
    if (!chart.scale) return {};
    Region area = point_region(plan.aim);
    if (const auto position = document::find_part(chart, plan.target)) {
        const Region drawn = plan_of(chart.parts[*position]);
        if (!geometry::bounds(drawn).is_empty()) area = drawn;
    }
    Region shields;
    for (const document::Shield& shield : chart.shields)
        if (shield.side == plan.side && std::count(plan.shields.begin(), plan.shields.end(), shield.id) > 0)
            shields.push_back(shield.outline);
    return gaps_from(chart, Target{plan.target, plan.side, PreparedArea(area), PreparedArea(point_region(plan.aim)),
                                   plan.nozzle_bore_mm / 2.0 + chart.rules.nozzle_margin_mm, geometry::unite(shields)});
}

std::vector<Id> parts_under_nozzle(const Chart& chart, geometry::Vec2 aim, double bore_mm, Side side) {
    std::vector<Id> under;
    if (!chart.scale) return under;
    const double radius = bore_mm / 2.0;
    const PreparedArea axis(point_region(aim));
    for (const Footprint& part : chart.parts) {
        if (part.placement.side != side) continue;
        const Region area = all_outlines(part);
        const Box box = geometry::bounds(area);
        if (!box.is_empty() && box.grown(radius).contains(aim) && axis.is_within(PreparedArea(area), radius))
            under.push_back(part.id);
    }
    return under;
}

std::optional<Gap> gap_between_parts(const Chart& chart, const Id& a, const Id& b) {
    const auto first = document::find_part(chart, a);
    const auto second = document::find_part(chart, b);
    if (!chart.scale || !first || !second) return std::nullopt;
    const Region from = plan_of(chart.parts[*first]);
    const Region to = plan_of(chart.parts[*second]);
    if (geometry::bounds(from).is_empty() || geometry::bounds(to).is_empty()) return std::nullopt;
    return geometry::gap_between(from, to);
}

bool is_heat_sensitive(const Footprint& part) {
    const auto limits = patterns::limits_of(part);
    if (limits && limits->delicate) return true;
    if (!part.heat) return false;
    // Named as something made for reflow, and no limit of its own: a statement that it may get hot.
    const bool stated_sturdy = patterns::find_material(part.heat->material).has_value();
    return !stated_sturdy;
}

} // namespace padchart::analysis
