#include "svg/reimport_places.hpp"

#include <algorithm>
#include <tuple>

#include "geometry/box_index.hpp"

namespace padchart::svg {
namespace {

using geometry::Box;
using geometry::Vec2;

/// Within this of where another lay is where it lay, mm.
constexpr double kSamePlace_mm = 0.5;
/// Parts of one row that moved alike did so within this, mm: a hand's jitter.
constexpr double kAlike_mm = 0.1;

/// Where a part lay and where it is drawn now; new ones lay nowhere, gone ones are drawn nowhere.
struct Walk {
    std::optional<Vec2> from, to;
    document::Side from_side = document::Side::Top, to_side = document::Side::Top;

    [[nodiscard]] double length() const { return from && to ? geometry::distance(*from, *to) : 1e9; }
};

std::optional<Vec2> middle(const Box& box) {
    return box.is_empty() ? std::nullopt : std::optional(box.centre());
}

class Chains {
public:
    Chains(std::span<const Token> current, std::span<const Token> fresh,
           std::span<const std::optional<Partner>> partner)
        : count_(current.size()) {
        std::vector<bool> used(fresh.size(), false);
        for (std::size_t c = 0; c < current.size(); ++c) {
            Walk walk{middle(current[c].box), {}, current[c].side, current[c].side};
            if (partner[c]) {
                used[partner[c]->fresh] = true;
                walk.to = middle(fresh[partner[c]->fresh].box);
                walk.to_side = fresh[partner[c]->fresh].side;
            } else if (current[c].key.empty()) {
                walk.from.reset(); // of no trace: it lies where it lay
            }
            walks_.push_back(walk);
        }
        for (std::size_t f = 0; f < fresh.size(); ++f)
            walks_.push_back(used[f] ? Walk{} : Walk{{}, middle(fresh[f].box), fresh[f].side, fresh[f].side});
    }

    std::vector<PlaceChain> run() {
        link();
        std::vector<PlaceChain> chains;
        std::vector<bool> seen(walks_.size(), false);
        for (std::size_t i = 0; i < walks_.size(); ++i) // those where nobody follows first, then round the cycles
            if (next_[i] && !has_follower_[i]) add(i, seen, chains);
        for (std::size_t i = 0; i < walks_.size(); ++i)
            if (next_[i] && !seen[i]) add(i, seen, chains);
        return chains;
    }

private:
    struct Candidate {
        double distance = 0.0;
        std::size_t one = 0, other = 0;
        auto order() const { return std::tuple(distance, one, other); }
    };

    /// The one is drawn where the other lay, and nearer to that than the other is by now and than to its own place.
    [[nodiscard]] std::optional<double> onto(const Walk& one, const Walk& other) const {
        if (!one.to || !other.from || one.to_side != other.from_side) return std::nullopt;
        const double off = geometry::distance(*one.to, *other.from);
        const double stayed = other.from_side == other.to_side ? other.length() : 1e9;
        const double own = one.from_side == one.to_side ? one.length() : 1e9;
        if (!(off < kSamePlace_mm && off < own && off < stayed)) return std::nullopt;
        return off;
    }

    void link() {
        next_.resize(walks_.size());
        has_follower_.resize(walks_.size(), false);
        std::vector<Box> places(count_);
        for (std::size_t c = 0; c < count_; ++c)
            if (walks_[c].from) places[c].add(*walks_[c].from);
        const geometry::BoxIndex index(places);
        std::vector<Candidate> candidates;
        for (std::size_t i = 0; i < walks_.size(); ++i) {
            if (!walks_[i].to) continue;
            Box here;
            here.add(*walks_[i].to);
            for (const std::size_t other : index.touching(here.grown(kSamePlace_mm)))
                if (const auto off = other == i ? std::nullopt : onto(walks_[i], walks_[other]))
                    candidates.push_back({*off, i, other});
        }
        std::sort(candidates.begin(), candidates.end(),
                  [](const Candidate& a, const Candidate& b) { return a.order() < b.order(); });
        for (const Candidate& candidate : candidates) {
            if (next_[candidate.one] || has_follower_[candidate.other]) continue;
            next_[candidate.one] = candidate.other;
            has_follower_[candidate.other] = true;
        }
    }

    void add(std::size_t first, std::vector<bool>& seen, std::vector<PlaceChain>& chains) const {
        PlaceChain chain;
        std::optional<std::size_t> at = first;
        for (; at && !seen[*at]; at = next_[*at]) {
            seen[*at] = true;
            chain.members.push_back(*at);
        }
        chain.is_closed = at.has_value();
        if (chain.is_closed || !is_one_row(chain)) chains.push_back(std::move(chain));
    }

    /// All went the same way and as far, none is new and none is gone.
    [[nodiscard]] bool is_one_row(const PlaceChain& chain) const {
        const Walk& lead = walks_[chain.members.front()];
        return std::all_of(chain.members.begin(), chain.members.end(), [&](std::size_t i) {
            const Walk& walk = walks_[i];
            return walk.from && walk.to && lead.from && lead.to &&
                   geometry::distance(*walk.to - *walk.from, *lead.to - *lead.from) < kAlike_mm;
        });
    }

    std::size_t count_;
    std::vector<Walk> walks_;
    std::vector<std::optional<std::size_t>> next_;
    std::vector<bool> has_follower_;
};

} // namespace

std::vector<PlaceChain> exchanged_places(std::span<const Token> current, std::span<const Token> fresh,
                                         std::span<const std::optional<Partner>> partner) {
    return Chains(current, fresh, partner).run();
}

} // namespace padchart::svg
