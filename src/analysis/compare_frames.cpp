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

/// For each pad the one of the same number, else of the same position in the list; empty where their counts differ.
std::vector<std::size_t> partners(const Footprint& before, const Footprint& after) {
    std::vector<std::size_t> out;
    if (before.pads.size() != after.pads.size()) return out;
    std::unordered_map<std::string, std::size_t> numbers;
    for (std::size_t i = 0; i < after.pads.size(); ++i)
        numbers.emplace(after.pads[i].number, i);
    const bool by_number =
        numbers.size() == after.pads.size() &&
        std::all_of(before.pads.begin(), before.pads.end(), [&](const auto& pad) { return numbers.count(pad.number); });
    for (std::size_t i = 0; i < before.pads.size(); ++i)
        out.push_back(by_number ? numbers.at(before.pads[i].number) : i);
    return out;
}

std::vector<PointPair> pad_points(const Footprint& before, const Footprint& after, double scale) {
    const std::vector<std::size_t> partner = partners(before, after);
    std::vector<PointPair> out;
    for (std::size_t i = 0; i < partner.size(); ++i)
        out.push_back({before.pads[i].at, after.pads[partner[i]].at * scale, 1.0});
    return out;
}

geometry::Vec2 extent_of(const geometry::Ring& ring, const Affine& map) {
    geometry::Ring there = ring;
    for (Vec2& point : there)
        point = map(point);
    const geometry::Box box = geometry::bounds(there);
    return {box.width(), box.height()};
}

Resized size_change(std::string what, const geometry::Ring& before, const geometry::Ring& after, const Affine& map) {
    Resized out{std::move(what), extent_of(before, {}), extent_of(after, map), 0.0};
    const Vec2 by = out.after_mm - out.before_mm;
    out.by_mm = std::max(std::abs(by.x), std::abs(by.y));
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

OwnFrames own_frames(const Footprint& before, const Footprint& after, const Drawn& drawn, double tolerance_mm) {
    const Affine scaled = Affine::scaling(drawn.scale, drawn.scale);
    const Affine usual = drawn.mirrored ? Affine::scaling(-1, 1) : Affine{};
    const std::vector<PointPair> pairs = pad_points(before, after, drawn.scale);
    OwnFrames out{usual * scaled, before.pads.size() == after.pads.size(), worst_of(pairs, usual)};
    if (!out.same_pads || out.worst_mm <= tolerance_mm) return out;
    // In a mirror a part made from a family still has its own, not mirrored, pads.
    for (const bool flip : {drawn.mirrored, false}) {
        if (pairs.size() < 2) break;
        const Motion motion = least_squares_motion(pairs, flip, 0.0);
        const double worst = worst_of(pairs, motion.before_from_after);
        if (worst <= tolerance_mm) return {motion.before_from_after * scaled, true, worst};
    }
    out.same_pads = false;
    return out;
}

std::vector<Resized> resized(const Footprint& before, const Footprint& after, const OwnFrames& frames,
                             double tolerance_mm) {
    std::vector<Resized> out;
    const Affine& map = frames.before_from_after;
    const std::vector<std::size_t> partner = frames.same_pads ? partners(before, after) : std::vector<std::size_t>{};
    for (std::size_t i = 0; i < partner.size(); ++i) {
        const document::Pad& was = before.pads[i];
        const document::Pad& is = after.pads[partner[i]];
        if (was.shape == is.shape && was.turn == is.turn && map == Affine{}) continue;
        const std::string number = was.number.empty() ? "#" + std::to_string(i + 1) : was.number;
        out.push_back(size_change("pad " + number, document::outline_in_part(was), document::outline_in_part(is), map));
    }
    if (before.body && after.body)
        out.push_back(
            size_change("body", document::outline_in_part(*before.body), document::outline_in_part(*after.body), map));
    std::erase_if(out, [&](const Resized& change) { return change.by_mm <= tolerance_mm; });
    std::stable_sort(out.begin(), out.end(), [](const Resized& a, const Resized& b) { return a.by_mm > b.by_mm; });
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
