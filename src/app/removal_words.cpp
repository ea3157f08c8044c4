#include "app/removal_words.hpp"

#include <algorithm>
#include <unordered_set>
#include <vector>

#include <fmt/format.h>

namespace padchart::app {
namespace {

using document::Chart;
using document::Id;

template <class T>
std::size_t count_of(const document::Items<T>& items, const std::unordered_set<Id>& gone) {
    return static_cast<std::size_t>(std::count_if(items.begin(), items.end(), [&](const T& item) {
        return gone.contains(item.target) && !gone.contains(item.id);
    }));
}

/// "its heat plan", "its 2 heat plans"; of several things "a heat plan", "2 heat plans".
void add(std::vector<std::string>& words, std::size_t count, std::size_t of, std::string_view one,
         std::string_view many) {
    if (count == 1) words.push_back(fmt::format("{} {}", of == 1 ? "its" : "a", one));
    if (count > 1) words.push_back(fmt::format("{}{} {}", of == 1 ? "its " : "", count, many));
}

std::string joined(const std::vector<std::string>& words) {
    if (words.empty()) return "";
    return words.size() == 1 ? words.front() : words.front() + " and " + words.back();
}

} // namespace

std::string what_goes_along(const Chart& chart, std::span<const Id> ids) {
    const std::unordered_set<Id> gone(ids.begin(), ids.end());
    std::vector<std::string> words;
    add(words, count_of(chart.heat_plans, gone), ids.size(), "heat plan", "heat plans");
    add(words, count_of(chart.ticks, gone), ids.size(), "tick on the list", "ticks on the list");
    return joined(words);
}

std::string what_stays_behind(const Chart& chart, std::span<const Id> ids) {
    const std::unordered_set<Id> gone(ids.begin(), ids.end());
    std::vector<std::string> words;
    add(words, count_of(chart.notes, gone), ids.size(), "note", "notes");
    add(words, count_of(chart.readings, gone), ids.size(), "reading", "readings");
    return joined(words);
}

} // namespace padchart::app
