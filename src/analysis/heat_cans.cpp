#include "analysis/heat_cans.hpp"

#include <algorithm>
#include <map>

#include "document/edits.hpp"

namespace padchart::analysis {
namespace {

using document::Id;
using geometry::Ring;
using geometry::Vec2;

constexpr double kBetween_c = 200.0; // where the air between and the radiation are taken
constexpr double kLeastGap_m = 0.2e-3;

/// W/(m2 K) from one face to the other.
double through_gap(const BodyData& body, const BodyData& can) {
    const double gap_m = std::max(kLeastGap_m, can.height_m - body.height_m);
    const double grey = 1.0 / (1.0 / body.emissivity + 1.0 / can.emissivity - 1.0);
    const double kelvin = kBetween_c + kCelsiusZero;
    return air_at(kBetween_c).conductivity / gap_m + 4.0 * grey * kStefanBoltzmann * kelvin * kelvin * kelvin;
}

} // namespace

Cans::Cans(const document::Chart& chart, document::Side side, const Id& target) {
    for (const document::Footprint& part : chart.parts)
        if (part.part_class == document::PartClass::ShieldCan && part.placement.side == side && stands_on_board(part))
            if (Ring ring = document::extent_on_board(part); ring.size() >= 3)
                cans_.emplace_back(part.id, std::move(ring));
    const auto at = document::find_part(chart, target);
    if (!at) return;
    const Ring extent = document::extent_on_board(chart.parts[*at]);
    if (!extent.empty()) lifted_ = over(target, geometry::centroid(extent));
}

Id Cans::over(const Id& self, Vec2 place) const {
    for (const auto& [id, ring] : cans_)
        if (id != self && id != lifted_ && geometry::contains(ring, place)) return id;
    return {};
}

void roof_over(HeatLayout& layout) {
    for (HeatBody& body : layout.bodies) {
        const HeatBody* can = body.under.is_empty() ? nullptr : layout.body_of(body.under);
        if (can == nullptr) continue;
        std::map<std::size_t, std::size_t> can_node; // of a cell
        for (std::size_t k = can->first; k < can->first + can->count; ++k)
            for (const BodyPatch& patch : layout.body_nodes[k].patches)
                can_node[patch.cell] = k;
        body.roof_w_per_m2_k = through_gap(body.data, can->data);
        for (std::size_t k = body.first; k < body.first + body.count; ++k)
            for (const BodyPatch& patch : layout.body_nodes[k].patches)
                if (const auto found = can_node.find(patch.cell); found != can_node.end())
                    body.roof.push_back({k, found->second, patch.area_m2});
    }
}

} // namespace padchart::analysis
