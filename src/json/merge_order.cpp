#include "json/merge_order.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <string_view>
#include <unordered_map>

namespace padchart::json {
namespace {

using Words = std::vector<std::string_view>;
using WordSet = std::unordered_set<std::string_view>;

Words only(const std::vector<std::string>& list, const std::unordered_set<std::string>& kept) {
    Words out;
    for (const std::string& word : list)
        if (kept.count(word) != 0) out.push_back(word);
    return out;
}

/// The words that `base` has too, as they stand in `list`.
Words shared(const Words& list, const WordSet& base) {
    Words out;
    for (const std::string_view word : list)
        if (base.count(word) != 0) out.push_back(word);
    return out;
}

/// Requires: each word of `list` is one of `base`.
bool keeps_order(const Words& base, const Words& list) {
    const WordSet there(list.begin(), list.end());
    return shared(base, there) == list;
}

/// "a comes before b" for many a and b, taken out one after the other.
class Sorter {
public:
    void add_word(std::string_view word) { before_.try_emplace(word); }
    void add(std::string_view first, std::string_view then) {
        after_[first].push_back(then);
        before_[then].insert(first);
    }

    /// Where words stand against each other in a circle, the first of `spine` among them is taken out, else the
    /// smallest.
    [[nodiscard]] std::vector<std::string> sorted(const Words& spine) {
        for (std::size_t i = 0; i < spine.size(); ++i)
            place_.emplace(spine[i], i);
        for (const auto& [word, before] : before_)
            if (before.empty()) free_.insert(word);
        std::vector<std::string> out;
        while (!before_.empty()) {
            const std::string_view word = free_.empty() ? out_of_circle() : *free_.begin();
            free_.erase(word);
            before_.erase(word);
            out.emplace_back(word);
            release(word);
        }
        return out;
    }

private:
    void release(std::string_view word) {
        for (const std::string_view then : after_[word]) {
            const auto waiting = before_.find(then);
            if (waiting == before_.end()) continue;
            waiting->second.erase(word);
            if (waiting->second.empty()) free_.insert(then);
        }
    }

    /// Back from the smallest that waits, always to the smallest it waits for, until the way closes.
    [[nodiscard]] std::string_view out_of_circle() const {
        Words way;
        std::string_view word = before_.begin()->first;
        auto closes = way.end();
        while (closes == way.end()) {
            way.push_back(word);
            word = *before_.at(word).begin();
            closes = std::find(way.begin(), way.end(), word);
        }
        return *std::min_element(closes, way.end(), [&](std::string_view a, std::string_view b) {
            const auto place_a = place_.find(a);
            const auto place_b = place_.find(b);
            if ((place_a == place_.end()) != (place_b == place_.end())) return place_b == place_.end();
            return place_a == place_.end() ? a < b : place_a->second < place_b->second;
        });
    }

    std::unordered_map<std::string_view, Words> after_;
    std::map<std::string_view, std::set<std::string_view>> before_; ///< of each word what it waits for
    std::unordered_map<std::string_view, std::size_t> place_;
    std::set<std::string_view> free_;
};

/// What comes before each word that is new on this side; and, where the side keeps to the spine, what comes after it.
void add_neighbours(Sorter& sorter, const Words& list, const WordSet& base, bool keeps_to_spine) {
    for (std::size_t i = 1; i < list.size(); ++i)
        if (keeps_to_spine || base.count(list[i]) == 0) sorter.add(list[i - 1], list[i]);
}

/// `list` with the words it has lost put back behind what they stood behind in `base`.
Words completed(const Words& base, Words list) {
    for (std::size_t i = 0; i < base.size(); ++i) {
        if (std::find(list.begin(), list.end(), base[i]) != list.end()) continue;
        const auto before = i == 0 ? list.end() : std::find(list.begin(), list.end(), base[i - 1]);
        list.insert(before == list.end() ? list.begin() : before + 1, base[i]);
    }
    return list;
}

/// The words of `base` in the order they are to have.
Words spine_of(const Words& base, const Words& ours, const Words& theirs) {
    const bool ours_keeps = keeps_order(base, ours);
    const bool theirs_keeps = keeps_order(base, theirs);
    if (ours_keeps && theirs_keeps) return base;
    if (ours_keeps) return completed(base, theirs);
    if (theirs_keeps) return completed(base, ours);
    const Words both = completed(base, ours);
    return both == completed(base, theirs) ? both : base;
}

} // namespace

std::vector<std::string> merged_order(const std::vector<std::string>& base, const std::vector<std::string>& ours,
                                      const std::vector<std::string>& theirs,
                                      const std::unordered_set<std::string>& kept) {
    const Words b = only(base, kept);
    const Words o = only(ours, kept);
    const Words t = only(theirs, kept);
    const WordSet in_base(b.begin(), b.end());
    const Words o_shared = shared(o, in_base);
    const Words t_shared = shared(t, in_base);
    const Words spine = spine_of(b, o_shared, t_shared);
    Sorter sorter;
    for (const std::string& word : kept)
        sorter.add_word(word);
    add_neighbours(sorter, spine, in_base, true);
    add_neighbours(sorter, o, in_base, keeps_order(spine, o_shared));
    add_neighbours(sorter, t, in_base, keeps_order(spine, t_shared));
    return sorter.sorted(spine);
}

} // namespace padchart::json
