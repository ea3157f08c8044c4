#include "patterns/value_code.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>

namespace padchart::patterns {
namespace {

using document::PartClass;

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

bool all_digits(std::string_view text) {
    return !text.empty() && std::all_of(text.begin(), text.end(), is_digit);
}

std::optional<ValueUnit> unit_of(PartClass part_class) {
    switch (part_class) {
    case PartClass::Resistor:
    case PartClass::SenseResistor:
    case PartClass::Thermistor:
    case PartClass::Varistor:
    case PartClass::Jumper:
    case PartClass::ArrayIsolated:
    case PartClass::ArrayCommon:
    case PartClass::FerriteBead: return ValueUnit::Ohm;
    case PartClass::CeramicCapacitor:
    case PartClass::FeedthroughCapacitor:
    case PartClass::TantalumCapacitor:
    case PartClass::PolymerCapacitor:
    case PartClass::AluminiumCapacitor:
    case PartClass::Supercapacitor:
    case PartClass::FilmCapacitor: return ValueUnit::Farad;
    case PartClass::Inductor:
    case PartClass::CommonModeChoke:
    case PartClass::Transformer: return ValueUnit::Henry;
    default: return std::nullopt;
    }
}

struct Multiplier {
    double factor = 1.0;
    std::optional<ValueUnit> unit; ///< what the letter itself says
};

/// The letter in the place of the point. R is a microhenry's point on inductors.
std::optional<Multiplier> multiplier_of(std::string_view letter, std::optional<ValueUnit> unit) {
    if (letter == "R" || letter == "r") {
        const bool coil = unit == ValueUnit::Henry;
        return Multiplier{coil ? 1e-6 : 1.0, coil ? ValueUnit::Henry : ValueUnit::Ohm};
    }
    if (letter == "K" || letter == "k") return Multiplier{1e3, ValueUnit::Ohm};
    if (letter == "M") return Multiplier{1e6, ValueUnit::Ohm};
    if (letter == "G") return Multiplier{1e9, ValueUnit::Ohm};
    if (letter == "L") return Multiplier{1e-3, ValueUnit::Ohm};
    if (letter == "p" || letter == "P") return Multiplier{1e-12, ValueUnit::Farad};
    if (letter == "n" || letter == "N") return Multiplier{1e-9, std::nullopt};
    if (letter == "u" || letter == "U" || letter == "\u00b5" || letter == "\u03bc")
        return Multiplier{1e-6, std::nullopt};
    if (letter == "m") return Multiplier{1e-3, std::nullopt};
    return std::nullopt;
}

Error no_code(std::string_view code) {
    return {"'" + std::string(code) + "' is no value code; right is such as 4R7, 4K7, 470R, 103 or 4n7.", ""};
}

double number(std::string_view text) {
    double value = 0.0;
    std::from_chars(text.data(), text.data() + text.size(), value);
    return value;
}

/// Two or three figures and the count of noughts; 8 and 9 are hundredths and tenths on capacitors.
Result<double> digits_value(std::string_view code, ValueUnit unit) {
    const int noughts = code.back() - '0';
    const double figures = number(code.substr(0, code.size() - 1));
    if (unit == ValueUnit::Farad && noughts >= 8) return figures * (noughts == 8 ? 0.01 : 0.1);
    if (noughts >= 8) return no_code(code);
    return figures * std::pow(10.0, noughts);
}

Result<CodedValue> from_digits(std::string_view code, PartClass part_class) {
    const std::optional<ValueUnit> unit = unit_of(part_class);
    const bool noughts = code.find_first_not_of('0') == std::string_view::npos;
    if (noughts && code.size() <= 4 && unit.value_or(ValueUnit::Ohm) == ValueUnit::Ohm)
        return CodedValue{0.0, ValueUnit::Ohm, true};
    if (!unit)
        return Error{"'" + std::string(code) +
                         "' can be ohm, picofarad or microhenry: say what the part is, or write a letter as in 10K.",
                     ""};
    if (noughts) return no_code(code);
    if (part_class == PartClass::AluminiumCapacitor) return CodedValue{number(code) * 1e-6, *unit, false};
    if (code.size() != 3 && code.size() != 4) return no_code(code);
    const Result<double> value = digits_value(code, *unit);
    if (!value) return value.error();
    const double scale = *unit == ValueUnit::Farad ? 1e-12 : *unit == ValueUnit::Henry ? 1e-6 : 1.0;
    return CodedValue{*value * scale, *unit, false};
}

/// Two digits and a letter: the n-th of the 96 values of a decade, in ohm.
std::optional<double> from_96(std::string_view code) {
    if (code.size() != 3 || !all_digits(code.substr(0, 2))) return std::nullopt;
    constexpr std::string_view kLetters = "YXABCDEF"; // 0.01, 0.1, 1, 10, ...
    const std::size_t power = kLetters.find(code[2]);
    const int place = (code[0] - '0') * 10 + (code[1] - '0');
    if (power == std::string_view::npos || place < 1 || place > 96) return std::nullopt;
    const double figures = std::round(100.0 * std::pow(10.0, (place - 1) / 96.0));
    return figures * std::pow(10.0, static_cast<double>(power) - 2.0);
}

/// "4" "R" "7": the parts before and after the letter, either of which may be missing, not both.
Result<CodedValue> from_letter(std::string_view code, PartClass part_class) {
    const std::size_t end = code.find_first_not_of("0123456789.");
    const std::string_view before = code.substr(0, end);
    std::string_view rest = code.substr(end);
    const std::size_t letter_end = std::min(rest.size(), rest.find_first_of("0123456789"));
    const std::string_view letter = rest.substr(0, letter_end);
    const std::string_view after = rest.substr(letter_end);
    const std::optional<ValueUnit> unit = unit_of(part_class);
    const std::optional<Multiplier> multiplier = multiplier_of(letter, unit);
    const bool point = before.find('.') != std::string_view::npos;
    const bool wrong_point = point && (!after.empty() || before.front() == '.' || before.back() == '.' ||
                                       std::count(before.begin(), before.end(), '.') > 1);
    if (!multiplier || (before.empty() && after.empty()) || wrong_point || (!after.empty() && !all_digits(after)))
        return no_code(code);
    const bool never_ohm = !multiplier->unit && letter != "m" && unit == ValueUnit::Ohm;
    if (never_ohm || (multiplier->unit && unit && *multiplier->unit != *unit))
        return Error{"The letter in '" + std::string(code) + "' belongs to another kind of part.", ""};
    const std::string plain =
        std::string(before.empty() ? "0" : before) + (after.empty() ? "" : "." + std::string(after));
    const double value = number(plain) * multiplier->factor;
    const ValueUnit read = multiplier->unit.value_or(unit.value_or(ValueUnit::Farad));
    return CodedValue{value, read, read == ValueUnit::Ohm && value == 0.0};
}

} // namespace

Result<CodedValue> read_value_code(std::string_view code, PartClass part_class) {
    if (code.empty()) return no_code(code);
    if (all_digits(code)) return from_digits(code, part_class);
    if (code.find_first_not_of("0123456789.") == std::string_view::npos) return no_code(code);
    if (unit_of(part_class).value_or(ValueUnit::Ohm) == ValueUnit::Ohm)
        if (const std::optional<double> value = from_96(code)) return CodedValue{*value, ValueUnit::Ohm, false};
    return from_letter(code, part_class);
}

std::string in_words(const CodedValue& value) {
    if (value.is_jumper) return "jumper";
    struct Prefix {
        double factor;
        std::string_view text;
    };
    static constexpr std::array<Prefix, 8> kPrefixes{
        {{1e9, "G"}, {1e6, "M"}, {1e3, "k"}, {1.0, ""}, {1e-3, "m"}, {1e-6, "u"}, {1e-9, "n"}, {1e-12, "p"}}};
    // Tenths of an ohm are read as such, not as milliohm.
    const bool small_ohm = value.unit == ValueUnit::Ohm && value.value >= 0.1 && value.value < 1.0;
    const auto fits = [&](const Prefix& prefix) { return value.value >= prefix.factor * (1.0 - 1e-12); };
    const auto at = std::find_if(kPrefixes.begin(), kPrefixes.end(), fits);
    const Prefix prefix = small_ohm ? Prefix{1.0, ""} : at == kPrefixes.end() ? kPrefixes.back() : *at;
    std::array<char, 32> text{};
    const auto [end, fault] = std::to_chars(text.data(), text.data() + text.size(), value.value / prefix.factor,
                                            std::chars_format::general, 6);
    const std::string_view unit = value.unit == ValueUnit::Ohm ? "ohm" : value.unit == ValueUnit::Farad ? "F" : "H";
    return std::string(text.data(), end) + " " + std::string(prefix.text) + std::string(unit);
}

} // namespace padchart::patterns
