#include "svg/trace_names.hpp"

#include <algorithm>
#include <array>
#include <vector>

#include "svg/scan.hpp"

namespace padchart::svg {
namespace {

using document::MarkKind;
using document::Side;

template <class Value>
struct Entry {
    std::string_view word;
    Value value;
};

constexpr std::array kRoles{
    Entry<Role>{"outline", Role::Outline},   Entry<Role>{"board", Role::Outline},
    Entry<Role>{"edge", Role::Outline},      Entry<Role>{"boardoutline", Role::Outline},
    Entry<Role>{"boardedge", Role::Outline}, Entry<Role>{"cutout", Role::CutOut},
    Entry<Role>{"cutouts", Role::CutOut},    Entry<Role>{"hole", Role::CutOut},
    Entry<Role>{"holes", Role::CutOut},      Entry<Role>{"body", Role::Body},
    Entry<Role>{"bodies", Role::Body},       Entry<Role>{"pad", Role::Pad},
    Entry<Role>{"pads", Role::Pad},          Entry<Role>{"land", Role::Pad},
    Entry<Role>{"lands", Role::Pad},         Entry<Role>{"mark", Role::Mark},
    Entry<Role>{"marks", Role::Mark},        Entry<Role>{"keepout", Role::KeepOut},
    Entry<Role>{"keepouts", Role::KeepOut},  Entry<Role>{"shield", Role::Shield},
    Entry<Role>{"shields", Role::Shield},    Entry<Role>{"note", Role::Note},
    Entry<Role>{"notes", Role::Note},        Entry<Role>{"ignore", Role::Note},
    Entry<Role>{"photo", Role::Note},        Entry<Role>{"photos", Role::Note},
    Entry<Role>{"guide", Role::Note},        Entry<Role>{"guides", Role::Note},
};

constexpr std::array kSides{
    Entry<Side>{"bottom", Side::Bottom},   Entry<Side>{"farside", Side::Bottom},    Entry<Side>{"back", Side::Bottom},
    Entry<Side>{"backside", Side::Bottom}, Entry<Side>{"bottomside", Side::Bottom}, Entry<Side>{"top", Side::Top},
    Entry<Side>{"nearside", Side::Top},    Entry<Side>{"front", Side::Top},         Entry<Side>{"frontside", Side::Top},
    Entry<Side>{"topside", Side::Top},
};

constexpr std::array kMarks{
    Entry<MarkKind>{"dot", MarkKind::Dot},
    Entry<MarkKind>{"dimple", MarkKind::Dimple},
    Entry<MarkKind>{"bar", MarkKind::Bar},
    Entry<MarkKind>{"band", MarkKind::Band},
    Entry<MarkKind>{"line", MarkKind::Line},
    Entry<MarkKind>{"notch", MarkKind::Notch},
    Entry<MarkKind>{"bevel", MarkKind::Bevel},
    Entry<MarkKind>{"chamfer", MarkKind::Chamfer},
    Entry<MarkKind>{"triangle", MarkKind::Triangle},
    Entry<MarkKind>{"arrow", MarkKind::Arrow},
    Entry<MarkKind>{"plus", MarkKind::Plus},
    Entry<MarkKind>{"minus", MarkKind::Minus},
    Entry<MarkKind>{"cutcorner", MarkKind::CutCorner},
    Entry<MarkKind>{"port", MarkKind::Port},
    Entry<MarkKind>{"key", MarkKind::Key},
};

/// Words that may stand in a layer's name without saying anything.
constexpr std::array<std::string_view, 9> kFillers{"layer", "of", "the", "side", "part", "parts", "group", "in", "on"};

/// What drawing programs call things nobody named.
constexpr std::array<std::string_view, 36> kGenerated{
    "g",        "path", "rect",  "circle",      "ellipse", "line",  "polyline", "polygon",  "use",
    "svg",      "text", "tspan", "image",       "layer",   "group", "shape",    "symbol",   "object",
    "clippath", "clip", "mask",  "marker",      "defs",    "id",    "a",        "switch",   "style",
    "title",    "desc", "xmlid", "ellipsepath", "calque",  "ebene", "page",     "artboard", "vector"};

template <class Table>
auto find_in(const Table& table, std::string_view word) -> std::optional<decltype(table[0].value)> {
    for (const auto& entry : table)
        if (entry.word == word) return entry.value;
    return std::nullopt;
}

bool is_sensitive(std::string_view word) {
    return word == "sensitive" || word == "heatsensitive";
}

/// "_x31_" is how some programs write a character that an id may not hold.
std::string unescaped(std::string_view text) {
    std::string out;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const auto hex = [&](std::size_t k) {
            const char c = k < text.size() ? to_lower(text[k]) : '\0';
            return is_digit(c) ? c - '0' : c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1;
        };
        if (text.substr(i).starts_with("_x") && hex(i + 2) >= 2 && hex(i + 2) < 8 && hex(i + 3) >= 0 &&
            i + 4 < text.size() && text[i + 4] == '_') {
            out.push_back(static_cast<char>(hex(i + 2) * 16 + hex(i + 3)));
            i += 4;
        } else {
            out.push_back(text[i]);
        }
    }
    return out;
}

bool is_word_character(char c) {
    return is_letter(c) || is_digit(c) || static_cast<unsigned char>(c) >= 0x80 || c == '+';
}

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words;
    bool inside = false;
    for (const char c : text) {
        if (is_word_character(c)) {
            if (!inside) words.emplace_back();
            words.back().push_back(c);
        }
        inside = is_word_character(c);
    }
    return words;
}

std::string lower(std::string_view text) {
    std::string out(text);
    std::transform(out.begin(), out.end(), out.begin(), to_lower);
    return out;
}

bool is_number(std::string_view word) {
    return !word.empty() && std::all_of(word.begin(), word.end(), is_digit);
}

/// "pads2" counts as "pads".
std::string_view without_number(std::string_view word) {
    const std::string_view whole = word;
    while (!word.empty() && is_digit(word.back()))
        word.remove_suffix(1);
    return word.empty() ? whole : word;
}

/// Takes over what one word, or two joined, say. False: nothing.
bool take_word(NameReading& reading, const std::string& word) {
    const std::string_view plain = without_number(word);
    if (const auto role = find_in(kRoles, plain)) {
        if (!reading.role) reading.role = role;
    } else if (const auto side = find_in(kSides, plain)) {
        if (!reading.side) reading.side = side;
    } else if (is_sensitive(plain)) {
        reading.sensitive = true;
    } else if (const auto mark = find_in(kMarks, plain)) {
        if (!reading.mark) reading.mark = mark;
    } else {
        return false;
    }
    return true;
}

bool is_filler(const std::string& word) {
    return std::find(kFillers.begin(), kFillers.end(), word) != kFillers.end();
}

/// Reads the words of a name; keeps what they say only where the first says something or all are understood.
void take_words(NameReading& reading, const std::vector<std::string>& words) {
    NameReading found = reading;
    bool all_known = true;
    bool first_known = false;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const std::string word = lower(words[i]);
        bool known = i + 1 < words.size() && take_word(found, word + lower(words[i + 1]));
        if (known)
            ++i;
        else
            known = take_word(found, word);
        if (known && (i == 0 || (i == 1 && !first_known && all_known))) first_known = true;
        if (known) continue;
        if (is_part_name(words[i]) && found.part_name.empty())
            found.part_name = words[i];
        else if (!is_number(word) && !is_filler(word))
            all_known = false;
    }
    if (first_known || all_known)
        reading = found;
    else if (!words.empty() && is_part_name(words.front()) && reading.part_name.empty())
        reading.part_name = words.front();
}

bool is_pad_suffix(std::string_view text) {
    if (lower(text) == "ep" || lower(text) == "gnd") return true;
    std::size_t letters = 0;
    while (letters < text.size() && is_letter(text[letters]))
        ++letters;
    return letters <= 2 && letters < text.size() && is_number(text.substr(letters));
}

/// "U4-3", "U4.A1", "U4:EP", "U4_3".
bool take_pad_name(NameReading& reading, std::string_view text) {
    const std::size_t at = text.find_first_of("-.:_/ ");
    if (at == std::string_view::npos) return false;
    const std::string_view name = text.substr(0, at);
    const std::string_view suffix = trimmed(text.substr(at + 1));
    if (!is_part_name(name) || !is_pad_suffix(suffix)) return false;
    reading.part_name = name;
    reading.pad_number = suffix;
    return true;
}

} // namespace

bool is_generated_id(std::string_view id) {
    const std::string word = lower(id);
    std::size_t letters = 0;
    while (letters < word.size() && is_letter(word[letters]))
        ++letters;
    const std::string_view stem = std::string_view(word).substr(0, letters);
    if (std::find(kGenerated.begin(), kGenerated.end(), stem) == kGenerated.end()) return false;
    return std::all_of(word.begin() + static_cast<std::ptrdiff_t>(letters), word.end(),
                       [](char c) { return is_digit(c) || c == '-' || c == '_' || c == '.'; });
}

bool is_part_name(std::string_view word) {
    std::size_t letters = 0;
    while (letters < word.size() && is_letter(word[letters]))
        ++letters;
    std::size_t digits = letters;
    while (digits < word.size() && is_digit(word[digits]))
        ++digits;
    const bool tail = digits == word.size() || (digits + 1 == word.size() && is_letter(word[digits]));
    if (letters == 0 || letters > 4 || digits == letters || digits - letters > 5 || !tail) return false;
    // "A3" is a part; "a3" is what programs call a link. The other generated names are no part's in capitals either.
    if (letters == 1 && word.front() >= 'A' && word.front() <= 'Z') return true;
    return !is_generated_id(word);
}

NameReading read_name(std::string_view name) {
    NameReading reading;
    const std::string text = unescaped(trimmed(name));
    const std::size_t colon = text.find(':');
    if (take_pad_name(reading, text)) return reading;
    if (is_generated_id(text) && !find_in(kRoles, without_number(lower(text)))) return reading;
    if (colon == std::string::npos) {
        take_words(reading, words_of(text));
        return reading;
    }
    const std::string_view before = trimmed(std::string_view(text).substr(0, colon));
    const std::string_view after = trimmed(std::string_view(text).substr(colon + 1));
    if (!is_part_name(before)) {
        take_words(reading, words_of(text));
        return reading;
    }
    // "U4: charge controller": what follows is for people, unless it is one plain word of the rules.
    reading.part_name = before;
    std::string joined;
    for (const std::string& word : words_of(after))
        joined += lower(word);
    if (!take_word(reading, joined)) reading.part_role = after;
    return reading;
}

std::string pad_number_of(std::string_view name) {
    const std::string text = unescaped(trimmed(name));
    std::vector<std::string> words = words_of(text);
    if (words.size() == 2 && (lower(words[0]) == "pad" || lower(words[0]) == "pin" || lower(words[0]) == "land"))
        words.erase(words.begin());
    if (words.size() != 1) return {};
    std::string_view word = words[0];
    for (const std::string_view prefix : {"pad", "pin", "land"})
        if (word.size() > prefix.size() && equal_ignoring_case(word.substr(0, prefix.size()), prefix))
            word.remove_prefix(prefix.size());
    return is_pad_suffix(word) ? std::string(word) : std::string{};
}

} // namespace padchart::svg
