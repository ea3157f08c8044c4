#include "svg/reimport_over.hpp"

#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include "document/move.hpp"
#include "geometry/turn_fit.hpp"
#include "svg/reimport_edge.hpp"
#include "svg/reimport_match.hpp"
#include "svg/reimport_numbers.hpp"
#include "svg/reimport_thing.hpp"

namespace padchart::svg {
namespace {

using document::Chart;
using document::Footprint;
using document::Side;
using geometry::Affine;
using geometry::Step;
using geometry::Vec2;

const Affine kMirror = Affine::scaling(-1.0, 1.0);
/// So many of the named parts must have gone over by one mirror, and so many in any case.
constexpr double kMost = 0.7;
constexpr std::size_t kFewest = 3;
constexpr std::size_t kTries = 16;
/// Pads went as one when none is farther off than this share of the way from the middle to the outermost.
constexpr double kOffShare = 0.25;

/// Of names that one part bears.
std::map<std::string, const Footprint*> by_name(const Chart& chart) {
    std::map<std::string, const Footprint*> found;
    for (const Footprint& part : chart.parts)
        if (const std::string name = token_of(part).name; !name.empty() && !part.trace_key.empty())
            if (const auto [at, is_new] = found.emplace(name, &part); !is_new) at->second = nullptr;
    std::erase_if(found, [](const auto& entry) { return entry.second == nullptr; });
    return found;
}

std::vector<Step> mirrored(std::vector<Step> steps) {
    for (Step& step : steps)
        step.from = kMirror(step.from);
    return steps;
}

std::vector<Step> followers(const std::vector<Step>& steps, const Affine& motion, double off) {
    std::vector<Step> found;
    for (const Step& step : steps)
        if (geometry::distance(motion(step.from), step.to) <= off) found.push_back(step);
    return found;
}

/// Those that went the same way, as many as do.
std::vector<Step> most_alike(const std::vector<Step>& steps, double off) {
    std::vector<Step> best;
    const std::size_t stride = std::max<std::size_t>(steps.size() / kTries, 1);
    for (std::size_t i = 0; i < steps.size(); i += stride) {
        const Step& one = steps[i];
        const Step& other = *std::max_element(steps.begin(), steps.end(), [&](const Step& a, const Step& b) {
            return geometry::distance(a.from, one.from) < geometry::distance(b.from, one.from);
        });
        std::vector<Step> found = followers(steps, motion_of({one, other}), 2.0 * off);
        if (found.size() > best.size()) best = std::move(found);
    }
    return best;
}

bool fits(const std::vector<Step>& steps) {
    const geometry::TurnFit fit = geometry::turn_fit(steps);
    const Affine map = fit.map(fit.turn(), 1.0);
    double reach = 0.0, worst = 0.0;
    for (const Step& step : steps) {
        reach = std::max(reach, geometry::distance(step.from, fit.from));
        worst = std::max(worst, geometry::distance(map(step.from), step.to));
    }
    return worst <= kOffShare * reach;
}

} // namespace

std::optional<Affine> how_all_went_over(const Chart& current, const Chart& fresh, double off) {
    const auto there = by_name(fresh);
    const auto here = by_name(current);
    std::vector<Step> steps;
    for (const auto& [name, part] : here)
        if (const auto to = there.find(name); to != there.end() && to->second->placement.side != part->placement.side)
            steps.push_back({middle_of(*part), middle_of(*to->second)});
    const double enough = std::max(kMost * static_cast<double>(here.size()), static_cast<double>(kFewest));
    const std::vector<Step> over = most_alike(mirrored(steps), off);
    // In a straight line both hold: then they stayed on the page.
    if (static_cast<double>(over.size()) < enough || most_alike(steps, off).size() >= over.size()) return std::nullopt;
    return motion_of(over) * kMirror;
}

Chart traced_from_other_side(const Chart& chart, const Affine& mirror) {
    Chart next = document::laid_over(chart, mirror);
    for (std::size_t i = 0; i < next.parts.size(); ++i) {
        Footprint part = next.parts[i];
        const std::string name = token_of(part).name;
        if (part.trace_key.empty() || name.empty()) continue;
        part.trace_key = name + (part.placement.side == Side::Bottom ? "@bottom" : "");
        next.parts.replace(i, std::move(part));
    }
    for (std::size_t i = 0; i < next.keep_outs.size(); ++i) {
        document::KeepOut thing = next.keep_outs[i];
        if (thing.trace_key.empty()) continue;
        thing.side = chart.keep_outs[i].side;
        next.keep_outs.replace(i, std::move(thing));
    }
    return next;
}

bool is_drawn_as_seen(const Footprint& was, const Footprint& is) {
    std::vector<Step> steps;
    const auto there = pads_by_number(is.pads);
    for (const auto& [number, at] : pads_by_number(was.pads))
        if (const auto to = there.find(number); to != there.end())
            steps.push_back({was.pads[at].at, is.pads[to->second].at});
    return steps.size() >= kFewest && fits(steps) && !fits(mirrored(steps));
}

} // namespace padchart::svg
