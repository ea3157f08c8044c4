#include "svg/reimport_moves.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "svg/reimport_changes.hpp"

namespace padchart::svg {
namespace {

/// Fewer are named one by one.
constexpr std::size_t kTogether = 3;

std::string signed_words(double length) {
    return fmt::format("{:+.2f}", std::round(length * 100.0) / 100.0 + 0.0); // no "-0.00"
}

/// Of the parts not told yet those that moved as the first of them did.
std::vector<std::size_t> alike(const std::vector<PartMove>& moves, std::size_t first, const std::vector<bool>& told) {
    std::vector<std::size_t> same;
    for (std::size_t i = first; i < moves.size(); ++i)
        if (!told[i] && geometry::distance(moves[i].by, moves[first].by) < kMoved) same.push_back(i);
    return same;
}

std::string named(const std::vector<PartMove>& moves, const std::vector<std::size_t>& some) {
    constexpr std::size_t kMost = 12;
    std::vector<std::string> names;
    for (std::size_t i = 0; i < some.size() && i < kMost; ++i)
        names.push_back(moves[some[i]].name);
    if (some.size() > kMost) names.push_back(fmt::format("{} more", some.size() - kMost));
    return listed(names);
}

std::string range_words(double least, double most) {
    const std::string from = fmt::format("{:.2f}", least), to = fmt::format("{:.2f}", most);
    return from == to ? from : from + " to " + to;
}

} // namespace

std::string move_words(geometry::Vec2 by, std::string_view unit) {
    return fmt::format("moved by {:.2f}{} ({} right, {} down)", geometry::length(by), unit, signed_words(by.x),
                       signed_words(by.y));
}

Diagnostics told_moves(const std::vector<PartMove>& moves, std::string_view unit) {
    Diagnostics lines;
    std::vector<bool> told(moves.size(), false);
    for (std::size_t i = 0; i < moves.size(); ++i) {
        if (told[i]) continue;
        std::vector<std::size_t> same = alike(moves, i, told);
        if (same.size() < kTogether) same = {i};
        for (const std::size_t one : same)
            told[one] = true;
        const std::string words = move_words(moves[i].by, unit);
        const std::string message =
            same.size() == 1 ? fmt::format("{}: {}", moves[i].name, words)
                             : fmt::format("{} parts {}, all alike: {}", same.size(), words, named(moves, same));
        lines.push_back({Severity::Note, "part-changed", message, {}, moves[i].part.text});
    }
    return lines;
}

Diagnostics told_together(const std::vector<PartMove>& moves, std::string_view unit) {
    if (told_moves(moves, unit).size() < 2) return told_moves(moves, unit);
    double least = geometry::length(moves.front().by), most = least;
    std::vector<std::size_t> all;
    for (std::size_t i = 0; i < moves.size(); ++i) {
        least = std::min(least, geometry::length(moves[i].by));
        most = std::max(most, geometry::length(moves[i].by));
        all.push_back(i);
    }
    return {{Severity::Note,
             "part-changed",
             fmt::format("{} parts are drawn {}{} from where they lay: {}", moves.size(), range_words(least, most),
                         unit, named(moves, all)),
             {},
             moves.front().part.text}};
}

} // namespace padchart::svg
