#include "svg/reimport_turn.hpp"

#include <algorithm>
#include <cmath>

#include "geometry/turn_fit.hpp"
#include "svg/reimport_numbers.hpp"

namespace padchart::svg {
namespace {

using document::Pad;
using geometry::Affine;
using geometry::Vec2;

/// Less is drawn anew, not turned.
constexpr double kTurned_deg = 30.0;
/// They went as one when none is farther off than this share of the way from the middle to the outermost.
constexpr double kOffShare = 0.25;

double turn_by_number(const std::vector<Pad>& current, const std::vector<Pad>& fresh) {
    std::vector<geometry::Step> steps;
    const auto there = pads_by_number(fresh);
    for (const auto& [number, at] : pads_by_number(current))
        if (const auto to = there.find(number); to != there.end())
            steps.push_back({current[at].at, fresh[to->second].at});
    if (steps.size() < 2) return 0.0;
    const geometry::TurnFit fit = geometry::turn_fit(steps);
    const Angle turn = fit.turn();
    double reach = 0.0;
    for (const geometry::Step& step : steps)
        reach = std::max(reach, geometry::distance(step.from, fit.from));
    const bool went_as_one = std::all_of(steps.begin(), steps.end(), [&](const geometry::Step& step) {
        return geometry::distance(fit.map(turn, 1.0)(step.from), step.to) <= kOffShare * reach;
    });
    const double turned = turn.signed_turn().degrees();
    return went_as_one && std::abs(turned) >= kTurned_deg ? turned : 0.0;
}

Vec2 middle_of(const std::vector<Pad>& pads) {
    Vec2 sum;
    for (const Pad& pad : pads)
        sum += pad.at;
    return pads.empty() ? sum : sum / static_cast<double>(pads.size());
}

/// Each of the places is one of the others, about the middle of each.
bool lie_on(const std::vector<Pad>& current, const std::vector<Pad>& fresh, Angle turn) {
    const Vec2 from = middle_of(current), to = middle_of(fresh);
    double reach = 0.0;
    for (const Pad& pad : current)
        reach = std::max(reach, geometry::distance(pad.at, from));
    return std::all_of(current.begin(), current.end(), [&](const Pad& pad) {
        const Vec2 at = to + Affine::rotation(turn)(pad.at - from);
        return std::any_of(fresh.begin(), fresh.end(),
                           [&](const Pad& other) { return geometry::distance(other.at, at) <= kOffShare * reach; });
    });
}

double turn_by_places(const std::vector<Pad>& current, const std::vector<Pad>& fresh) {
    const auto is_numbered = [](const Pad& pad) { return !pad.number.empty(); };
    if (current.size() != fresh.size() || current.size() < 2 ||
        std::any_of(current.begin(), current.end(), is_numbered) || lie_on(current, fresh, {}))
        return 0.0;
    for (const double turn : {90.0, 180.0, -90.0})
        if (lie_on(current, fresh, Angle::degrees(turn))) return turn;
    return 0.0;
}

} // namespace

double turn_of_pads(const std::vector<Pad>& current, const std::vector<Pad>& fresh) {
    const double turned = turn_by_number(current, fresh);
    return turned != 0.0 ? turned : turn_by_places(current, fresh);
}

} // namespace padchart::svg
