#include "document/value_text.hpp"

#include <cctype>

namespace padchart::document {
namespace {

bool is_letter(char c) {
    return std::isalpha(static_cast<unsigned char>(c)) != 0 || static_cast<unsigned char>(c) >= 0x80U;
}

bool is_digit(char c) {
    return std::isdigit(static_cast<unsigned char>(c)) != 0;
}

/// Behind a number, with a blank between or without, and before a unit, a digit or nothing.
bool is_micro(std::string_view text, std::size_t at) {
    constexpr std::string_view kUnits = "FHAVWsm";
    std::size_t before = at;
    while (before > 0 && text[before - 1] == ' ')
        --before;
    if (before == 0 || !is_digit(text[before - 1])) return false;
    const std::string_view behind = text.substr(at + 1);
    if (behind.empty()) return true;
    if (is_digit(behind.front())) return before == at;
    return kUnits.find(behind.front()) != std::string_view::npos && (behind.size() == 1 || !is_letter(behind[1]));
}

} // namespace

std::string value_as_printed(std::string_view typed) {
    std::string text;
    for (std::size_t i = 0; i < typed.size(); ++i)
        if (typed[i] == 'u' && is_micro(typed, i))
            text += "\u00b5";
        else
            text += typed[i];
    return text;
}

} // namespace padchart::document
