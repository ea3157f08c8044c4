// Where one trace of a layout lies in another: the rigid turn and shift that bring namesakes onto each other best.

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "analysis/donor.hpp"

namespace padchart::analysis {

using document::Chart;
using document::Footprint;
using geometry::Affine;
using geometry::Vec2;

namespace {

/// Slips of a tracing hand, mm (common practice, no source).
constexpr double kTracing_mm = 0.3;

struct Namesakes {
    Vec2 donor;
    Vec2 here;
};

/// Places of the parts of a side whose name nobody else on the chart bears.
std::map<std::string, const Footprint*> named_once(const Chart& chart) {
    std::map<std::string, const Footprint*> named;
    for (const Footprint& part : chart.parts) {
        if (part.name.empty()) continue;
        const auto [at, is_new] = named.emplace(part.name, &part);
        if (!is_new) at->second = nullptr;
    }
    return named;
}

std::vector<Namesakes> namesakes(const Chart& donor, const Chart& here) {
    const std::map<std::string, const Footprint*> there = named_once(donor);
    std::vector<Namesakes> pairs;
    for (const auto& [name, part] : named_once(here)) {
        const auto other = there.find(name);
        if (part == nullptr || other == there.end() || other->second == nullptr) continue;
        if (other->second->placement.side == part->placement.side)
            pairs.push_back({other->second->placement.at, part->placement.at});
    }
    return pairs;
}

double relative_uncertainty(const Chart& chart) {
    return chart.scale ? chart.scale->relative_uncertainty : 0.0;
}

} // namespace

std::optional<BoardMatch> match_boards(const Chart& donor, const Chart& here) {
    const std::vector<Namesakes> pairs = namesakes(donor, here);
    if (pairs.size() < kLeastNamesakes) return std::nullopt;
    Vec2 from;
    Vec2 to;
    for (const Namesakes& pair : pairs) {
        from += pair.donor / static_cast<double>(pairs.size());
        to += pair.here / static_cast<double>(pairs.size());
    }
    double cosine = 0.0;
    double sine = 0.0;
    double reach = 0.0;
    for (const Namesakes& pair : pairs) {
        cosine += geometry::dot(pair.donor - from, pair.here - to);
        // y runs down, so that the cross product counts clockwise.
        sine -= geometry::cross(pair.donor - from, pair.here - to);
        reach = std::max(reach, geometry::distance(pair.donor, from));
    }
    if (!(std::hypot(cosine, sine) > 1e-9)) return std::nullopt;
    BoardMatch match;
    match.turn = Angle::radians(std::atan2(sine, cosine)).wrapped();
    const Affine turn = Affine::rotation(match.turn);
    match.shift_mm = to - turn(from);
    match.parts = pairs.size();
    for (const Namesakes& pair : pairs)
        match.worst_mm = std::max(match.worst_mm, geometry::distance(turn(pair.donor) + match.shift_mm, pair.here));
    match.allowed_mm = kTracing_mm + reach * (relative_uncertainty(donor) + relative_uncertainty(here));
    return match;
}

} // namespace padchart::analysis
