#include "svg/media_query.hpp"

#include "svg/lengths.hpp"
#include "svg/scan.hpp"

namespace padchart::svg {
namespace {

/// Takes the word away from the front of the text where it stands there.
bool take_word(std::string_view& text, std::string_view word) {
    if (text.size() < word.size() || !equal_ignoring_case(text.substr(0, word.size()), word)) return false;
    if (text.size() > word.size() && (is_letter(text[word.size()]) || text[word.size()] == '-')) return false;
    text = trimmed(text.substr(word.size()));
    return true;
}

std::optional<bool> holds_size(std::string_view name, std::string_view value, double screen) {
    const auto length =
        length_of(value, {kScreenWidth, kScreenHeight, 16.0, 16.0}, Axis::Horizontal, Unitless::Refused);
    if (!length) return std::nullopt;
    if (equal_ignoring_case(name.substr(0, 4), "min-")) return screen >= *length;
    if (equal_ignoring_case(name.substr(0, 4), "max-")) return screen <= *length;
    return screen == *length;
}

bool is_size(std::string_view name, std::string_view which) {
    if (equal_ignoring_case(name, which)) return true;
    const bool bounded =
        equal_ignoring_case(name.substr(0, 4), "min-") || equal_ignoring_case(name.substr(0, 4), "max-");
    return bounded && equal_ignoring_case(name.substr(4), which);
}

/// "min-width: 10px"
std::optional<bool> holds_feature(std::string_view text, bool& asks_size) {
    const std::size_t colon = text.find(':');
    const std::string_view name = trimmed(text.substr(0, colon));
    const bool bare = colon == std::string_view::npos;
    const std::string_view value = bare ? std::string_view() : trimmed(text.substr(colon + 1));
    for (const std::string_view which : {"width", "height"}) {
        if (!is_size(name, which)) continue;
        asks_size = true;
        return bare ? std::optional(true) : holds_size(name, value, which == "width" ? kScreenWidth : kScreenHeight);
    }
    if (equal_ignoring_case(name, "color") && bare) return true;
    if (equal_ignoring_case(name, "orientation")) {
        asks_size = true;
        return bare || equal_ignoring_case(value, "landscape");
    }
    if (equal_ignoring_case(name, "prefers-color-scheme")) return bare || equal_ignoring_case(value, "light");
    return std::nullopt;
}

/// "(feature) and (feature)"; nothing in it is true.
std::optional<bool> holds_features(std::string_view text, bool& asks_size) {
    bool all = true;
    while (!text.empty()) {
        const std::size_t end = text.find(')');
        if (text.front() != '(' || end == std::string_view::npos) return std::nullopt;
        const auto one = holds_feature(text.substr(1, end - 1), asks_size);
        if (!one) return std::nullopt;
        all = all && *one;
        text = trimmed(text.substr(end + 1));
        if (!text.empty() && (!take_word(text, "and") || text.empty())) return std::nullopt;
    }
    return all;
}

std::optional<bool> holds_query(std::string_view text, bool& asks_size) {
    text = trimmed(text);
    if (text.empty()) return std::nullopt;
    const bool negated = take_word(text, "not");
    if (!negated) take_word(text, "only");
    bool fits = true;
    if (text.empty()) return std::nullopt;
    if (text.front() != '(') {
        std::size_t end = 0;
        while (end < text.size() && (is_letter(text[end]) || text[end] == '-'))
            ++end;
        if (end == 0) return std::nullopt;
        const std::string_view type = text.substr(0, end);
        fits = equal_ignoring_case(type, "all") || equal_ignoring_case(type, "screen");
        text = trimmed(text.substr(end));
        if (!text.empty() && (!take_word(text, "and") || text.empty())) return std::nullopt;
    }
    const auto features = holds_features(text, asks_size);
    if (!features) return std::nullopt;
    return (fits && *features) != negated;
}

} // namespace

std::optional<MediaAnswer> media_answer(std::string_view list) {
    list = trimmed(list);
    if (list.empty()) return MediaAnswer{true, false};
    MediaAnswer answer;
    bool understood = true;
    while (true) {
        const std::size_t comma = list.find(',');
        const auto one = holds_query(list.substr(0, comma), answer.asks_size);
        understood = understood && one.has_value();
        answer.applies = answer.applies || one.value_or(false);
        if (comma == std::string_view::npos) break;
        list.remove_prefix(comma + 1);
    }
    if (!understood && !answer.applies) return std::nullopt;
    return answer;
}

} // namespace padchart::svg
