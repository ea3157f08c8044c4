// Pads that lie on each other are one land; see fit_pattern.hpp.

#include <algorithm>
#include <numeric>

#include "analysis/fit.hpp"
#include "analysis/fit_pattern.hpp"
#include "analysis/fit_seat.hpp"
#include "geometry/overlay.hpp"

namespace padchart::analysis::fitting {
namespace {

using document::Pad;
using geometry::Region;

/// A pad with that share of what several pads cover together stands for all of them, with its own shape.
constexpr double kNearlyAll = 0.95;

/// Positions in groups: each points to one of its own group, the first to itself.
class Groups {
public:
    explicit Groups(std::size_t count) : of_(count) { std::iota(of_.begin(), of_.end(), std::size_t{0}); }
    [[nodiscard]] std::size_t first_of(std::size_t i) const {
        while (of_[i] != i)
            i = of_[i];
        return i;
    }
    [[nodiscard]] bool are_single() const { return is_single_; }
    void join(std::size_t a, std::size_t b) {
        const auto [low, high] = std::minmax({first_of(a), first_of(b)});
        of_[high] = low;
        is_single_ = false;
    }

private:
    std::vector<std::size_t> of_;
    bool is_single_ = true;
};

/// The smaller one is for the most part on the other: not two lands drawn a little too near to each other.
bool lie_on_each_other(const Pattern& pattern, std::size_t a, std::size_t b) {
    const Cover& first = pattern.covers[pattern.lands[a].outline];
    const Cover& second = pattern.covers[pattern.lands[b].outline];
    return overlap(first, pattern.lands[a].at - pattern.lands[b].at, second) >
           kSeatCover * std::min(first.area_mm2, second.area_mm2);
}

Groups grouped(const Pattern& pattern) {
    Groups groups(pattern.lands.size());
    const Board board(pattern);
    std::vector<std::size_t> near;
    for (std::size_t i = 0; i < pattern.lands.size(); ++i) {
        const Land& land = pattern.lands[i];
        const geometry::Box& own = pattern.covers[land.outline].box;
        board.find({own.min + land.at, own.max + land.at}, near);
        for (const std::size_t j : near)
            if (j > i && groups.first_of(i) != groups.first_of(j) && lie_on_each_other(pattern, i, j))
                groups.join(i, j);
    }
    return groups;
}

Region copper_of(const Pad& pad) {
    return {{document::outline_in_part(pad), {}}};
}

Pad one_of(const std::vector<Pad>& pads) {
    Region together = copper_of(pads.front());
    Pad largest = pads.front();
    for (const Pad& pad : pads) {
        together = geometry::unite(together, copper_of(pad));
        if (geometry::area(copper_of(pad)) > geometry::area(copper_of(largest))) largest = pad;
    }
    if (together.empty() || geometry::area(copper_of(largest)) >= kNearlyAll * geometry::area(together)) return largest;
    const auto most = std::max_element(together.begin(), together.end(), [](const auto& a, const auto& b) {
        return geometry::area(a) < geometry::area(b);
    });
    Pad joined;
    joined.at = geometry::bounds(most->outer).centre();
    joined.shape.kind = document::ShapeKind::Polygon;
    for (const geometry::Vec2 point : most->outer)
        joined.shape.points.push_back(point - joined.at);
    return joined;
}

} // namespace

Pattern joined(const document::Footprint& part, Pattern pattern) {
    const Groups groups = grouped(pattern);
    if (groups.are_single()) return pattern;
    document::Footprint result = part;
    std::erase_if(result.pads, [](const Pad& pad) { return !is_usable(pad); });
    std::vector<std::vector<Pad>> together(result.pads.size());
    for (std::size_t i = 0; i < result.pads.size(); ++i)
        together[groups.first_of(i)].push_back(result.pads[i]);
    result.pads.clear();
    for (const std::vector<Pad>& pads : together) {
        if (pads.size() == 1) result.pads.push_back(pads.front());
        if (pads.size() > 1) result.pads.push_back(one_of(pads));
    }
    return pattern_of(result);
}

} // namespace padchart::analysis::fitting
