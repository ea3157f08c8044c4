#include "svg/scan.hpp"

#include <array>
#include <cfloat>
#include <charconv>
#include <cmath>
#include <cstdint>

namespace padchart::svg {
namespace {

// All exactly representable, so that mantissa times or by power is rounded once (Clinger's fast path).
constexpr std::array<double, 23> kPowers{1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                         1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
constexpr std::uint64_t kExactMantissa = std::uint64_t{1} << 53;

struct Parts {
    std::uint64_t mantissa = 0;
    int exponent = 0;
    int digits = 0; ///< significant ones read into the mantissa
};

const char* read_digits(const char* at, const char* end, Parts& parts, int exponent_step) {
    for (; at != end && is_digit(*at); ++at) {
        parts.mantissa = parts.mantissa * 10 + static_cast<std::uint64_t>(*at - '0');
        if (parts.mantissa != 0) ++parts.digits;
        parts.exponent += exponent_step;
    }
    return at;
}

/// The exponent after `e`, or nullptr when what follows is no exponent ("em", "ex") but a unit.
const char* read_exponent(const char* at, const char* end, int& exponent) {
    const bool negative = at != end && *at == '-';
    if (at != end && (*at == '-' || *at == '+')) ++at;
    if (at == end || !is_digit(*at)) return nullptr;
    int value = 0;
    for (; at != end && is_digit(*at); ++at)
        if (value < 100000) value = value * 10 + (*at - '0');
    exponent += negative ? -value : value;
    return at;
}

double slow_value(const char* begin, const char* end, const Parts& parts) {
    if (*begin == '+') ++begin;
    double value = 0.0;
    const auto [ptr, failure] = std::from_chars(begin, end, value);
    if (failure == std::errc{}) return value;
    // Out of range: too small counts as 0, too large is refused by the caller.
    return parts.exponent + parts.digits < 0 ? 0.0 : HUGE_VAL;
}

} // namespace

void skip_blanks(Scanner& scanner) {
    while (scanner.at != scanner.end && is_blank(*scanner.at))
        ++scanner.at;
}

bool skip_separator(Scanner& scanner) {
    skip_blanks(scanner);
    if (scanner.peek() != ',') return false;
    ++scanner.at;
    skip_blanks(scanner);
    return true;
}

bool read_number(Scanner& scanner, double& value) {
    const char* const begin = scanner.at;
    const char* at = begin;
    const bool negative = at != scanner.end && *at == '-';
    if (at != scanner.end && (*at == '-' || *at == '+')) ++at;
    Parts parts;
    const char* const whole = at;
    at = read_digits(at, scanner.end, parts, 0);
    const bool has_whole = at != whole;
    if (at != scanner.end && *at == '.') {
        const char* const fraction = at + 1;
        at = read_digits(fraction, scanner.end, parts, -1);
        if (at == fraction) return false;
    } else if (!has_whole) {
        return false;
    }
    if (at != scanner.end && (*at == 'e' || *at == 'E'))
        if (const char* after = read_exponent(at + 1, scanner.end, parts.exponent)) at = after;
    double magnitude = static_cast<double>(parts.mantissa);
    if (parts.digits <= 18 && parts.mantissa <= kExactMantissa && parts.exponent >= -22 && parts.exponent <= 22)
        magnitude = parts.exponent < 0 ? magnitude / kPowers[static_cast<std::size_t>(-parts.exponent)]
                                       : magnitude * kPowers[static_cast<std::size_t>(parts.exponent)];
    else
        magnitude = std::abs(slow_value(begin, at, parts));
    if (!(magnitude <= static_cast<double>(FLT_MAX))) return false;
    value = negative ? -magnitude : magnitude;
    scanner.at = at;
    return true;
}

bool read_flag(Scanner& scanner, bool& value) {
    const char c = scanner.peek();
    if (c != '0' && c != '1') return false;
    value = c == '1';
    ++scanner.at;
    return true;
}

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && is_blank(text.front()))
        text.remove_prefix(1);
    while (!text.empty() && is_blank(text.back()))
        text.remove_suffix(1);
    return text;
}

bool equal_ignoring_case(std::string_view a, std::string_view b) {
    if (a.size() != b.size()) return false;
    for (std::size_t i = 0; i < a.size(); ++i)
        if (to_lower(a[i]) != to_lower(b[i])) return false;
    return true;
}

} // namespace padchart::svg
