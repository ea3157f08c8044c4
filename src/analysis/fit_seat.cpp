#include "analysis/fit_seat.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <map>
#include <numeric>

#include "analysis/fit.hpp"

namespace padchart::analysis::fitting {

using geometry::Box;
using geometry::Vec2;

namespace {

/// Takes the rounding of doubles out of the limits: exactly half is half.
constexpr double kRounding = 1e-9;
/// Below this many lands looking at each is faster than an index.
constexpr std::size_t kFewLands = 24;
/// More open squares than this of one size are a line or an area of them.
constexpr std::size_t kManySquares = 2000;
constexpr std::size_t kTooManySquares = 60000;
/// However poor the measuring: a land not covered at all does not seat, and a whole one does.
constexpr double kLeastCover = 0.02;
constexpr double kMostCover = 0.98;

Box moved(const Box& box, Vec2 by) {
    return {box.min + by, box.max + by};
}

/// Gives every land one of its candidates, no two the same (augmenting paths).
class Matching {
public:
    explicit Matching(const std::vector<std::vector<std::size_t>>& candidates, std::size_t targets)
        : candidates_(candidates), taken_by_(targets, kNobody) {}

    bool is_complete() {
        for (std::size_t land = 0; land < candidates_.size(); ++land) {
            visited_.assign(taken_by_.size(), false);
            if (!place(land)) return false;
        }
        return true;
    }

private:
    static constexpr std::size_t kNobody = static_cast<std::size_t>(-1);

    bool place(std::size_t land) {
        for (const std::size_t target : candidates_[land]) {
            if (taken_by_[target] != kNobody) continue;
            taken_by_[target] = land;
            return true;
        }
        for (const std::size_t target : candidates_[land]) {
            if (visited_[target]) continue;
            visited_[target] = true;
            if (!place(taken_by_[target])) continue;
            taken_by_[target] = land;
            return true;
        }
        return false;
    }

    const std::vector<std::vector<std::size_t>>& candidates_;
    std::vector<std::size_t> taken_by_;
    std::vector<bool> visited_;
};

/// The least a land may have of the other over the shifts of a square, when each might lie up to `place` aside as well.
/// The boxes of places round all shifts of a square have a smaller box in common, and together fill a larger one.
OverlapRange least_over(const Cover& moving, Vec2 offset, double half, double place, const Cover& fixed) {
    const OverlapRange inner = overlap_over(moving, offset, std::abs(half - place), fixed);
    return {overlap_over(moving, offset, half + place, fixed).low, overlap_over(moving, offset, place, fixed).low,
            half <= place ? inner.low : inner.high};
}

/// The same for the most it may have.
OverlapRange most_over(const Cover& moving, Vec2 offset, double half, double place, const Cover& fixed) {
    const OverlapRange inner = overlap_over(moving, offset, std::abs(half - place), fixed);
    return {half <= place ? inner.high : inner.low, overlap_over(moving, offset, place, fixed).high,
            overlap_over(moving, offset, half + place, fixed).high};
}

OverlapRange as_share(const OverlapRange& overlap, double own_mm2, double most) {
    return {overlap.low / own_mm2, overlap.middle / own_mm2, std::min(most, overlap.high / own_mm2)};
}

long long on_grid(double mm) {
    constexpr double kGrid = 1e-9;
    return std::llround(mm / kGrid);
}

} // namespace

Board::Board(const Pattern& pattern) : pattern_(pattern) {
    for (const Land& land : pattern.lands)
        boxes_.push_back(moved(pattern.covers[land.outline].box, land.at));
    if (boxes_.size() > kFewLands) index_.emplace(boxes_);
}

void Board::find(const Box& box, std::vector<std::size_t>& found) const {
    if (index_) {
        found = index_->touching(box);
        return;
    }
    found.clear();
    for (std::size_t i = 0; i < boxes_.size(); ++i)
        if (boxes_[i].overlaps(box)) found.push_back(i);
}

bool matches(const Board& board, const Pattern& part, double tolerance_mm) {
    const double tolerance = tolerance_mm + kRounding;
    const Pattern& fixed = board.pattern();
    std::map<std::pair<std::size_t, std::size_t>, bool> same;
    std::vector<std::vector<std::size_t>> candidates(part.lands.size());
    std::vector<std::size_t> near;
    for (std::size_t i = 0; i < part.lands.size(); ++i) {
        const Land& land = part.lands[i];
        board.find(Box{land.at, land.at}.grown(tolerance), near);
        for (const std::size_t j : near) {
            const Vec2 off = fixed.lands[j].at - land.at;
            if (std::abs(off.x) > tolerance || std::abs(off.y) > tolerance) continue;
            const auto [known, is_new] = same.try_emplace({land.outline, fixed.lands[j].outline}, false);
            if (is_new)
                known->second =
                    same_outline(part.outlines[land.outline], fixed.outlines[fixed.lands[j].outline], tolerance_mm);
            if (known->second) candidates[i].push_back(j);
        }
        if (candidates[i].empty()) return false;
    }
    return Matching(candidates, fixed.lands.size()).is_complete();
}

Trial::Trial(const Board& board, const Pattern& part, double farthest_mm) : board_(board), part_(part) {
    assert(part.lands.size() == board.pattern().lands.size());
    std::vector<std::vector<std::size_t>> near(part.lands.size());
    for (std::size_t i = 0; i < part.lands.size(); ++i) {
        const Land& land = part.lands[i];
        board.find(moved(part_.covers[land.outline].box, land.at).grown(board.pattern().reach_mm + farthest_mm),
                   near[i]);
        hopeless_ = hopeless_ || near[i].empty();
        if (hopeless_) return;
    }
    for (std::size_t i = 0; i < part.lands.size(); ++i)
        add_land(i, near[i]);
    note_contests();
    all_groups_.resize(groups_.size());
    std::iota(all_groups_.begin(), all_groups_.end(), std::size_t{0});
}

void Trial::add_land(std::size_t land, const std::vector<std::size_t>& near) {
    const Pattern& fixed = board_.pattern();
    const Land& own = part_.lands[land];
    std::vector<std::size_t> targets = near;
    const auto offset = [&](std::size_t j) { return own.at - fixed.lands[j].at; };
    const auto key = [&](std::size_t j) {
        return std::tuple(fixed.lands[j].outline, on_grid(offset(j).x), on_grid(offset(j).y));
    };
    std::sort(targets.begin(), targets.end(), [&](std::size_t a, std::size_t b) { return key(a) < key(b); });
    const auto sees_the_same = [&](const Group& group) {
        return group.outline == own.outline && group.near.size() == targets.size() &&
               std::equal(targets.begin(), targets.end(), group.near.begin(), [&](std::size_t j, const Neighbour& n) {
                   return key(j) == std::tuple(n.outline, on_grid(n.offset.x), on_grid(n.offset.y));
               });
    };
    auto group = std::find_if(groups_.begin(), groups_.end(), sees_the_same);
    if (group == groups_.end()) {
        Group fresh;
        fresh.outline = own.outline;
        for (const std::size_t j : targets)
            fresh.near.push_back({fixed.lands[j].outline, offset(j)});
        group = groups_.insert(groups_.end(), std::move(fresh));
    }
    group->targets.push_back(std::move(targets));
}

void Trial::note_contests() {
    std::vector<int> wanted(board_.pattern().lands.size(), 0);
    for (const Group& group : groups_) {
        for (std::size_t k = 0; k < group.near.size(); ++k) {
            const Neighbour& other = group.near[k];
            const OverlapRange range = overlap_over(part_.covers[group.outline], other.offset,
                                                    board_.pattern().reach_mm, board_.pattern().covers[other.outline]);
            if (range.high < kLeastCover * part_.covers[group.outline].area_mm2) continue;
            for (const std::vector<std::size_t>& targets : group.targets)
                contested_ = contested_ || ++wanted[targets[k]] > 1;
        }
    }
}

Trial::Limits Trial::limits(const Group& group, const Margin& margin) const {
    const double share = margin.edge_mm / width_of(part_.outlines[group.outline]);
    return {std::clamp(kSeatCover + share, kLeastCover, kMostCover) - kRounding,
            std::max(0.0, kSeatBridge - share) + kRounding, margin.place_mm};
}

bool Trial::may_cover(const Group& group, const Square& square, const Limits& limits) const {
    const Cover& own = part_.covers[group.outline];
    const double half = square.half + std::max(0.0, -limits.place_mm);
    return std::any_of(group.near.begin(), group.near.end(), [&](const Neighbour& other) {
        return box_overlap_limit(own, other.offset + square.middle, half, board_.pattern().covers[other.outline]) >=
               limits.cover * own.area_mm2;
    });
}

std::vector<Trial::Share> Trial::shares(const Group& group, const Square& square, const Limits& limits) const {
    const Cover& own = part_.covers[group.outline];
    const double place = std::abs(limits.place_mm);
    std::vector<Share> shares;
    shares.reserve(group.near.size());
    for (const Neighbour& other : group.near) {
        const Vec2 offset = other.offset + square.middle;
        const Cover& land = board_.pattern().covers[other.outline];
        const double most = box_overlap_limit(own, offset, square.half + place, land) / own.area_mm2;
        // Over a square, a neighbour that cannot even bridge need not be known any better.
        if (most <= 0.0 || (square.half > 0.0 && most <= limits.bridge)) {
            shares.push_back({{0.0, most, most}, {0.0, most, most}});
            continue;
        }
        if (place == 0.0) {
            const OverlapRange share = as_share(overlap_over(own, offset, square.half, land), own.area_mm2, most);
            shares.push_back({share, share});
            continue;
        }
        const OverlapRange least = as_share(least_over(own, offset, square.half, place, land), own.area_mm2, most);
        const OverlapRange greatest = as_share(most_over(own, offset, square.half, place, land), own.area_mm2, most);
        shares.push_back(limits.place_mm > 0.0 ? Share{least, greatest} : Share{greatest, least});
    }
    return shares;
}

Trial::Outlook Trial::outlook(const std::vector<Share>& shares, const Limits& limits) {
    const auto sure_bridges = std::count_if(shares.begin(), shares.end(),
                                            [&](const Share& share) { return share.bridge.low > limits.bridge; });
    const auto any_bridges = std::count_if(shares.begin(), shares.end(),
                                           [&](const Share& share) { return share.bridge.high > limits.bridge; });
    Outlook found;
    double most = -1.0;
    for (std::size_t k = 0; k < shares.size(); ++k) {
        const auto& [cover, bridge] = shares[k];
        const bool alone = sure_bridges == (bridge.low > limits.bridge ? 1 : 0);
        const bool surely_alone = any_bridges == (bridge.high > limits.bridge ? 1 : 0);
        if (alone && cover.high >= limits.cover) found.possible = true;
        if (surely_alone && cover.low >= limits.cover) found.surely = k;
        if (cover.middle <= most) continue;
        most = cover.middle;
        found.best = k;
    }
    double second = 0.0;
    for (std::size_t k = 0; k < shares.size(); ++k)
        if (k != found.best) second = std::max(second, shares[k].bridge.middle);
    found.slack = std::min(most - limits.cover, limits.bridge - second);
    return found;
}

/// True when two lands have chosen the same land of the board.
template <class Choice>
bool Trial::shares_a_land(const std::vector<Outlook>& outlooks, Choice choice) const {
    std::vector<bool> taken(board_.pattern().lands.size(), false);
    for (std::size_t g = 0; g < groups_.size(); ++g) {
        const std::optional<std::size_t> k = choice(outlooks[g]);
        if (!k) continue;
        for (const std::vector<std::size_t>& targets : groups_[g].targets) {
            if (taken[targets[*k]]) return true;
            taken[targets[*k]] = true;
        }
    }
    return false;
}

Trial::Judgement Trial::judge(const Square& square, const std::vector<std::size_t>& groups,
                              const Margin& margin) const {
    Judgement result;
    std::vector<Outlook> outlooks(groups_.size());
    for (const std::size_t g : groups) {
        const Limits asked = limits(groups_[g], margin);
        if (may_cover(groups_[g], square, asked)) outlooks[g] = outlook(shares(groups_[g], square, asked), asked);
        result.slack = std::min(result.slack, outlooks[g].slack);
        if (!outlooks[g].possible) {
            result.excluded = true;
            return result;
        }
        if (contested_ || !outlooks[g].surely) result.open.push_back(g);
    }
    std::sort(result.open.begin(), result.open.end(), [&](std::size_t a, std::size_t b) {
        return outlooks[a].slack != outlooks[b].slack ? outlooks[a].slack < outlooks[b].slack : a < b;
    });
    result.seats = result.slack >= 0.0;
    if (!contested_) return result;
    result.excluded = shares_a_land(outlooks, [](const Outlook& o) { return o.surely; });
    if (result.seats) result.seats = !shares_a_land(outlooks, [](const Outlook& o) { return std::optional(o.best); });
    return result;
}

Trial::Judgement Trial::judge_point(Vec2 shift, const Margin& margin) const {
    return judge({shift, 0.0}, all_groups_, margin);
}

bool Trial::seats_at(Vec2 shift, const Margin& margin) const {
    return !hopeless_ && judge_point(shift, margin).seats;
}

std::optional<Vec2> Trial::find_shift(const Margin& margin, double finest_mm) const {
    if (hopeless_) return std::nullopt;
    if (seats_at({}, margin)) return Vec2{};
    const double reach = std::max(0.0, board_.pattern().reach_mm - margin.reach_mm);
    std::vector<Search> searches{{{{}, reach}, std::make_shared<const Groups>(all_groups_)}};
    while (true) {
        const Round round = search_round(searches, margin);
        if (round.nearest) return round.nearest;
        if (round.left.empty()) return std::nullopt;
        const double half = round.left.front().square.half;
        const bool is_line = round.left.size() > kManySquares;
        if (half < finest_mm || (half < kFineSquare_mm && is_line) || round.left.size() > kTooManySquares)
            return round.most_likely;
        searches = round.left;
    }
}

Trial::Round Trial::search_round(const std::vector<Search>& searches, const Margin& margin) const {
    Round round;
    double best_slack = -std::numeric_limits<double>::infinity();
    for (const auto& [square, groups] : searches) {
        Judgement judgement = judge(square, *groups, margin);
        const bool is_nearer = !round.nearest || length(square.middle) < length(*round.nearest);
        if (judgement.seats && is_nearer) round.nearest = square.middle;
        if (judgement.excluded) continue;
        if (judgement.slack > best_slack) {
            best_slack = judgement.slack;
            round.most_likely = square.middle;
        }
        const auto open = std::make_shared<const Groups>(std::move(judgement.open));
        const double h = square.half / 2.0;
        for (const Vec2 corner : {Vec2{-h, -h}, Vec2{h, -h}, Vec2{-h, h}, Vec2{h, h}})
            round.left.push_back({{square.middle + corner, h}, open});
    }
    return round;
}

Vec2 Trial::eased(Vec2 shift) const {
    const double reach = board_.pattern().reach_mm;
    double slack = judge_point(shift, {}).slack;
    for (double step = reach / 4.0; step > reach / 512.0;) {
        bool better = false;
        for (const Vec2 way : {Vec2{1, 0}, Vec2{-1, 0}, Vec2{0, 1}, Vec2{0, -1}}) {
            const Vec2 to = shift + way * step;
            if (std::abs(to.x) > reach || std::abs(to.y) > reach) continue;
            const Judgement there = judge_point(to, {});
            if (!there.seats || there.slack <= slack + kRounding) continue;
            shift = to;
            slack = there.slack;
            better = true;
        }
        if (!better) step /= 2.0;
    }
    return shift;
}

} // namespace padchart::analysis::fitting
