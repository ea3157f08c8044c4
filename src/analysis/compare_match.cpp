#include "analysis/compare_match.hpp"

#include <algorithm>
#include <map>
#include <string>
#include <string_view>
#include <unordered_map>

#include "analysis/compare_frames.hpp"
#include "geometry/box_index.hpp"

namespace padchart::analysis {
namespace {

using document::Chart;
using document::Footprint;
using geometry::Vec2;

constexpr double kNamedGate_mm = 5.0;
constexpr double kUnnamedGate_mm = 0.5;
constexpr double kSameSpot = 0.001; ///< of the charts' extent

using Positions = std::unordered_map<std::string_view, std::size_t>;

/// Names borne by exactly one of the `wanted` parts that are not `taken`.
template <class Wanted>
Positions names_used_once(const Chart& chart, const std::vector<bool>& taken, Wanted wanted) {
    std::unordered_map<std::string_view, std::size_t> count;
    Positions out;
    for (std::size_t i = 0; i < chart.parts.size(); ++i) {
        const std::string& name = chart.parts[i].name;
        if (taken[i] || name.empty() || !wanted(chart.parts[i])) continue;
        if (++count[name] == 1)
            out[name] = i;
        else
            out.erase(name);
    }
    return out;
}

Positions positions_of_ids(const Chart& chart) {
    Positions out;
    for (std::size_t i = 0; i < chart.parts.size(); ++i)
        out.emplace(chart.parts[i].id.text, i);
    return out;
}

struct Pairing {
    std::vector<bool> before_taken;
    std::vector<bool> after_taken;
    std::vector<PartPair> pairs;

    void add(std::size_t before, std::size_t after) {
        before_taken[before] = true;
        after_taken[after] = true;
        pairs.push_back({before, after});
    }
};

void sort_by_before(std::vector<PartPair>& pairs) {
    std::sort(pairs.begin(), pairs.end(), [](const PartPair& a, const PartPair& b) { return a.before < b.before; });
}

/// How much says that two parts are one; the surest first.
enum class Likeness { NameAndSide, Name, Place, PadsAlone, None };

/// Every land of one on a land of the other, whatever their numbers: the same copper.
bool lie_on_the_same_lands(const Footprint& before, const Footprint& after, const Laid& laid) {
    if (before.pads.empty() || before.pads.size() != after.pads.size()) return false;
    CompareOptions options;
    options.moved_mm = laid.moved_mm;
    const double within_mm = moved_tolerance(before, options);
    const geometry::Affine was = document::board_from_part(before.placement);
    const geometry::Affine is = laid.before_from_after * document::board_from_part(after.placement);
    std::vector<bool> taken(after.pads.size());
    for (const document::Pad& pad : before.pads) {
        const Vec2 at = was(pad.at);
        std::size_t nearest = after.pads.size();
        double nearest_mm = within_mm;
        for (std::size_t k = 0; k < after.pads.size(); ++k) {
            const double mm = taken[k] ? within_mm + 1.0 : geometry::distance(at, is(after.pads[k].at));
            if (mm > nearest_mm) continue;
            nearest = k;
            nearest_mm = mm;
        }
        if (nearest == after.pads.size()) return false;
        taken[nearest] = true;
    }
    return true;
}

Likeness likeness(const Footprint& before, const Footprint& after, double distance_mm, const Laid& laid) {
    const bool same_side = (before.placement.side == after.placement.side) != laid.sides_swapped;
    if (!before.name.empty() && before.name == after.name)
        return distance_mm > kNamedGate_mm ? Likeness::None : same_side ? Likeness::NameAndSide : Likeness::Name;
    if (!same_side || distance_mm > kUnnamedGate_mm || before.pads.size() != after.pads.size()) return Likeness::None;
    if (before.name.empty() || after.name.empty()) return Likeness::Place;
    return lie_on_the_same_lands(before, after, laid) ? Likeness::PadsAlone : Likeness::None;
}

struct Candidate {
    Likeness likeness = Likeness::None;
    double distance_mm = 0.0;
    PartPair pair;
};

/// Those of the second chart that are still single, as points in the first chart's frame, in an index.
struct Singles {
    std::vector<std::size_t> positions;
    std::vector<Vec2> middles;
    std::vector<geometry::Box> boxes;
};

Singles singles_of(const Chart& after, const std::vector<bool>& taken, const geometry::Affine& before_from_after) {
    Singles out;
    for (std::size_t i = 0; i < after.parts.size(); ++i) {
        if (taken[i]) continue;
        const Vec2 middle = before_from_after(middle_on_board(after.parts[i]));
        out.positions.push_back(i);
        out.middles.push_back(middle);
        out.boxes.push_back({middle, middle});
    }
    return out;
}

std::vector<Candidate> candidates(const Chart& before, const Chart& after, const Pairing& pairing,
                                  const Singles& singles, const Laid& laid) {
    const geometry::BoxIndex index(singles.boxes);
    std::vector<Candidate> out;
    for (std::size_t i = 0; i < before.parts.size(); ++i) {
        if (pairing.before_taken[i]) continue;
        const Vec2 middle = middle_on_board(before.parts[i]);
        for (const std::size_t k : index.touching(geometry::Box{middle, middle}.grown(kNamedGate_mm))) {
            const std::size_t j = singles.positions[k];
            const double distance_mm = geometry::distance(middle, singles.middles[k]);
            const Likeness alike = likeness(before.parts[i], after.parts[j], distance_mm, laid);
            if (alike != Likeness::None) out.push_back({alike, distance_mm, {i, j}});
        }
    }
    std::stable_sort(out.begin(), out.end(), [](const Candidate& a, const Candidate& b) {
        if (a.likeness != b.likeness) return a.likeness < b.likeness;
        return a.distance_mm < b.distance_mm;
    });
    return out;
}

Pairing pairing_of(const Chart& before, const Chart& after, const std::vector<PartPair>& pairs) {
    Pairing pairing;
    pairing.before_taken.resize(before.parts.size());
    pairing.after_taken.resize(after.parts.size());
    for (const PartPair& pair : pairs)
        pairing.add(pair.before, pair.after);
    return pairing;
}

template <class WantedBefore, class WantedAfter>
void match_names(const Chart& before, const Chart& after, WantedBefore wanted_before, WantedAfter wanted_after,
                 Pairing& pairing) {
    const Positions later = names_used_once(after, pairing.after_taken, wanted_after);
    for (const auto& [name, i] : names_used_once(before, pairing.before_taken, wanted_before))
        if (const auto found = later.find(name); found != later.end()) pairing.add(i, found->second);
}

void match_names_by_side(const Chart& before, const Chart& after, bool sides_swapped, Pairing& pairing) {
    for (const document::Side side : {document::Side::Top, document::Side::Bottom})
        match_names(
            before, after, [&](const Footprint& part) { return part.placement.side == side; },
            [&](const Footprint& part) { return (part.placement.side == side) != sides_swapped; }, pairing);
}

using ByName = std::map<std::string, std::vector<std::size_t>>;

ByName singles_by_name(const Chart& chart, const std::vector<bool>& taken) {
    ByName out;
    for (std::size_t i = 0; i < chart.parts.size(); ++i)
        if (!taken[i] && !chart.parts[i].name.empty()) out[chart.parts[i].name].push_back(i);
    return out;
}

/// Copies of one chart: nothing is laid on anything.
void match_by_spot(const Chart& before, const Chart& after, Pairing& pairing) {
    geometry::Box all;
    for (const Footprint& part : before.parts)
        all.add(middle_on_board(part));
    const double near = kSameSpot * std::max(all.width(), all.height());
    for (std::size_t i = 0; i < before.parts.size(); ++i)
        for (std::size_t k = 0; k < after.parts.size() && !pairing.before_taken[i]; ++k) {
            const Footprint& was = before.parts[i];
            const Footprint& is = after.parts[k];
            if (pairing.after_taken[k] || was.placement.side != is.placement.side) continue;
            if (was.pads.size() != is.pads.size()) continue;
            if (geometry::distance(middle_on_board(was), middle_on_board(is)) <= near) pairing.add(i, k);
        }
}

} // namespace

Vec2 middle_on_board(const Footprint& part) {
    return document::board_from_part(part.placement)(document::centre_in_part(part));
}

std::vector<PartPair> match_parts_by_id_and_name(const Chart& before, const Chart& after) {
    Pairing pairing = pairing_of(before, after, {});
    const Positions ids = positions_of_ids(after);
    for (std::size_t i = 0; i < before.parts.size(); ++i)
        if (const auto found = ids.find(before.parts[i].id.text); found != ids.end()) pairing.add(i, found->second);
    const auto on_any_side = [](const Footprint&) { return true; };
    match_names(before, after, on_any_side, on_any_side, pairing);
    sort_by_before(pairing.pairs);
    return std::move(pairing.pairs);
}

std::vector<PartPair> match_parts_by_place(const Chart& before, const Chart& after, const Laid& laid,
                                           const std::vector<PartPair>& pairs) {
    Pairing pairing = pairing_of(before, after, pairs);
    const Singles singles = singles_of(after, pairing.after_taken, laid.before_from_after);
    if (singles.positions.empty()) return std::move(pairing.pairs);
    for (const Candidate& candidate : candidates(before, after, pairing, singles, laid))
        if (!pairing.before_taken[candidate.pair.before] && !pairing.after_taken[candidate.pair.after])
            pairing.add(candidate.pair.before, candidate.pair.after);
    match_names_by_side(before, after, laid.sides_swapped, pairing);
    sort_by_before(pairing.pairs);
    return std::move(pairing.pairs);
}

std::vector<PartPair> match_parts_by_order(const Chart& before, const Chart& after,
                                           const std::vector<PartPair>& pairs) {
    Pairing pairing = pairing_of(before, after, pairs);
    match_names_by_side(before, after, false, pairing);
    ByName later = singles_by_name(after, pairing.after_taken);
    for (const auto& [name, positions] : singles_by_name(before, pairing.before_taken)) {
        const std::vector<std::size_t>& partners = later[name];
        if (partners.size() != positions.size()) continue;
        for (std::size_t i = 0; i < positions.size(); ++i)
            pairing.add(positions[i], partners[i]);
    }
    if (!before.scale && !after.scale) match_by_spot(before, after, pairing);
    sort_by_before(pairing.pairs);
    return std::move(pairing.pairs);
}

} // namespace padchart::analysis
