#include "svg/reimport_drawn.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>

#include "document/move.hpp"
#include "geometry/box_index.hpp"
#include "svg/reimport_edge.hpp"
#include "svg/reimport_match.hpp"
#include "svg/reimport_numbers.hpp"
#include "svg/reimport_thing.hpp"

namespace padchart::svg {
namespace {

using document::Chart;
using document::Footprint;
using geometry::Affine;
using geometry::Box;
using geometry::Vec2;

/// So many of the things must lie on others, and so many in any case.
constexpr double kMost = 0.7;
constexpr std::size_t kFewest = 3;
/// Things of one kind whose sizes differ less are alike.
constexpr double kSameSize = 0.05;
/// What is tried, so that a large board takes no longer than a small one.
constexpr std::size_t kFirst = 16, kRare = 48, kMostTried = 3000, kMostPaired = 4'000'000, kAsked = 64,
                      kMostCounted = 24;
/// Of those asked so many must be met for a motion to be looked at closer.
constexpr double kAskedShare = 0.4;

/// A thing that is drawn.
struct Feature {
    Vec2 at;
    ThingKind kind;
    double size = 0.0;
    const Footprint* part = nullptr; ///< nothing: a keep-out or a hole
};

enum class Which { Traced, All };

std::vector<Feature> features_of(const Chart& chart, Which which) {
    std::vector<Feature> features;
    for (const Footprint& part : chart.parts)
        if (which == Which::All || !part.trace_key.empty())
            features.push_back({middle_of(part), kind_of(part), size_of(part), &part});
    for (const document::KeepOut& thing : chart.keep_outs)
        if (which == Which::All || !thing.trace_key.empty())
            features.push_back({middle_of(thing), kind_of(thing), size_of(thing)});
    if (chart.board.outline)
        for (const geometry::Ring& hole : chart.board.outline->holes)
            features.push_back({geometry::centroid(hole), {}, size_of(hole)});
    return features;
}

/// A motion, and what speaks for it.
struct Way {
    Affine motion;
    std::size_t met = 0;
    std::size_t numbered = 0; ///< parts whose pads lie on pads of their numbers, where that had to be asked
};

/// How the drawing before is taken up: as it was, or as a mirror shows it, on its side or on the other one.
struct View {
    Affine first{};
    bool other_side = false;
};

bool have_pads_alike(const Footprint& was, const Footprint& is, const Affine& motion, double off) {
    const auto there = pads_by_number(is.pads);
    const auto pads = pads_by_number(was.pads);
    const Affine from = motion * document::board_from_part(was.placement), to = document::board_from_part(is.placement);
    return pads.size() >= 2 && std::all_of(pads.begin(), pads.end(), [&](const auto& pad) {
               const auto other = there.find(pad.first);
               return other != there.end() &&
                      geometry::distance(from(was.pads[pad.second].at), to(is.pads[other->second].at)) <= off;
           });
}

/// Half of its pads lie on pads, whatever their numbers: a part that stands across where one lay is not that one.
bool lies_along(const Footprint& was, const Footprint& is, const Affine& motion, double off) {
    const Affine from = motion * document::board_from_part(was.placement), to = document::board_from_part(is.placement);
    std::vector<Vec2> there;
    for (const document::Pad& pad : is.pads)
        there.push_back(to(pad.at));
    const auto met = std::count_if(was.pads.begin(), was.pads.end(), [&](const document::Pad& pad) {
        const Vec2 at = from(pad.at);
        return std::any_of(there.begin(), there.end(),
                           [&](Vec2 other) { return geometry::distance(at, other) <= off; });
    });
    return 2 * static_cast<std::size_t>(met) >= was.pads.size();
}

std::vector<Feature> seen(std::vector<Feature> features, const View& view) {
    for (Feature& feature : features) {
        feature.at = view.first(feature.at);
        if (view.other_side) feature.kind.side = document::other_side(feature.kind.side);
    }
    return features;
}

class Finder {
public:
    Finder(const Chart& current, const Chart& fresh, double off, const View& view)
        : current_(current), fresh_(fresh), off_(off), first_(view.first),
          was_(seen(features_of(current, Which::Traced), view)), is_(features_of(fresh, Which::All)), index_(boxes()) {
        for (std::size_t i = 0; i < is_.size(); ++i)
            by_kind_[is_[i].kind].push_back(i);
        for (auto& [kind, all] : by_kind_)
            std::sort(all.begin(), all.end(), [&](std::size_t a, std::size_t b) { return is_[a].size < is_[b].size; });
        for (const Feature& feature : was_)
            box_.add(feature.at);
    }

    DrawnMotion run() {
        if (std::min(was_.size(), is_.size()) < kFewest) return {};
        collect();
        std::vector<Way> ways = counted();
        if (ways.empty()) return {};
        ways = rivals(std::move(ways), was_.size());
        ways = as_the_edge_lies(std::move(ways));
        ways = as_pads_lie(std::move(ways));
        if (all_stayed(ways)) return {.stayed = true};
        DrawnMotion found;
        for (const Way& way : ways)
            found.alike.push_back(way.motion);
        if (found.alike.size() != 1) return found;
        return {found.alike.front(), {}};
    }

    [[nodiscard]] bool finds_a_way() {
        if (std::min(was_.size(), is_.size()) < kFewest) return false;
        collect();
        return !counted().empty();
    }

private:
    /// Nobody turned it where it lies as well as any other way tells.
    [[nodiscard]] bool all_stayed(const std::vector<Way>& ways) const {
        const auto still =
            std::find_if(ways.begin(), ways.end(), [&](const Way& way) { return are_one(way.motion, Affine{}); });
        return still != ways.end() && std::all_of(ways.begin(), ways.end(), [&](const Way& way) {
                   return way.met <= still->met && way.numbered <= still->numbered;
               });
    }

    [[nodiscard]] std::vector<Box> boxes() const {
        std::vector<Box> boxes;
        for (const Feature& feature : is_)
            boxes.push_back({feature.at, feature.at});
        return boxes;
    }

    [[nodiscard]] bool are_alike(const Feature& a, const Feature& b) const {
        return a.kind == b.kind && std::abs(a.size - b.size) <= tolerance(a);
    }
    [[nodiscard]] double tolerance(const Feature& feature) const {
        return std::max(kSameSize * feature.size, off_ / 2.0);
    }

    /// Those of the fresh drawing that it may be.
    [[nodiscard]] std::vector<std::size_t> alike(const Feature& feature) const {
        const auto found = by_kind_.find(feature.kind);
        if (found == by_kind_.end()) return {};
        const std::vector<std::size_t>& all = found->second;
        const double from = feature.size - tolerance(feature), to = feature.size + tolerance(feature);
        const auto first =
            std::partition_point(all.begin(), all.end(), [&](std::size_t i) { return is_[i].size < from; });
        const auto last = std::partition_point(first, all.end(), [&](std::size_t i) { return is_[i].size <= to; });
        return {first, last};
    }

    /// The one that lies there under a motion.
    [[nodiscard]] const Feature* at_its_place(const Feature& feature, const Affine& motion) const {
        const Vec2 at = motion(feature.at);
        const Feature* nearest = nullptr;
        for (const std::size_t i : index_.touching(Box{at, at}.grown(off_)))
            if (are_alike(feature, is_[i]) && geometry::distance(is_[i].at, at) <= off_ &&
                (!nearest || geometry::distance(is_[i].at, at) < geometry::distance(nearest->at, at)))
                nearest = &is_[i];
        return nearest;
    }

    /// They lay all of the board on the same places.
    [[nodiscard]] bool are_one(const Affine& a, const Affine& b) const {
        const Vec2 far{box_.max.x, box_.min.y};
        return geometry::distance(a(box_.min), b(box_.min)) <= 2.0 * off_ &&
               geometry::distance(a(box_.max), b(box_.max)) <= 2.0 * off_ &&
               geometry::distance(a(far), b(far)) <= 2.0 * off_;
    }

    void collect() {
        propose(Affine{});
        if (current_.board.outline && fresh_.board.outline)
            for (const Affine& motion : edge_motions(edge_before(), fresh_.board.outline->outer, off_))
                propose(motion);
        const std::vector<std::size_t> rare = rarest();
        for (std::size_t i = 0; i < std::min(rare.size(), kFirst) && tried_ < kMostTried; ++i)
            try_with_farthest(was_[rare[i]], rare);
    }

    /// Requires: the chart has an outline.
    [[nodiscard]] geometry::Ring edge_before() const {
        return geometry::transformed(current_.board.outline->outer, first_);
    }

    /// Those with the fewest that they may be first.
    [[nodiscard]] std::vector<std::size_t> rarest() const {
        std::vector<std::pair<std::size_t, std::size_t>> counts;
        for (std::size_t i = 0; i < was_.size(); ++i)
            if (const std::size_t count = alike(was_[i]).size(); count > 0) counts.emplace_back(count, i);
        std::sort(counts.begin(), counts.end());
        std::vector<std::size_t> rare;
        for (std::size_t i = 0; i < std::min(counts.size(), kRare); ++i)
            rare.push_back(counts[i].second);
        return rare;
    }

    void try_with_farthest(const Feature& one, const std::vector<std::size_t>& rare) {
        const Feature& other = was_[*std::max_element(rare.begin(), rare.end(), [&](std::size_t a, std::size_t b) {
            return geometry::distance(was_[a].at, one.at) < geometry::distance(was_[b].at, one.at);
        })];
        const double apart = geometry::distance(one.at, other.at);
        if (apart < 4.0 * off_) return;
        const std::vector<std::size_t> ends = alike(other);
        for (const std::size_t i : alike(one))
            for (const std::size_t j : ends) {
                if (++paired_ > kMostPaired) return;
                if (std::abs(geometry::distance(is_[i].at, is_[j].at) - apart) > 2.0 * off_) continue;
                if (++tried_ > kMostTried) return;
                propose(motion_of({{one.at, is_[i].at}, {other.at, is_[j].at}}));
            }
    }

    /// Fitted to those of a sample that it leads to others.
    void propose(const Affine& motion) {
        const std::size_t step = std::max<std::size_t>(was_.size() / kAsked, 1);
        std::vector<geometry::Step> steps;
        std::size_t asked = 0;
        for (std::size_t i = 0; i < was_.size(); i += step, ++asked) {
            if (asked == kAsked / 4 && 4 * steps.size() < asked) return;
            if (const Feature* there = at_its_place(was_[i], motion)) steps.push_back({was_[i].at, there->at});
        }
        if (steps.size() < 2 || static_cast<double>(steps.size()) < kAskedShare * static_cast<double>(asked)) return;
        const Affine fitted = are_one(motion, Affine{}) ? motion : motion_of(steps);
        const bool is_known = std::any_of(proposed_.begin(), proposed_.end(),
                                          [&](const Way& way) { return are_one(way.motion, fitted); });
        if (!is_known) proposed_.push_back({fitted, steps.size()});
    }

    /// The best of what was proposed, with all that each meets, where most things do.
    [[nodiscard]] std::vector<Way> counted() {
        std::stable_sort(proposed_.begin(), proposed_.end(), [](const Way& a, const Way& b) { return a.met > b.met; });
        if (proposed_.size() > kMostCounted) proposed_.resize(kMostCounted);
        const double needed = kMost * static_cast<double>(std::min(was_.size(), is_.size()));
        std::vector<Way> ways;
        for (Way way : proposed_) {
            way.met = static_cast<std::size_t>(std::count_if(was_.begin(), was_.end(), [&](const Feature& feature) {
                const Feature* there = at_its_place(feature, way.motion);
                return there && (!feature.part || !there->part ||
                                 lies_along(*feature.part, *there->part, way.motion * first_, 2.0 * off_));
            }));
            if (way.met >= kFewest && static_cast<double>(way.met) >= needed) ways.push_back(way);
        }
        return ways;
    }

    /// Those of which none is clearly better: what misses twice as much as the best, and two more, is none of them.
    static std::vector<Way> rivals(std::vector<Way> ways, std::size_t all) {
        std::size_t best = 0;
        for (const Way& way : ways)
            best = std::max(best, way.met);
        std::erase_if(ways, [&](const Way& way) { return all - way.met >= 2 * (all - best) + 2; });
        return ways;
    }

    [[nodiscard]] std::vector<Way> as_the_edge_lies(std::vector<Way> ways) const {
        if (ways.size() < 2 || !current_.board.outline || !fresh_.board.outline) return ways;
        std::vector<Way> sure;
        for (const Way& way : ways)
            if (lies_on(geometry::transformed(edge_before(), way.motion), fresh_.board.outline->outer, off_))
                sure.push_back(way);
        return sure.empty() ? ways : sure;
    }

    [[nodiscard]] std::vector<Way> as_pads_lie(std::vector<Way> ways) const {
        if (ways.size() < 2) return ways;
        for (Way& way : ways)
            way.numbered =
                static_cast<std::size_t>(std::count_if(was_.begin(), was_.end(), [&](const Feature& feature) {
                    const Feature* there = feature.part ? at_its_place(feature, way.motion) : nullptr;
                    return there && there->part &&
                           have_pads_alike(*feature.part, *there->part, way.motion * first_, 2.0 * off_);
                }));
        std::size_t best = 0;
        for (const Way& way : ways)
            best = std::max(best, way.numbered);
        std::erase_if(ways, [&](const Way& way) { return 2 * way.numbered < best; });
        return ways;
    }

    const Chart& current_;
    const Chart& fresh_;
    const double off_;
    const Affine first_;
    const std::vector<Feature> was_, is_;
    const geometry::BoxIndex index_;
    Box box_;
    std::map<ThingKind, std::vector<std::size_t>> by_kind_;
    std::vector<Way> proposed_;
    std::size_t paired_ = 0, tried_ = 0;
};

} // namespace

bool names_tell_nothing(const Chart& current, const Chart& fresh) {
    std::set<std::string> names;
    for (const Footprint& part : fresh.parts)
        names.insert(token_of(part).name);
    names.erase("");
    std::size_t traced = 0, told = 0;
    for (const Footprint& part : current.parts) {
        if (part.trace_key.empty()) continue;
        ++traced;
        if (names.contains(token_of(part).name)) ++told;
    }
    constexpr std::size_t kThird = 3;
    return traced > 0 && kThird * told < traced;
}

DrawnMotion motion_of_what_is_drawn(const Chart& current, const Chart& fresh, double off) {
    return Finder(current, fresh, off, {}).run();
}

bool is_drawn_mirrored(const Chart& current, const Chart& fresh, double off) {
    const Affine mirror = Affine::scaling(-1.0, 1.0);
    const auto is_seen = [&](bool other_side) {
        return Finder(current, fresh, off, {mirror, other_side}).finds_a_way();
    };
    return is_seen(false) || is_seen(true);
}

} // namespace padchart::svg
