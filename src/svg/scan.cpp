#include "svg/scan.hpp"

#include <array>
#include <bit>
#include <cfloat>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstring>

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

namespace {

bool read_any_number(Scanner& scanner, double& value) {
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

/// Up to eight digits at once. How many there are differs from number to number, so that a loop over them costs a
/// wrong guess of the processor each time: more than all the arithmetic.
struct Digits {
    std::uint64_t value = 0;
    std::uint32_t count = 0;
};

/// Requires: eight characters can be read. A count of 8 means that there may be more.
Digits read_eight(const char* at) {
    std::uint64_t bytes = 0;
    std::memcpy(&bytes, at, 8);
    bytes ^= 0x3030303030303030U; // a digit is now its value, anything else is above 9
    // The lowest mark is right: what adding carries over goes upwards only.
    const std::uint64_t others = ((bytes + 0x7676767676767676U) | bytes) & 0x8080808080808080U;
    const std::uint32_t count = others == 0 ? 8 : static_cast<std::uint32_t>(std::countr_zero(others)) / 8;
    if (count == 0) return {};
    bytes <<= 64 - 8 * count; // as if zeros stood before them
    bytes = bytes * 10 + (bytes >> 8U);
    constexpr std::uint64_t kPairs = 0x000000FF000000FFU;
    const std::uint64_t value =
        ((bytes & kPairs) * 0x000F424000000064U + (bytes >> 16U & kPairs) * 0x0000271000000001U) >> 32U;
    return {value, count};
}

/// The plain numbers of path data: a sign, at most seven digits on either side of the point, no exponent. Anything
/// else, faults too, is left to the general way.
bool read_plain_number(Scanner& scanner, double& value) {
    constexpr std::array<std::uint32_t, 8> kWhole{1, 10, 100, 1000, 10000, 100000, 1000000, 10000000};
    if (scanner.end - scanner.at < 20) return false; // a sign, eight characters, the point, eight, what follows
    const char* at = scanner.at;
    const bool negative = *at == '-';
    at += negative ? 1 : 0;
    const Digits whole = read_eight(at);
    at += whole.count;
    Digits fraction;
    if (*at == '.') {
        fraction = read_eight(at + 1);
        if (fraction.count == 0) return false;
        at += 1 + fraction.count;
    } else if (whole.count == 0) {
        return false;
    }
    if (whole.count == 8 || fraction.count == 8 || (*at | 0x20) == 'e') return false;
    // Both are exact, so that the quotient is the nearest double (Clinger's fast path).
    const double magnitude =
        static_cast<double>(whole.value * kWhole[fraction.count] + fraction.value) / kPowers[fraction.count];
    // No branch on the sign, which is as good as thrown dice.
    value = std::bit_cast<double>(std::bit_cast<std::uint64_t>(magnitude) | std::uint64_t{negative} << 63U);
    scanner.at = at;
    return true;
}

} // namespace

bool read_number(Scanner& scanner, double& value) {
    if constexpr (std::endian::native == std::endian::little)
        if (read_plain_number(scanner, value)) return true;
    return read_any_number(scanner, value);
}

bool read_flag(Scanner& scanner, bool& value) {
    const char c = scanner.peek();
    if (c != '0' && c != '1') return false;
    value = c == '1';
    ++scanner.at;
    return true;
}

} // namespace padchart::svg
