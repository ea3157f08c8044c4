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

/// "A", "A and B", "A, B and C"; of more than are named "A, B and 4 more".
std::string listed(const std::vector<std::string>& names) {
    constexpr std::size_t kMostNamed = 3;
    const bool all = names.size() <= kMostNamed;
    const std::size_t named = all ? names.size() : kMostNamed - 1;
    std::string words = names.front();
    for (std::size_t i = 1; i < named; ++i)
        words += (all && i + 1 == named ? " and " : ", ") + names[i];
    return all ? words : words + fmt::format(" and {} more", names.size() - named);
}

} // namespace

std::string what_goes_along(const Chart& chart, std::span<const Id> ids) {
    const std::unordered_set<Id> gone(ids.begin(), ids.end());
    std::vector<std::string> words;
    add(words, count_of(chart.heat_plans, gone), ids.size(), "heat plan", "heat plans");
    add(words, count_of(chart.ticks, gone), ids.size(), "tick on the list", "ticks on the list");
    return joined(words);
}

std::string who_loses_a_shield(const Chart& chart, std::span<const Id> ids) {
    const std::unordered_set<Id> gone(ids.begin(), ids.end());
    std::vector<std::string> plans;
    std::unordered_set<Id> shields;
    for (const document::HeatPlan& plan : chart.heat_plans) {
        if (gone.contains(plan.id) || gone.contains(plan.target)) continue;
        std::vector<Id> lost = plan.shields;
        std::erase_if(lost, [&](const Id& shield) { return !gone.contains(shield); });
        shields.insert(lost.begin(), lost.end());
        if (!lost.empty()) plans.push_back('"' + (plan.name.empty() ? plan.id.text : plan.name) + '"');
    }
    if (plans.empty()) return "";
    return fmt::format("The heat plan{} {} {} without {} now.", plans.size() == 1 ? "" : "s", listed(plans),
                       plans.size() == 1 ? "is" : "are", shields.size() == 1 ? "it" : "them");
}

std::string what_stays_behind(const Chart& chart, std::span<const Id> ids) {
    const std::unordered_set<Id> gone(ids.begin(), ids.end());
    std::vector<std::string> words;
    add(words, count_of(chart.notes, gone), ids.size(), "note", "notes");
    add(words, count_of(chart.readings, gone), ids.size(), "reading", "readings");
    return joined(words);
}

} // namespace padchart::app
