#include "scene/text_width.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <utility>

namespace padchart::scene {
namespace {

using Widths = std::array<std::int16_t, 95>; // thousandths of the font height, U+0020 to U+007E

constexpr Widths kRegular{
    281, 278, 403, 631, 638, 813, 639, 222, 362, 362, 500, 659, 280, 460, 276, 357, 625, 464, 605, //
    636, 642, 608, 624, 571, 616, 624, 276, 280, 659, 659, 659, 507, 936, 676, 651, 727, 719, 598, //
    587, 743, 740, 264, 543, 652, 563, 889, 753, 761, 635, 761, 639, 638, 642, 741, 676, 949, 642, //
    665, 625, 362, 357, 362, 469, 452, 497, 564, 621, 558, 621, 582, 361, 609, 591, 237, 237, 544, //
    237, 869, 585, 597, 609, 609, 372, 523, 364, 581, 557, 813, 540, 557, 541, 362, 327, 362, 659};

constexpr Widths kStrong{
    248, 309, 396, 643, 649, 844, 663, 213, 393, 393, 543, 673, 295, 466, 290, 379, 667, 481,  621, //
    652, 666, 632, 648, 587, 646, 648, 290, 295, 673, 673, 673, 544, 999, 724, 657, 744, 724,  608, //
    586, 755, 744, 275, 561, 677, 566, 906, 741, 775, 643, 776, 651, 649, 660, 734, 724, 1007, 690, //
    705, 653, 393, 379, 393, 481, 468, 497, 575, 630, 577, 630, 593, 377, 625, 613, 261, 261,  569, //
    261, 898, 610, 608, 625, 625, 397, 549, 380, 608, 576, 837, 563, 576, 562, 393, 358, 393,  673};

/// The next character of a UTF-8 text; a stray byte counts as one character.
char32_t take(std::string_view& text) {
    const auto lead = static_cast<unsigned char>(text.front());
    const std::size_t length = lead < 0x80 ? 1 : lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : lead >= 0xC0 ? 2 : 1;
    char32_t c = length == 1 ? lead : lead & (0xFFU >> (length + 1));
    for (std::size_t i = 1; i < std::min(length, text.size()); ++i)
        c = (c << 6) | (static_cast<unsigned char>(text[i]) & 0x3FU);
    text.remove_prefix(std::min(length, text.size()));
    return c;
}

double width_of(char32_t c, bool strong) {
    if (c >= 0x20 && c <= 0x7E) return (strong ? kStrong : kRegular)[c - 0x20] / 1000.0;
    switch (c) {
    case U'°': return 0.458;
    case U'·': return 0.29;
    case U'–': return 0.5;
    case U'•': return 0.563;
    case U'×':
    case U'±':
    case U'≤':
    case U'≥': return 0.673;
    case U'µ': return 0.652;
    case U'…': return 0.821;
    default: break;
    }
    if (c < 0x20) return 0.0;
    if (c < 0x250) return 0.65; // Latin with marks
    if (c < 0x1100) return 0.8; // Greek, Cyrillic and the like
    return 1.0;
}

std::string_view first_that_fit(std::string_view text, double width_em, bool strong) {
    std::string_view rest = text;
    double width = 0.0;
    while (!rest.empty()) {
        std::string_view after = rest;
        width += width_of(take(after), strong);
        if (width > width_em) break;
        rest = after;
    }
    return text.substr(0, text.size() - rest.size());
}

std::string_view next_word(std::string_view& text) {
    const std::size_t start = std::min(text.find_first_not_of(" \n"), text.size());
    text.remove_prefix(start);
    const std::string_view word = text.substr(0, text.find_first_of(" \n"));
    text.remove_prefix(word.size());
    return word;
}

/// The beginning of a word up to its last hyphen or slash that fits; empty where there is none.
std::string_view whole_pieces(std::string_view word, double width_em, bool strong) {
    std::string_view best;
    for (std::size_t i = 1; i + 1 < word.size(); ++i)
        if ((word[i - 1] == '-' || word[i - 1] == '/') && text_width_em(word.substr(0, i), strong) <= width_em)
            best = word.substr(0, i);
    return best;
}

} // namespace

double text_width_em(std::string_view text, bool strong) {
    double width = 0.0;
    while (!text.empty())
        width += width_of(take(text), strong);
    return width;
}

std::vector<std::string> wrapped(std::string_view text, double width_em, bool strong) {
    std::vector<std::string> lines;
    std::string line;
    const auto finish = [&] {
        if (!line.empty()) lines.push_back(std::exchange(line, {}));
    };
    for (std::string_view word = next_word(text); !word.empty(); word = next_word(text)) {
        const std::string longer = line.empty() ? std::string(word) : line + ' ' + std::string(word);
        if (text_width_em(longer, strong) <= width_em) {
            line = longer;
            continue;
        }
        finish();
        while (!word.empty() && text_width_em(word, strong) > width_em) {
            std::string_view head = whole_pieces(word, width_em, strong);
            if (head.empty()) head = first_that_fit(word, width_em, strong);
            if (head.empty()) { // not even one character fits: take it anyway, so that this ends
                std::string_view rest = word;
                take(rest);
                head = word.substr(0, word.size() - rest.size());
            }
            lines.emplace_back(head);
            word.remove_prefix(head.size());
        }
        line = word;
    }
    finish();
    return lines;
}

double widest_word_em(std::string_view text, bool strong) {
    double widest = 0.0;
    std::size_t start = 0;
    for (std::size_t i = 0; i <= text.size(); ++i) {
        const bool is_blank = i == text.size() || text[i] == ' ' || text[i] == '\n';
        const bool breaks = !is_blank && (text[i] == '-' || text[i] == '/') && i > start;
        if (!is_blank && !breaks) continue;
        const std::size_t end = breaks ? i + 1 : i;
        widest = std::max(widest, text_width_em(text.substr(start, end - start), strong));
        start = i + 1;
    }
    return widest;
}

std::string shortened(std::string_view text, double width_em, bool strong) {
    if (text_width_em(text, strong) <= width_em) return std::string(text);
    std::string head(first_that_fit(text, width_em - width_of(U'…', strong), strong));
    while (!head.empty() && head.back() == ' ')
        head.pop_back();
    return head + "…";
}

} // namespace padchart::scene
