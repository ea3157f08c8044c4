#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>

#include "analysis/heat_cans.hpp"
#include "analysis/heat_model.hpp"
#include "geometry/overlay.hpp"
#include "geometry/validity.hpp"
#include "patterns/table.hpp"

namespace padchart::analysis {
namespace {

using document::Chart;
using document::Footprint;
using document::Id;
using document::PartClass;
using geometry::Region;
using geometry::Ring;
using geometry::Vec2;

constexpr double kStandInMargin_mm = 10.0; // of board assumed round the parts where no outline is traced
constexpr double kOverhang_mm = 10.0;      // of a part beyond the board's edge that is still in the air
constexpr double kLeastBodyShare = 0.5;    // of a cell: less is joined to a neighbour
constexpr double kSmallBody_cells = 6.0;
constexpr double kEvenBody_w_per_m_k = 20.0; // such a body has one temperature
constexpr double kMostCells = 160000.0;

BodyData data_of_class(std::string_view word) {
    const patterns::Table& rows = patterns::table("part_bodies");
    auto row = rows.find("class", word);
    if (!row) row = rows.find("class", "unknown");
    const auto number = [&](std::string_view column) { return rows.number(*row, column).value_or(0.0); };
    return {number("height_mm") * 1e-3,       number("heat_capacity"),
            number("conductivity"),           {number("contact_low"), number("contact"), number("contact_high")},
            rows.text(*row, "wall") == "yes", number("emissivity")};
}

BodyData data_of(const Footprint& part) {
    BodyData data = data_of_class(document::to_text(part.part_class));
    if (part.body && part.body->height_mm && *part.body->height_mm > 0.0) data.height_m = *part.body->height_mm * 1e-3;
    return data;
}

/// Reasons that speak of a thing standing on the board, and what it is like; others lie flat on it.
std::optional<std::string_view> standing_class(document::KeepOutReason reason) {
    switch (reason) {
    case document::KeepOutReason::Cell: return "cell";
    case document::KeepOutReason::CapacitorCan: return "aluminium-capacitor";
    case document::KeepOutReason::TuningFork: return "crystal";
    case document::KeepOutReason::Optics: return "camera";
    case document::KeepOutReason::PortOpening: return "microphone";
    case document::KeepOutReason::Lens: return "led";
    case document::KeepOutReason::MagnetOrMotor: return "motor";
    case document::KeepOutReason::PlasticConnector:
    case document::KeepOutReason::CardTrayOrSwitch: return "connector";
    default: return std::nullopt;
    }
}

/// Copper or a hole: heats with the board.
bool is_flat(PartClass part_class) {
    return part_class == PartClass::TestPoint || part_class == PartClass::MountingHole;
}

/// How much of each patch lies under a shield: of the patch, not of its cell, of which it may be a sliver.
void shade(HeatLayout& layout, const HeatBody& body, const Ring& ring) {
    if (layout.shields.empty()) return;
    const Region under = geometry::intersect({{ring, {}}}, layout.shields);
    if (under.empty()) return;
    const std::vector<double> share = coverage(layout.grid, under);
    const double cell_m2 = layout.grid.cell_area_mm2() * 1e-6;
    for (std::size_t k = body.first; k < body.first + body.count; ++k)
        for (BodyPatch& patch : layout.body_nodes[k].patches)
            patch.shielded = std::clamp(share[patch.cell] * cell_m2 / patch.area_m2, 0.0, 1.0);
}

/// Cuts a body's ring into nodes. Cells covered by less than half hand their piece to the fullest neighbour.
void add_body(HeatLayout& layout, HeatBody body, const Ring& ring) {
    const Grid& grid = layout.grid;
    const auto cells = covered_cells(grid, ring);
    if (cells.empty()) return;
    body.first = layout.body_nodes.size();
    const double cell_m2 = grid.cell_area_mm2() * 1e-6;
    double covered = 0.0;
    std::map<std::size_t, double> share;
    for (const auto& [cell, part] : cells) {
        share[cell] = part;
        covered += part;
    }
    std::map<std::size_t, std::size_t> node; // of a cell
    const bool is_even = covered < kSmallBody_cells || body.data.conductivity >= kEvenBody_w_per_m_k;
    const auto is_full = [&](std::size_t cell) { return share[cell] >= kLeastBodyShare; };
    const bool has_full = std::any_of(cells.begin(), cells.end(), [&](const auto& c) { return is_full(c.first); });
    if (is_even || !has_full) {
        layout.body_nodes.emplace_back();
        for (const auto& [cell, part] : cells)
            node[cell] = body.first;
    } else {
        for (const auto& [cell, part] : cells)
            if (is_full(cell)) {
                node[cell] = layout.body_nodes.size();
                layout.body_nodes.emplace_back();
            }
        const auto width = static_cast<std::ptrdiff_t>(grid.columns);
        for (const auto& [cell, part] : cells) {
            if (is_full(cell)) continue;
            std::size_t best = cell;
            double best_share = -1.0;
            for (const std::ptrdiff_t away : {-1L, 1L, -width, width, -width - 1, -width + 1, width - 1, width + 1}) {
                const auto other = static_cast<std::size_t>(static_cast<std::ptrdiff_t>(cell) + away);
                const auto found = share.find(other);
                if (found == share.end() || !is_full(other) || found->second <= best_share) continue;
                best = other;
                best_share = found->second;
            }
            // A thin spur far from any full cell joins the body's first node rather than get lost.
            node[cell] = best == cell ? body.first : node[best];
        }
    }
    for (const auto& [cell, part] : cells) {
        BodyNode& to = layout.body_nodes[node[cell]];
        to.patches.push_back({cell, part * cell_m2, 0.0});
        to.area_m2 += part * cell_m2;
    }
    if (body.data.has_wall && body.is_in_the_air())
        for (const EdgePiece& piece : edge_pieces(grid, ring))
            if (const auto found = node.find(piece.cell);
                found != node.end() && !geometry::contains(layout.shields, piece.middle))
                layout.body_nodes[found->second].walls.push_back(piece);
    body.count = layout.body_nodes.size() - body.first;
    // Faces between cells of different nodes; a face is open as far as the emptier side covers it.
    const auto join = [&](std::size_t a, std::size_t b) {
        const auto other = node.find(b);
        if (other == node.end() || other->second == node[a]) return;
        body.links.push_back({node[a], other->second, std::min(share[a], share[b])});
    };
    for (const auto& [cell, part] : cells) {
        if ((cell + 1) % static_cast<std::size_t>(grid.columns) != 0) join(cell, cell + 1);
        join(cell, cell + static_cast<std::size_t>(grid.columns));
    }
    if (body.is_in_the_air()) shade(layout, body, ring);
    layout.bodies.push_back(std::move(body));
}

document::Side opposite(document::Side side) {
    return side == document::Side::Top ? document::Side::Bottom : document::Side::Top;
}

/// Bodies of one face; their outlines for what they cover.
std::vector<Ring> add_bodies(HeatLayout& layout, const Chart& chart, document::Side side, const Id& target) {
    std::vector<Ring> standing;
    const bool is_far = side != layout.side;
    const Cans cans(chart, side, is_far ? Id{} : target);
    if (!cans.lifted().is_empty())
        layout.remarks.push_back({Severity::Warning, "can-over-target",
                                  "A shield can stands over the target. It is taken as lifted: take it off first.", "",
                                  cans.lifted().text});
    const auto stand = [&](const Id& id, bool is_keep_out, const BodyData& data, const Ring& ring) {
        HeatBody body;
        body.source = id;
        body.is_keep_out = is_keep_out;
        body.is_far = is_far;
        body.data = data;
        body.under = cans.over(id, geometry::centroid(ring));
        add_body(layout, std::move(body), ring);
        standing.push_back(ring);
    };
    for (const Footprint& part : chart.parts) {
        if (part.placement.side != side || !stands_on_board(part) || is_flat(part.part_class)) continue;
        if (part.id == cans.lifted()) continue;
        const Ring ring = document::extent_on_board(part);
        if (ring.size() < 3 || std::abs(geometry::signed_area(ring)) <= 0.0) continue;
        stand(part.id, false, data_of(part), ring);
    }
    for (const document::KeepOut& keep_out : chart.keep_outs) {
        const auto kind = standing_class(keep_out.reason);
        if (!kind || keep_out.side != side || keep_out.measure == document::Measure::Removed) continue;
        const Ring& ring = keep_out.outline.outer;
        if (ring.size() < 3) continue;
        // Drawn round a part that is on the chart: the part is the body already.
        const bool is_drawn_part = std::any_of(standing.begin(), standing.end(), [&](const Ring& other) {
            return geometry::contains(ring, geometry::centroid(other));
        });
        if (is_drawn_part) continue;
        BodyData data = data_of_class(*kind);
        if (keep_out.height_mm && *keep_out.height_mm > 0.0) data.height_m = *keep_out.height_mm * 1e-3;
        stand(keep_out.id, true, data, ring);
    }
    return standing;
}

/// Of each cell: board that none of the outlines covers.
std::vector<double> share_left_by(const HeatLayout& layout, const std::vector<Ring>& standing) {
    Region covers;
    for (const Ring& ring : standing)
        covers.push_back({ring, {}});
    std::vector<double> free = layout.share;
    if (covers.empty()) return free;
    const std::vector<double> covered =
        coverage(layout.grid, geometry::intersect(geometry::unite(covers), layout.board));
    for (std::size_t cell = 0; cell < covered.size(); ++cell)
        free[cell] = std::max(0.0, layout.share[cell] - covered[cell]);
    return free;
}

void add_shields(HeatLayout& layout, const Chart& chart, const std::vector<Id>& shields) {
    for (const document::Shield& shield : chart.shields)
        if (shield.side == layout.side && std::find(shields.begin(), shields.end(), shield.id) != shields.end())
            layout.shields.push_back(shield.outline);
    layout.shielded.assign(layout.grid.size(), 0.0);
    if (layout.shields.empty()) return;
    layout.shields = geometry::unite(layout.shields);
    layout.shielded = coverage(layout.grid, layout.shields);
}

/// Drawn copper: the factor counts as far as the area covers a cell; where two lie over each other both count.
void add_copper(HeatLayout& layout, const Chart& chart) {
    for (const document::CopperArea& area : chart.copper_areas) {
        if (area.conductivity_factor <= 0.0 || area.outline.outer.size() < 3) continue;
        const Region sound = geometry::mended(area.outline);
        if (sound.empty()) continue;
        if (layout.spread.empty()) layout.spread.assign(layout.grid.size(), 1.0);
        const std::vector<double> covered = coverage(layout.grid, sound);
        for (std::size_t cell = 0; cell < covered.size(); ++cell)
            layout.spread[cell] *= 1.0 + covered[cell] * (area.conductivity_factor - 1.0);
    }
}

geometry::Box reach_of(const HeatLayout& layout, const Chart& chart) {
    geometry::Box box = geometry::bounds(layout.board);
    const geometry::Box limit = box.grown(kOverhang_mm);
    for (const Footprint& part : chart.parts) {
        for (const Vec2 p : document::extent_on_board(part))
            box.add(Vec2{std::clamp(p.x, limit.min.x, limit.max.x), std::clamp(p.y, limit.min.y, limit.max.y)});
    }
    return box;
}

} // namespace

bool stands_on_board(const Footprint& part) {
    const document::Presence presence = part.condition.presence;
    return presence == document::Presence::NotChecked || presence == document::Presence::Present;
}

geometry::Region board_region(const Chart& chart) {
    if (chart.board.outline)
        if (Region sound = geometry::mended(*chart.board.outline); !sound.empty()) return sound;
    geometry::Box box;
    for (const Footprint& part : chart.parts)
        for (const Vec2 p : document::extent_on_board(part))
            box.add(p);
    for (const document::HeatPlan& plan : chart.heat_plans)
        box.add(plan.aim);
    if (box.is_empty()) box.add(Vec2{});
    box = box.grown(kStandInMargin_mm);
    return {{{box.min, {box.max.x, box.min.y}, box.max, {box.min.x, box.max.y}}, {}}};
}

std::vector<std::pair<std::size_t, double>> covered_cells(const Grid& grid, const Ring& ring) {
    std::vector<std::pair<std::size_t, double>> cells;
    const geometry::Box box = geometry::bounds(ring);
    if (box.is_empty()) return cells;
    const auto column = [&](double x) { return static_cast<int>(std::floor((x - grid.origin.x) / grid.cell_mm)); };
    const auto row = [&](double y) { return static_cast<int>(std::floor((y - grid.origin.y) / grid.cell_mm)); };
    const int i0 = std::clamp(column(box.min.x), 0, grid.columns - 1);
    const int j0 = std::clamp(row(box.min.y), 0, grid.rows - 1);
    const int i1 = std::clamp(column(box.max.x), i0, grid.columns - 1);
    const int j1 = std::clamp(row(box.max.y), j0, grid.rows - 1);
    const Grid window{
        {grid.origin.x + i0 * grid.cell_mm, grid.origin.y + j0 * grid.cell_mm}, grid.cell_mm, i1 - i0 + 1, j1 - j0 + 1};
    const std::vector<double> share = coverage(window, geometry::mended({ring, {}}));
    for (int j = 0; j < window.rows; ++j)
        for (int i = 0; i < window.columns; ++i)
            if (const double part = share[window.index(i, j)]; part > 1e-9)
                cells.emplace_back(grid.index(i0 + i, j0 + j), part);
    return cells;
}

HeatLayout heat_layout(const Chart& chart, document::Side side, const std::vector<Id>& shields, double cell_mm,
                       const Id& target) {
    HeatLayout layout;
    layout.side = side;
    layout.board = board_region(chart);
    if (!chart.board.outline)
        layout.remarks.push_back({Severity::Warning, "no-outline",
                                  "The board has no outline yet: one that reaches 10 mm beyond all parts is assumed. "
                                  "Trace the edge, it holds the heat in.",
                                  "", ""});
    const geometry::Box box = reach_of(layout, chart);
    const double least = std::sqrt(std::max(box.width(), 1e-3) * std::max(box.height(), 1e-3) / kMostCells);
    layout.grid = grid_over(box, std::max(cell_mm, least));
    layout.share = coverage(layout.grid, layout.board);
    layout.open = openings(layout.grid, layout.board);
    add_copper(layout, chart);
    HeatNetwork numbering; // only to number the board's nodes
    layout.plate = add_plate(numbering, layout.grid, layout.share, layout.open, {});
    add_shields(layout, chart, shields);
    layout.free_share = share_left_by(layout, add_bodies(layout, chart, side, target));
    layout.free_below = share_left_by(layout, add_bodies(layout, chart, opposite(side), target));
    roof_over(layout);
    return layout;
}

const HeatBody* HeatLayout::body_of(const Id& source) const {
    for (const HeatBody& body : bodies)
        if (body.source == source) return &body;
    return nullptr;
}

Probe HeatLayout::board_probe(const Ring& area) const {
    Probe probe;
    double total = 0.0;
    for (const auto& [cell, part] : covered_cells(grid, area)) {
        const int node = plate.node_of_cell[cell];
        const double weight = std::min(part, share[cell]);
        if (node < 0 || weight <= 0.0) continue;
        probe.nodes.emplace_back(static_cast<std::size_t>(node), weight);
        total += weight;
    }
    for (auto& [node, weight] : probe.nodes)
        weight /= total;
    if (!probe.is_empty() || area.empty()) return probe;
    const Vec2 middle = geometry::centroid(area);
    double nearest = 1e300;
    for (std::size_t node = 0; node < board_nodes(); ++node) {
        const double away = geometry::distance(middle, grid.centre(plate.cell_of_node[node]));
        if (away >= nearest) continue;
        nearest = away;
        probe.nodes = {{node, 1.0}};
    }
    return probe;
}

Probe HeatLayout::body_probe(const HeatBody& body) const {
    Probe probe;
    double total = 0.0;
    for (std::size_t k = body.first; k < body.first + body.count; ++k)
        total += body_nodes[k].area_m2;
    for (std::size_t k = body.first; k < body.first + body.count; ++k)
        probe.nodes.emplace_back(node_of_body(k), body_nodes[k].area_m2 / total);
    return probe;
}

Vec2 HeatLayout::place_of(std::size_t node) const {
    if (node < board_nodes()) return grid.centre(plate.cell_of_node[node]);
    const BodyNode& body = body_nodes[node - board_nodes()];
    Vec2 sum;
    for (const BodyPatch& patch : body.patches)
        sum += grid.centre(patch.cell) * patch.area_m2;
    return sum / body.area_m2;
}

double Probe::mean(std::span<const double> celsius) const {
    double sum = 0.0;
    for (const auto& [node, weight] : nodes)
        sum += weight * celsius[node];
    return sum;
}

std::size_t Probe::hottest(std::span<const double> celsius) const {
    assert(!is_empty());
    std::size_t best = 0;
    for (std::size_t k = 1; k < nodes.size(); ++k)
        if (celsius[nodes[k].first] > celsius[nodes[best].first]) best = k;
    return best;
}

} // namespace padchart::analysis
