#include "analysis/heat_model.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace padchart::analysis {
namespace {

using geometry::Vec2;

constexpr double kMaskEmissivityLow = 0.5; // bare metal and cans
constexpr double kMaskEmissivityHigh = 0.95;

JetSpot plus(JetSpot a, const JetSpot& b, double k) {
    a.h += k * b.h;
    a.h_times_t += k * b.h_times_t;
    a.board_h += k * b.board_h;
    a.board_h_times_t += k * b.board_h_times_t;
    return a;
}

/// Gauss points of a cell along each side: more where the jet bends within a cell, one far out.
int points_for(double radius_mm, double bore_mm, double cell_mm) {
    if (radius_mm > 3.0 * bore_mm + cell_mm) return cell_mm < 0.5 * bore_mm ? 1 : 2;
    return cell_mm < 0.34 * bore_mm ? 2 : 3;
}

struct GaussRule {
    int count;
    double place[3];
    double weight[3];
};

const GaussRule& gauss(int count) {
    static const GaussRule kRules[3] = {
        {1, {0.0, 0.0, 0.0}, {1.0, 0.0, 0.0}},
        {2, {-0.28867513459481287, 0.28867513459481287, 0.0}, {0.5, 0.5, 0.0}},
        {3, {-0.3872983346207417, 0.0, 0.3872983346207417}, {5.0 / 18.0, 8.0 / 18.0, 5.0 / 18.0}}};
    return kRules[count - 1];
}

} // namespace

HeatCases heat_cases(const patterns::BoardData& board) {
    HeatCases cases;
    HeatCase& n = cases.nominal;
    n.conductivity = board.conductivity_w_per_m_k.nominal;
    n.heat_capacity = board.heat_capacity_j_per_m3_k.nominal;
    n.emissivity = board.emissivity;
    cases.low = {0.7,
                 0.8,
                 1.5,
                 board.conductivity_w_per_m_k.high,
                 board.heat_capacity_j_per_m3_k.high,
                 std::max(board.emissivity, kMaskEmissivityHigh),
                 0.3,
                 0.1,
                 1};
    cases.high = {1.3,
                  1.0,
                  2.4,
                  board.conductivity_w_per_m_k.low,
                  board.heat_capacity_j_per_m3_k.low,
                  std::min(board.emissivity, kMaskEmissivityLow),
                  0.5,
                  0.4,
                  -1};
    if (board.emissivity_is_stated) cases.low.emissivity = cases.high.emissivity = board.emissivity;
    cases.high_spread = cases.high;
    cases.high_spread.conductivity = board.conductivity_w_per_m_k.high;
    cases.high_spread.contact = 1;
    return cases;
}

void jet_on_grid(const Grid& grid, const JetField& jet, Vec2 aim, std::vector<JetSpot>& spots) {
    spots.resize(grid.size());
    for (int j = 0; j < grid.rows; ++j)
        for (int i = 0; i < grid.columns; ++i) {
            const Vec2 from_axis = grid.centre(i, j) - aim;
            const GaussRule& rule =
                gauss(points_for(std::sqrt(geometry::dot(from_axis, from_axis)), jet.bore_mm(), grid.cell_mm));
            JetSpot mean;
            for (int a = 0; a < rule.count; ++a)
                for (int b = 0; b < rule.count; ++b) {
                    const Vec2 p = from_axis + Vec2{rule.place[a], rule.place[b]} * grid.cell_mm;
                    mean = plus(mean, jet.at(std::sqrt(geometry::dot(p, p))), rule.weight[a] * rule.weight[b]);
                }
            spots[grid.index(i, j)] = mean;
        }
}

HeatModel::HeatModel(const HeatLayout& layout, const patterns::BoardData& board, const HeatCase& unknowns,
                     double room_c)
    : layout_(&layout), case_(unknowns), room_c_(room_c),
      face_resistance_(board.thickness_mm * 1e-3 / (3.0 * board.through_conductivity_w_per_m_k)) {
    const PlateData plate{board.thickness_mm * 1e-3, unknowns.conductivity, unknowns.heat_capacity};
    network_.surroundings_c = room_c;
    add_plate(network_, layout.grid, layout.share, layout.open, plate, layout.spread);
    add_bodies();
    set_below(std::nullopt);
    set_still_air();
}

void HeatModel::add_bodies() {
    standing_.resize(layout_->body_nodes.size());
    for (const HeatBody& body : layout_->bodies) {
        const BodyData& data = body.data;
        const double contact = data.contact[case_.contact + 1];
        for (std::size_t k = body.first; k < body.first + body.count; ++k) {
            const BodyNode& lump = layout_->body_nodes[k];
            const std::size_t node = network_.add_node(data.heat_capacity * data.height_m * lump.area_m2);
            for (const auto& [cell, area, shielded] : lump.patches) {
                const int below = layout_->plate.node_of_cell[cell];
                if (below < 0) continue;
                const double on_board = std::min(area, layout_->plate.area_m2[static_cast<std::size_t>(below)]);
                // Only what stands in the air bends the profile under it.
                if (body.is_in_the_air())
                    contacts_.push_back({static_cast<std::size_t>(below), node, contact * on_board});
                network_.links.push_back({static_cast<std::size_t>(below), node, contact * on_board});
            }
        }
        for (const BodyLink& link : body.links)
            network_.links.push_back({layout_->node_of_body(link.a), layout_->node_of_body(link.b),
                                      sheet_link(link.open_share, data.conductivity, data.height_m)});
        for (const RoofLink& link : body.roof)
            network_.links.push_back({layout_->node_of_body(link.body), layout_->node_of_body(link.can),
                                      body.roof_w_per_m2_k * link.area_m2});
    }
}

void HeatModel::set_radiation() {
    const double grey = case_.emissivity * kStefanBoltzmann;
    const double cell_m2 = layout_->grid.cell_area_mm2() * 1e-6;
    top_radiance_.assign(layout_->board_nodes(), 0.0);
    for (std::size_t n = 0; n < layout_->board_nodes(); ++n) {
        const std::size_t cell = layout_->plate.cell_of_node[n];
        top_radiance_[n] = grey * layout_->free_share[cell] * cell_m2;
        // A preheater's own coefficient counts its radiation.
        network_.radiance_w_per_k4[n] =
            top_radiance_[n] + (is_preheated_ ? 0.0 : grey * layout_->free_below[cell] * cell_m2);
    }
    for (const HeatBody& body : layout_->bodies) {
        const bool is_hidden = !body.under.is_empty() || (body.is_far && is_preheated_);
        const double emissivity = is_hidden ? 0.0 : std::min(body.data.emissivity, case_.emissivity);
        for (std::size_t k = body.first; k < body.first + body.count; ++k)
            network_.radiance_w_per_k4[layout_->node_of_body(k)] =
                emissivity * kStefanBoltzmann * layout_->body_nodes[k].area_m2;
    }
}

void HeatModel::set_passing() {
    for (std::size_t k = 0; k < standing_.size(); ++k) {
        Standing& body = standing_[k];
        const double from_air = network_.air.w_per_k[layout_->node_of_body(k)];
        if (body.w_per_k <= 0.0 || from_air <= 0.0) continue;
        const double there = 1.0 / from_air + 1.0 / body.w_per_k;
        body.passing = there / (there + face_resistance_ / body.area_m2);
    }
}

void HeatModel::set_below(std::optional<double> preheat_c) {
    is_preheated_ = preheat_c.has_value();
    network_.below.resize(network_.size());
    const double h = is_preheated_ ? kPreheater_h : kStillAir_h;
    const double from_c = preheat_c.value_or(room_c_);
    const double cell_m2 = layout_->grid.cell_area_mm2() * 1e-6;
    for (std::size_t n = 0; n < layout_->board_nodes(); ++n)
        network_.below.add(n, h * layout_->free_below[layout_->plate.cell_of_node[n]] * cell_m2, from_c);
    for (const HeatBody& body : layout_->bodies)
        for (std::size_t k = body.first; body.is_far && body.under.is_empty() && k < body.first + body.count; ++k)
            network_.below.add(layout_->node_of_body(k), h * layout_->body_nodes[k].area_m2, from_c);
    set_radiation();
}

void HeatModel::set_still_air() {
    network_.air.resize(network_.size());
    const double cell_m2 = layout_->grid.cell_area_mm2() * 1e-6;
    for (std::size_t n = 0; n < layout_->board_nodes(); ++n)
        network_.air.add(n, kStillAir_h * layout_->free_share[layout_->plate.cell_of_node[n]] * cell_m2, room_c_);
    for (const HeatBody& body : layout_->bodies)
        for (std::size_t k = body.first; body.is_in_the_air() && k < body.first + body.count; ++k)
            network_.air.add(layout_->node_of_body(k), kStillAir_h * layout_->body_nodes[k].area_m2, room_c_);
    set_passing();
}

void HeatModel::set_jet(const JetField& jet, Vec2 aim) {
    const Grid& grid = layout_->grid;
    jet_on_grid(grid, jet, aim, spots_);
    network_.air.resize(network_.size());
    const double cell_m2 = grid.cell_area_mm2() * 1e-6;
    const auto bare = [&](std::size_t cell) { return 1.0 - layout_->shielded[cell] * (1.0 - case_.shield_h); };
    for (std::size_t n = 0; n < layout_->board_nodes(); ++n) {
        const std::size_t cell = layout_->plate.cell_of_node[n];
        const double area = layout_->free_share[cell] * cell_m2 * bare(cell);
        network_.air.w_per_k[n] = area * spots_[cell].board_h;
        network_.air.w[n] = area * spots_[cell].board_h_times_t;
    }
    for (const HeatBody& body : layout_->bodies)
        for (std::size_t k = body.first; body.is_in_the_air() && k < body.first + body.count; ++k) {
            const BodyNode& lump = layout_->body_nodes[k];
            const std::size_t node = layout_->node_of_body(k);
            const auto feel = [&](const JetSpot& spot, double area) {
                network_.air.w_per_k[node] += area * spot.h;
                network_.air.w[node] += area * spot.h_times_t;
            };
            for (const BodyPatch& patch : lump.patches)
                feel(spots_[patch.cell], patch.area_m2 * (1.0 - patch.shielded * (1.0 - case_.shield_h)));
            for (const EdgePiece& wall : lump.walls) {
                const Vec2 to_axis = aim - wall.middle;
                const double away = geometry::length(to_axis);
                const double facing = away > 0.0 ? geometry::dot(wall.outward, to_axis) / away : 0.0;
                if (facing <= 0.0) continue;
                // The wall meets the air where it stands, half a cell nearer to the axis than its cell's middle.
                feel(jet.at(away), wall.length_mm * 1e-3 * body.data.height_m * facing);
            }
        }
    set_passing();
}

JetShape HeatModel::jet_shape(std::optional<double> preheat_c, double circle_radius_mm) const {
    JetShape shape;
    shape.h_factor = case_.h_factor;
    shape.spread = case_.spread;
    shape.entrained_c = preheat_c ? room_c_ + case_.entrainment * (*preheat_c - room_c_) : room_c_;
    shape.thickness_resistance = face_resistance_;
    shape.circle_radius_mm = circle_radius_mm;
    return shape;
}

void HeatModel::top_excess(std::span<const double> celsius, std::vector<double>& excess) const {
    excess.assign(layout_->board_nodes(), 0.0);
    const double room2 = std::pow(room_c_ + kCelsiusZero, 2);
    for (std::size_t n = 0; n < excess.size(); ++n) {
        const double t2 = std::pow(celsius[n] + kCelsiusZero, 2);
        excess[n] =
            network_.air.w[n] - network_.air.w_per_k[n] * celsius[n] - top_radiance_[n] * (t2 + room2) * (t2 - room2);
    }
    for (std::size_t n = 0; n < excess.size(); ++n)
        excess[n] *= face_resistance_ / layout_->plate.area_m2[n];
    for (const Contact& contact : contacts_) {
        const double board_c = celsius[contact.board], body_c = celsius[contact.body];
        const double flux = standing_[contact.body - excess.size()].passing * contact.w_per_k * (body_c - board_c);
        const double own = flux * face_resistance_ / layout_->plate.area_m2[contact.board];
        // Neither hotter than both the body and the air at it, nor colder than the body that takes heat away.
        const double air = network_.air.w_per_k[contact.body];
        const double offered_c = air > 0.0 ? network_.air.w[contact.body] / air : body_c;
        excess[contact.board] +=
            std::clamp(own, std::min(0.0, body_c - board_c), std::max(0.0, std::max(body_c, offered_c) - board_c));
    }
}

} // namespace padchart::analysis
