#include "json/merge_order.hpp"

#include <algorithm>
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

/// True when the words of `base` stand in another order in `list`.
bool is_reordered(const Words& base, const Words& list) {
    std::unordered_map<std::string_view, std::size_t> place;
    for (std::size_t i = 0; i < base.size(); ++i)
        place.emplace(base[i], i);
    std::size_t last = 0;
    for (const std::string_view word : list) {
        const auto found = place.find(word);
        if (found == place.end()) continue;
        if (found->second < last) return true;
        last = found->second;
    }
    return false;
}

/// "a comes before b" for many a and b, taken out one after the other.
class Sorter {
public:
    void add_word(std::string_view word) { before_count_.emplace(word, 0); }
    void add(std::string_view first, std::string_view then) {
        after_[first].push_back(then);
        ++before_count_[then];
    }

    /// `preferred` breaks a circle.
    [[nodiscard]] std::vector<std::string> sorted(const Words& preferred) {
        for (const auto& [word, count] : before_count_)
            if (count == 0) free_.insert(word);
        std::vector<std::string> out;
        auto next_preferred = preferred.begin();
        while (out.size() < before_count_.size()) {
            if (free_.empty()) break_circle(next_preferred, preferred.end());
            const std::string_view word = *free_.begin();
            free_.erase(free_.begin());
            taken_.insert(word);
            out.emplace_back(word);
            release(word);
        }
        return out;
    }

private:
    void release(std::string_view word) {
        for (const std::string_view then : after_[word])
            if (--before_count_[then] == 0 && taken_.count(then) == 0) free_.insert(then);
    }

    void break_circle(Words::const_iterator& next, Words::const_iterator end) {
        while (next != end && taken_.count(*next) != 0)
            ++next;
        if (next != end) {
            free_.insert(*next);
            return;
        }
        std::string_view smallest;
        for (const auto& [word, count] : before_count_)
            if (taken_.count(word) == 0 && (smallest.empty() || word < smallest)) smallest = word;
        free_.insert(smallest);
    }

    std::unordered_map<std::string_view, Words> after_;
    std::unordered_map<std::string_view, int> before_count_;
    std::set<std::string_view> free_;
    WordSet taken_;
};

/// Neighbours of the list; of one whose order does not count, only what comes before a word that is new on this side.
void add_neighbours(Sorter& sorter, const Words& list, const WordSet& base, bool only_new) {
    for (std::size_t i = 1; i < list.size(); ++i)
        if (!only_new || base.count(list[i]) == 0) sorter.add(list[i - 1], list[i]);
}

} // namespace

std::vector<std::string> merged_order(const std::vector<std::string>& base, const std::vector<std::string>& ours,
                                      const std::vector<std::string>& theirs,
                                      const std::unordered_set<std::string>& kept) {
    const Words b = only(base, kept);
    const Words o = only(ours, kept);
    const Words t = only(theirs, kept);
    const WordSet in_base(b.begin(), b.end());
    const bool ours_reordered = is_reordered(b, o);
    const bool theirs_reordered = is_reordered(b, t);
    Sorter sorter;
    for (const std::string& word : kept)
        sorter.add_word(word);
    if (!ours_reordered && !theirs_reordered) add_neighbours(sorter, b, in_base, false);
    add_neighbours(sorter, o, in_base, theirs_reordered && !ours_reordered);
    add_neighbours(sorter, t, in_base, ours_reordered);
    return sorter.sorted(ours_reordered || !theirs_reordered ? o : t);
}

} // namespace padchart::json
