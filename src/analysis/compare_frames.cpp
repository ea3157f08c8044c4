#include "analysis/compare_frames.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <unordered_map>

#include "analysis/compare_register.hpp"

namespace padchart::analysis {
namespace {

using document::Footprint;
using geometry::Affine;
using geometry::Vec2;

/// Pads of the same number, else of the same position in the list; empty where their counts differ.
std::vector<PointPair> partners(const Footprint& before, const Footprint& after) {
    std::vector<PointPair> out;
    if (before.pads.size() != after.pads.size()) return out;
    std::unordered_map<std::string, std::size_t> numbers;
    for (std::size_t i = 0; i < after.pads.size(); ++i)
        numbers.emplace(after.pads[i].number, i);
    const bool by_number =
        numbers.size() == after.pads.size() &&
        std::all_of(before.pads.begin(), before.pads.end(), [&](const auto& pad) { return numbers.count(pad.number); });
    for (std::size_t i = 0; i < before.pads.size(); ++i) {
        const std::size_t k = by_number ? numbers.at(before.pads[i].number) : i;
        out.push_back({before.pads[i].at, after.pads[k].at, 1.0});
    }
    return out;
}

double worst_of(const std::vector<PointPair>& pairs, const Affine& map) {
    double worst = 0.0;
    for (const PointPair& pair : pairs)
        worst = std::max(worst, geometry::distance(map(pair.after), pair.before));
    return worst;
}

double narrowest_land(const Footprint& part) {
    double narrowest = std::numeric_limits<double>::infinity();
    for (const document::Pad& pad : part.pads) {
        const geometry::Box box = geometry::bounds(document::outline_of(pad.shape));
        narrowest = std::min({narrowest, box.width(), box.height()});
    }
    return std::isfinite(narrowest) ? narrowest : 0.0;
}

} // namespace

OwnFrames own_frames(const Footprint& before, const Footprint& after, bool mirrored, double tolerance_mm) {
    const Affine usual = mirrored ? Affine::scaling(-1, 1) : Affine{};
    const std::vector<PointPair> pairs = partners(before, after);
    OwnFrames out{usual, before.pads.size() == after.pads.size(), worst_of(pairs, usual)};
    if (!out.same_pads || out.worst_mm <= tolerance_mm) return out;
    // In a mirror a part made from a family still has its own, not mirrored, pads.
    for (const bool flip : {mirrored, false}) {
        if (pairs.size() < 2) break;
        const Motion motion = least_squares_motion(pairs, flip, 0.0);
        const double worst = worst_of(pairs, motion.before_from_after);
        if (worst <= tolerance_mm) return {motion.before_from_after, true, worst};
    }
    out.same_pads = false;
    return out;
}

Displacement displacement(const Footprint& before, const Footprint& after, const OwnFrames& frames,
                          const Affine& before_from_after) {
    const Affine was = document::board_from_part(before.placement);
    const Affine is =
        before_from_after * document::board_from_part(after.placement) * frames.before_from_after.inverse();
    const Vec2 middle = document::centre_in_part(before);
    Displacement out;
    out.by_mm = is(middle) - was(middle);
    const Affine turn = was.inverse() * is;
    if (!turn.mirrors()) out.turn_deg = Angle::radians(std::atan2(-turn.b, turn.a)).signed_turn().degrees();
    return out;
}

Turn turn_of(double by_deg) {
    Turn turn;
    turn.by_deg = by_deg;
    const double nearest = std::round(by_deg / 90.0) * 90.0;
    turn.residual_deg = by_deg - nearest;
    turn.quarter_deg = Angle::degrees(nearest).wrapped().degrees();
    return turn;
}

double moved_tolerance(const Footprint& part, const CompareOptions& options) {
    return std::max(options.moved_mm, options.moved_share_of_land * narrowest_land(part));
}

} // namespace padchart::analysis
