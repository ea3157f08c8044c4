#include "svg/lengths.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "svg/scan.hpp"

namespace padchart::svg {
namespace {

struct Unit {
    std::string_view name;
    double px;
    UnitClass unit_class;
};

constexpr std::array<Unit, 7> kAbsoluteUnits{{
    {"px", 1.0, UnitClass::Px},
    {"mm", kPxPerInch / 25.4, UnitClass::Physical},
    {"cm", kPxPerInch / 2.54, UnitClass::Physical},
    {"in", kPxPerInch, UnitClass::Physical},
    {"pt", kPxPerInch / 72.0, UnitClass::Physical},
    {"pc", kPxPerInch / 6.0, UnitClass::Physical},
    {"q", kPxPerInch / 101.6, UnitClass::Physical},
}};

struct FontUnit {
    std::string_view name;
    double em;
    bool of_root;
};

// ex and ch hang on the font a browser finds; half an em is what CSS tells to assume without one.
constexpr std::array<FontUnit, 4> kFontUnits{{
    {"em", 1.0, false},
    {"ex", 0.5, false},
    {"ch", 0.5, false},
    {"rem", 1.0, true},
}};

struct Quantity {
    double value = 0.0;
    bool is_number = false; ///< in calc() only numbers may be factors and divisors
};

struct Reading {
    Scanner scanner;
    const LengthContext& context;
    Axis axis = Axis::Horizontal;
    int depth = 0;
};

double percent_base(const LengthContext& context, Axis axis) {
    switch (axis) {
    case Axis::Horizontal: return context.viewport_width;
    case Axis::Vertical: return context.viewport_height;
    case Axis::Diagonal: break;
    }
    return std::hypot(context.viewport_width, context.viewport_height) / std::numbers::sqrt2;
}

std::string_view read_unit(Scanner& scanner) {
    const char* const begin = scanner.at;
    if (scanner.peek() == '%')
        ++scanner.at;
    else
        while (!scanner.done() && is_letter(*scanner.at))
            ++scanner.at;
    return {begin, static_cast<std::size_t>(scanner.at - begin)};
}

std::optional<Quantity> with_unit(double number, std::string_view unit, const LengthContext& context, Axis axis) {
    if (unit.empty()) return Quantity{number, true};
    if (unit == "%") return Quantity{number / 100.0 * percent_base(context, axis)};
    for (const Unit& known : kAbsoluteUnits)
        if (equal_ignoring_case(unit, known.name)) return Quantity{number * known.px};
    for (const FontUnit& known : kFontUnits)
        if (equal_ignoring_case(unit, known.name))
            return Quantity{number * known.em * (known.of_root ? context.root_font_size : context.font_size)};
    return std::nullopt;
}

bool skip_word(Scanner& scanner, std::string_view word) {
    if (scanner.rest().size() < word.size()) return false;
    if (!equal_ignoring_case(scanner.rest().substr(0, word.size()), word)) return false;
    scanner.at += word.size();
    return true;
}

std::optional<Quantity> read_sum(Reading& reading);

/// min(), max() and clamp() after their '(' (CSS Values 4, section 10.2); all of one kind.
std::optional<Quantity> read_choice(Reading& reading, bool smallest, std::size_t wanted) {
    std::vector<Quantity> given;
    if (++reading.depth > 32) return std::nullopt;
    do {
        const auto next = read_sum(reading);
        if (!next || next->is_number != (given.empty() ? next->is_number : given.front().is_number))
            return std::nullopt;
        given.push_back(*next);
        skip_blanks(reading.scanner);
    } while (skip_word(reading.scanner, ","));
    if (!skip_word(reading.scanner, ")") || (wanted != 0 && given.size() != wanted)) return std::nullopt;
    --reading.depth;
    const auto less = [](const Quantity& a, const Quantity& b) { return a.value < b.value; };
    if (wanted == 3) return std::max(given[0], std::min(given[1], given[2], less), less);
    return smallest ? *std::min_element(given.begin(), given.end(), less)
                    : *std::max_element(given.begin(), given.end(), less);
}

std::optional<Quantity> read_value(Reading& reading) {
    skip_blanks(reading.scanner);
    if (skip_word(reading.scanner, "min(")) return read_choice(reading, true, 0);
    if (skip_word(reading.scanner, "max(")) return read_choice(reading, false, 0);
    if (skip_word(reading.scanner, "clamp(")) return read_choice(reading, false, 3);
    if (skip_word(reading.scanner, "calc(") || skip_word(reading.scanner, "(")) {
        if (++reading.depth > 32) return std::nullopt;
        const auto inner = read_sum(reading);
        skip_blanks(reading.scanner);
        if (!inner || !skip_word(reading.scanner, ")")) return std::nullopt;
        --reading.depth;
        return inner;
    }
    double number = 0.0;
    if (!read_number(reading.scanner, number)) return std::nullopt;
    return with_unit(number, read_unit(reading.scanner), reading.context, reading.axis);
}

std::optional<Quantity> read_product(Reading& reading) {
    auto left = read_value(reading);
    while (left) {
        skip_blanks(reading.scanner);
        const char sign = reading.scanner.peek();
        if (sign != '*' && sign != '/') break;
        ++reading.scanner.at;
        const auto right = read_value(reading);
        if (!right) return std::nullopt;
        if (sign == '/' ? !right->is_number || right->value == 0.0 : !left->is_number && !right->is_number)
            return std::nullopt;
        const double value = sign == '*' ? left->value * right->value : left->value / right->value;
        left = Quantity{value, left->is_number && right->is_number};
    }
    return left;
}

std::optional<Quantity> read_sum(Reading& reading) {
    auto left = read_product(reading);
    while (left) {
        skip_blanks(reading.scanner);
        const char sign = reading.scanner.peek();
        if (sign != '+' && sign != '-') break;
        ++reading.scanner.at;
        // The sign must stand alone, else "1px -2px" would be a sum too.
        if (!is_blank(reading.scanner.peek())) return std::nullopt;
        const auto right = read_product(reading);
        if (!right || right->is_number != left->is_number) return std::nullopt;
        left->value += sign == '+' ? right->value : -right->value;
    }
    return left;
}

} // namespace

std::optional<double> length_of(std::string_view text, const LengthContext& context, Axis axis, Unitless unitless) {
    text = trimmed(text);
    if (text.empty()) return std::nullopt;
    double number = 0.0;
    if (Scanner plain(text); read_number(plain, number) && plain.done()) // nearly always
        return number != 0.0 && unitless == Unitless::Refused ? std::nullopt : std::optional(number);
    Reading reading{Scanner(text), context, axis};
    const bool is_sum = is_letter(text.front());
    const auto quantity = read_value(reading);
    if (!quantity || !reading.scanner.done() || text.front() == '(') return std::nullopt;
    if (!std::isfinite(quantity->value)) return std::nullopt;
    const bool bare = quantity->is_number && quantity->value != 0.0;
    if (bare && (is_sum || unitless == Unitless::Refused)) return std::nullopt;
    return quantity->value;
}

std::optional<UnitClass> unit_class_of(std::string_view text) {
    Scanner scanner(trimmed(text));
    double number = 0.0;
    if (!read_number(scanner, number)) return std::nullopt;
    const std::string_view unit = read_unit(scanner);
    if (!scanner.done()) return std::nullopt;
    if (unit.empty()) return UnitClass::Number;
    if (unit == "%") return UnitClass::Percent;
    for (const Unit& known : kAbsoluteUnits)
        if (equal_ignoring_case(unit, known.name)) return known.unit_class;
    for (const FontUnit& known : kFontUnits)
        if (equal_ignoring_case(unit, known.name)) return UnitClass::Font;
    return std::nullopt;
}

bool hangs_on_window(std::string_view text) {
    static constexpr std::array<std::string_view, 11> kUnits{"vw",  "vh", "vi", "vb",  "vmin", "vmax",
                                                             "cap", "ic", "lh", "rlh", "rcap"};
    Scanner scanner(trimmed(text));
    double number = 0.0;
    if (!read_number(scanner, number)) return false;
    std::string_view unit = read_unit(scanner);
    if (unit.size() > 2 && to_lower(unit[1]) == 'v' && std::string_view("sldSLD").find(unit[0]) != unit.npos)
        unit.remove_prefix(1);
    for (const std::string_view known : kUnits)
        if (equal_ignoring_case(unit, known)) return scanner.done();
    return false;
}

bool hangs_on_font(std::string_view text) {
    text = trimmed(text);
    if (text.size() < 3) return false;
    const std::string_view unit = text.substr(text.size() - 2);
    return equal_ignoring_case(unit, "ex") || equal_ignoring_case(unit, "ch");
}

std::optional<double> font_size_of(std::string_view text, const LengthContext& context, Unitless unitless) {
    struct Named {
        std::string_view name;
        double px;
    };
    static constexpr std::array<Named, 9> kNamed{{{"xx-small", 9},
                                                  {"x-small", 10},
                                                  {"small", 13},
                                                  {"medium", 16},
                                                  {"large", 18},
                                                  {"x-large", 24},
                                                  {"xx-large", 32},
                                                  {"xxx-large", 48},
                                                  {"initial", 16}}};
    text = trimmed(text);
    for (const Named& named : kNamed)
        if (equal_ignoring_case(text, named.name)) return named.px;
    if (equal_ignoring_case(text, "larger")) return context.font_size * 1.2;
    if (equal_ignoring_case(text, "smaller")) return context.font_size / 1.2;
    LengthContext of_parent = context;
    of_parent.viewport_width = context.font_size; // a percentage is one of the parent's font size
    const auto size = length_of(text, of_parent, Axis::Horizontal, unitless);
    return size && *size >= 0.0 ? size : std::nullopt;
}

std::optional<double> angle_degrees_of(std::string_view text, Unitless unitless) {
    Scanner scanner(trimmed(text));
    double number = 0.0;
    if (!read_number(scanner, number)) return std::nullopt;
    const std::string_view unit = read_unit(scanner);
    if (!scanner.done()) return std::nullopt;
    if (equal_ignoring_case(unit, "deg")) return number;
    if (equal_ignoring_case(unit, "rad")) return number * 180.0 / std::numbers::pi;
    if (equal_ignoring_case(unit, "grad")) return number * 0.9;
    if (equal_ignoring_case(unit, "turn")) return number * 360.0;
    if (unit.empty() && (unitless == Unitless::Allowed || number == 0.0)) return number;
    return std::nullopt;
}

} // namespace padchart::svg
