#include "patterns/naming.hpp"

#include <algorithm>
#include <array>
#include <cctype>

#include "document/footprint.hpp"
#include "patterns/designation.hpp"
#include "patterns/labels.hpp"

namespace padchart::patterns {
namespace {

using document::Footprint;
using document::PartClass;

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

bool is_plain_number(std::string_view text) {
    return !text.empty() && text.find_first_not_of("0123456789.") == std::string_view::npos;
}

/// "10 k" as "10k": a number and the prefix or unit that follows it belong together.
std::string first_word(std::string text) {
    std::replace(text.begin(), text.end(), ',', '.');
    std::replace(text.begin(), text.end(), '\t', ' ');
    text.erase(0, std::min(text.size(), text.find_first_not_of(' ')));
    // "4x 10k": so many of them in one body.
    if (const std::size_t times = text.find('x'); times != std::string::npos && times > 0 && times + 1 < text.size() &&
                                                  text.find_first_not_of("0123456789 ") == times)
        text.erase(0, text.find_first_not_of(' ', times + 1));
    const std::size_t end = std::min(text.find(' '), text.size());
    std::string word = text.substr(0, end);
    const std::size_t next = text.find_first_not_of(' ', end);
    if (!is_plain_number(word) || next == std::string::npos || is_digit(text[next])) return word;
    return word + text.substr(next, std::min(text.find(' ', next), text.size()) - next);
}

struct UnitWord {
    std::string_view text;
    ValueUnit unit;
};
// Longer words first, so that "ohm" is not read as a milli of something.
constexpr std::array<UnitWord, 8> kUnits{{{"ohms", ValueUnit::Ohm},
                                          {"Ohm", ValueUnit::Ohm},
                                          {"ohm", ValueUnit::Ohm},
                                          {"OHM", ValueUnit::Ohm},
                                          {"\u03a9", ValueUnit::Ohm},
                                          {"\u2126", ValueUnit::Ohm},
                                          {"F", ValueUnit::Farad},
                                          {"H", ValueUnit::Henry}}};

/// A class whose values are of that unit: what the code behind a stated unit is read as.
PartClass class_for(ValueUnit unit, PartClass stated) {
    if (has_value_code(stated)) return stated;
    return unit == ValueUnit::Ohm     ? PartClass::Resistor
           : unit == ValueUnit::Farad ? PartClass::CeramicCapacitor
                                      : PartClass::Inductor;
}

void add(Diagnostics& out, const Footprint& part, Severity severity, std::string code, std::string message) {
    out.push_back({severity, std::move(code), std::move(message), "", part.id.text});
}

std::string listed(const std::vector<ClassHint>& hints) {
    std::string text;
    for (std::size_t i = 0; i < std::min<std::size_t>(hints.size(), 4); ++i) {
        if (i > 0) text += i + 1 == hints.size() ? " or " : ", ";
        text += label_of(hints[i].part_class);
    }
    return text;
}

void check_name(const Footprint& part, Diagnostics& out) {
    const std::string_view letters = class_letters(part.name);
    const std::string_view rest = std::string_view(part.name).substr(letters.size());
    if (letters.empty() || rest.empty() || !is_digit(rest.front())) {
        add(out, part, Severity::Note, "name-form",
            "'" + part.name + "' is no usual designation; right is a class letter and a number, such as R14.");
        return;
    }
    if (letters == kMadeUpLetters) return; // nobody has named it yet
    const std::vector<ClassHint> hints = class_hints(part.name);
    if (hints.empty()) {
        add(out, part, Severity::Note, "name-letters",
            "The letters " + std::string(letters) + " of " + part.name +
                " stand for no class of part in IEEE 315, nor are they usual on boards.");
        return;
    }
    if (part.part_class == PartClass::Unknown) return;
    const bool fits = std::any_of(hints.begin(), hints.end(),
                                  [&](const ClassHint& hint) { return hint.part_class == part.part_class; });
    if (!fits)
        add(out, part, Severity::Note, "name-against-class",
            part.name + " is said to be of kind '" + std::string(label_of(part.part_class)) + "'; " +
                std::string(letters) + " usually stands for " + listed(hints) + ". Check the name, or what it is.");
}

} // namespace

bool has_value_code(PartClass part_class) {
    // Asked of the reader itself: digits alone have a unit only where the class gives one.
    return read_value_code("103", part_class).has_value() || part_class == PartClass::AluminiumCapacitor;
}

Result<CodedValue> read_value(const std::string& text, PartClass part_class) {
    const std::string word = first_word(text);
    for (const UnitWord& unit : kUnits) {
        if (!word.ends_with(unit.text) || word.size() == unit.text.size()) continue;
        std::string code = word.substr(0, word.size() - unit.text.size());
        const PartClass read_as = class_for(unit.unit, part_class);
        if (is_plain_number(code)) {
            if (unit.unit == ValueUnit::Ohm) return read_value_code(code + "R", read_as);
            return CodedValue{std::stod(code), unit.unit, false};
        }
        return read_value_code(code, read_as);
    }
    return read_value_code(word, part_class);
}

Diagnostics naming_findings(const Footprint& part) {
    Diagnostics out;
    if (!part.name.empty()) check_name(part, out);
    if (part.value.empty() || !has_value_code(part.part_class)) return out;
    if (const Result<CodedValue> value = read_value(part.value, part.part_class); !value)
        add(out, part, Severity::Note, "value-not-read",
            "The value of " + (part.name.empty() ? "a part without name" : part.name) + ": " + value.error().message);
    return out;
}

} // namespace padchart::patterns
