#include "analysis/compare_match.hpp"

#include <algorithm>
#include <string_view>
#include <unordered_map>

#include "geometry/box_index.hpp"

namespace padchart::analysis {
namespace {

using document::Chart;
using document::Footprint;
using geometry::Vec2;

constexpr double kNamedGate_mm = 5.0;
constexpr double kUnnamedGate_mm = 0.5;

using Positions = std::unordered_map<std::string_view, std::size_t>;

/// Names borne by exactly one of the parts that are not `taken`.
Positions names_used_once(const Chart& chart, const std::vector<bool>& taken) {
    std::unordered_map<std::string_view, std::size_t> count;
    Positions out;
    for (std::size_t i = 0; i < chart.parts.size(); ++i) {
        const std::string& name = chart.parts[i].name;
        if (taken[i] || name.empty()) continue;
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

bool can_be_the_same(const Footprint& before, const Footprint& after, double distance_mm) {
    if (!before.name.empty() && !after.name.empty()) return before.name == after.name && distance_mm <= kNamedGate_mm;
    return before.pads.size() == after.pads.size() && distance_mm <= kUnnamedGate_mm;
}

struct Candidate {
    bool same_name = false;
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
                                  const Singles& singles) {
    const geometry::BoxIndex index(singles.boxes);
    std::vector<Candidate> out;
    for (std::size_t i = 0; i < before.parts.size(); ++i) {
        if (pairing.before_taken[i]) continue;
        const Vec2 middle = middle_on_board(before.parts[i]);
        for (const std::size_t k : index.touching(geometry::Box{middle, middle}.grown(kNamedGate_mm))) {
            const std::size_t j = singles.positions[k];
            const double distance_mm = geometry::distance(middle, singles.middles[k]);
            if (!can_be_the_same(before.parts[i], after.parts[j], distance_mm)) continue;
            const bool same_name = !before.parts[i].name.empty() && before.parts[i].name == after.parts[j].name;
            out.push_back({same_name, distance_mm, {i, j}});
        }
    }
    std::stable_sort(out.begin(), out.end(), [](const Candidate& a, const Candidate& b) {
        if (a.same_name != b.same_name) return a.same_name;
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

} // namespace

Vec2 middle_on_board(const Footprint& part) {
    return document::board_from_part(part.placement)(document::centre_in_part(part));
}

std::vector<PartPair> match_parts_by_id_and_name(const Chart& before, const Chart& after) {
    Pairing pairing = pairing_of(before, after, {});
    const Positions ids = positions_of_ids(after);
    for (std::size_t i = 0; i < before.parts.size(); ++i)
        if (const auto found = ids.find(before.parts[i].id.text); found != ids.end()) pairing.add(i, found->second);
    const Positions names = names_used_once(after, pairing.after_taken);
    for (const auto& [name, i] : names_used_once(before, pairing.before_taken))
        if (const auto found = names.find(name); found != names.end()) pairing.add(i, found->second);
    sort_by_before(pairing.pairs);
    return std::move(pairing.pairs);
}

std::vector<PartPair> match_parts_by_place(const Chart& before, const Chart& after,
                                           const geometry::Affine& before_from_after,
                                           const std::vector<PartPair>& pairs) {
    Pairing pairing = pairing_of(before, after, pairs);
    const Singles singles = singles_of(after, pairing.after_taken, before_from_after);
    if (singles.positions.empty()) return std::move(pairing.pairs);
    for (const Candidate& candidate : candidates(before, after, pairing, singles))
        if (!pairing.before_taken[candidate.pair.before] && !pairing.after_taken[candidate.pair.after])
            pairing.add(candidate.pair.before, candidate.pair.after);
    sort_by_before(pairing.pairs);
    return std::move(pairing.pairs);
}

} // namespace padchart::analysis
