#include "app/word_search.hpp"

#include <algorithm>
#include <cctype>
#include <optional>

namespace padchart::app {
namespace {

bool is_part_of_word(char c) {
    return std::isalnum(static_cast<unsigned char>(c)) != 0;
}

bool ends_word(std::string_view text, std::size_t at) {
    return at >= text.size() || !is_part_of_word(text[at]);
}

std::string lower(std::string_view text) {
    std::string small(text);
    std::transform(small.begin(), small.end(), small.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return small;
}

Match match_at(std::string_view text, std::size_t at, std::string_view word) {
    if (at > 0 && is_part_of_word(text[at - 1])) return Match::Within;
    const std::size_t end = at + word.size();
    if (ends_word(text, end)) return Match::Exact;
    const bool is_code = std::all_of(word.begin(), word.end(), [](char c) { return c >= '0' && c <= '9'; });
    return is_code && text[end] == 'm' && ends_word(text, end + 1) ? Match::MetricCode : Match::Beginning;
}

std::optional<Match> match_of(std::string_view text, std::string_view word) {
    std::optional<Match> best;
    for (std::size_t at = text.find(word); at != std::string_view::npos; at = text.find(word, at + 1)) {
        const Match here = match_at(text, at, word);
        if (!best || here < *best) best = here;
    }
    return best;
}

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words(1);
    for (const char c : text)
        if (c != ' ')
            words.back() += c;
        else if (!words.back().empty())
            words.emplace_back();
    if (words.back().empty()) words.pop_back();
    return words;
}

/// As well as the word that is held worst.
std::optional<Match> match_of_all(std::string_view text, std::span<const std::string> words) {
    Match worst = Match::Exact;
    for (const std::string& word : words) {
        const std::optional<Match> one = match_of(text, word);
        if (!one) return std::nullopt;
        worst = std::max(worst, *one);
    }
    return worst;
}

} // namespace

std::vector<Found> found_in(std::span<const std::string> texts, std::string_view wanted) {
    const std::vector<std::string> words = words_of(lower(wanted));
    std::vector<Found> found;
    for (std::size_t i = 0; i < texts.size(); ++i)
        if (const auto match = match_of_all(lower(texts[i]), words)) found.push_back({i, *match});
    std::stable_sort(found.begin(), found.end(), [](const Found& a, const Found& b) { return a.match < b.match; });
    return found;
}

std::string nothing_found(std::string_view wanted) {
    return "Nothing found for \"" + std::string(wanted) + "\".";
}

std::string with_metric_said(std::string_view name) {
    const std::size_t inch = name.find(" (inch ");
    if (inch == std::string_view::npos || inch == 0 || name[inch - 1] != 'M') return std::string(name);
    const std::size_t blank = name.rfind(' ', inch - 1);
    const std::size_t code = blank == std::string_view::npos ? 0 : blank + 1;
    return std::string(name.substr(0, code)) + "metric " + std::string(name.substr(code));
}

} // namespace padchart::app
