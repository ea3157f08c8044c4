#include "svg/transforms.hpp"

#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "svg/scan.hpp"

namespace padchart::svg {
namespace {

using geometry::Affine;
using geometry::Vec2;

double tangent_of_degrees(double degrees) {
    return std::tan(degrees * std::numbers::pi / 180.0);
}

/// SVG and CSS turn clockwise on the screen.
Affine turned(double degrees) {
    return Affine::rotation(Angle::degrees(-degrees));
}

std::string_view read_name(Scanner& scanner) {
    const char* const begin = scanner.at;
    while (!scanner.done() && (is_letter(*scanner.at) || is_digit(*scanner.at)))
        ++scanner.at;
    return {begin, static_cast<std::size_t>(scanner.at - begin)};
}

struct Arguments {
    std::array<double, 6> values{};
    std::size_t count = 0;
};

bool read_plain_arguments(Scanner& scanner, Arguments& arguments) {
    skip_blanks(scanner);
    while (scanner.peek() != ')') {
        if (arguments.count == arguments.values.size()) return false;
        if (!read_number(scanner, arguments.values[arguments.count])) return false;
        ++arguments.count;
        if (skip_separator(scanner) && scanner.peek() == ')') return false;
    }
    ++scanner.at;
    return true;
}

std::optional<Affine> plain_function(std::string_view name, const Arguments& given) {
    const auto& v = given.values;
    const std::size_t n = given.count;
    if (name == "matrix" && n == 6) return Affine{v[0], v[1], v[2], v[3], v[4], v[5]};
    if (name == "translate" && (n == 1 || n == 2)) return Affine::translation({v[0], v[1]});
    if (name == "scale" && (n == 1 || n == 2)) return Affine::scaling(v[0], n == 1 ? v[0] : v[1]);
    if (name == "rotate" && n == 1) return turned(v[0]);
    if (name == "rotate" && n == 3)
        return Affine::translation({v[1], v[2]}) * turned(v[0]) * Affine::translation({-v[1], -v[2]});
    if (name == "skewX" && n == 1) return Affine{1, 0, tangent_of_degrees(v[0]), 1, 0, 0};
    if (name == "skewY" && n == 1) return Affine{1, tangent_of_degrees(v[0]), 0, 1, 0, 0};
    return std::nullopt;
}

using Words = std::vector<std::string_view>;

/// What lies between the parentheses, split at commas outside of inner parentheses.
std::optional<Words> read_css_arguments(Scanner& scanner) {
    Words words;
    int depth = 0;
    const char* begin = scanner.at;
    const auto word = [&] { return trimmed({begin, static_cast<std::size_t>(scanner.at - begin)}); };
    for (; !scanner.done(); ++scanner.at) {
        if (*scanner.at == '(') ++depth;
        const bool ends = *scanner.at == ')' && depth-- == 0;
        if (!ends && !(*scanner.at == ',' && depth == 0)) continue;
        words.push_back(word());
        begin = scanner.at + 1;
        if (!ends) continue;
        ++scanner.at;
        return words;
    }
    if (depth != 0) return std::nullopt;
    words.push_back(word()); // the end of the text closes what is open (CSS Syntax 3, section 5.4.9)
    return words;
}

std::optional<double> plain_number(std::string_view text) {
    Scanner scanner(trimmed(text));
    double value = 0.0;
    if (!read_number(scanner, value)) return std::nullopt;
    if (scanner.peek() == '%') {
        ++scanner.at;
        value /= 100.0;
    }
    return scanner.done() ? std::optional(value) : std::nullopt;
}

std::optional<double> css_length(std::string_view text, const LengthContext& context, Axis axis) {
    return length_of(text, context, axis, Unitless::Refused);
}

std::optional<Affine> translation_of(const std::optional<double>& x, const std::optional<double>& y) {
    if (!x || !y) return std::nullopt;
    return Affine::translation({*x, *y});
}

std::optional<Affine> css_move(std::string_view name, const Words& words, const LengthContext& context) {
    const std::size_t n = words.size();
    if (equal_ignoring_case(name, "translatex") && n == 1)
        return translation_of(css_length(words[0], context, Axis::Horizontal), 0.0);
    if (equal_ignoring_case(name, "translatey") && n == 1)
        return translation_of(0.0, css_length(words[0], context, Axis::Vertical));
    if (equal_ignoring_case(name, "translatez") && n == 1) // out of the page, which nothing here sees
        return translation_of(0.0, css_length(words[0], context, Axis::Horizontal) ? std::optional(0.0) : std::nullopt);
    const bool flat = equal_ignoring_case(name, "translate") && (n == 1 || n == 2);
    if (!flat && !(equal_ignoring_case(name, "translate3d") && n == 3)) return std::nullopt;
    return translation_of(css_length(words[0], context, Axis::Horizontal),
                          n == 1 ? 0.0 : css_length(words[1], context, Axis::Vertical));
}

/// What a matrix of four columns does to the page, if it leaves it flat.
std::optional<Affine> flat_matrix(const std::array<double, 16>& v) {
    static constexpr std::array<std::size_t, 9> kZeros{2, 3, 6, 7, 8, 9, 11, 14, 15};
    for (const std::size_t i : kZeros)
        if (v[i] != (i == 15 ? 1.0 : 0.0)) return std::nullopt;
    return Affine{v[0], v[1], v[4], v[5], v[12], v[13]};
}

/// A turn about the axis that stands on the page.
std::optional<Affine> css_turn_in_space(const Words& words) {
    const auto x = plain_number(words[0]);
    const auto y = plain_number(words[1]);
    const auto z = plain_number(words[2]);
    const auto angle = angle_degrees_of(words[3], Unitless::Refused);
    if (!x || !y || !z || !angle || *x != 0.0 || *y != 0.0 || *z == 0.0) return std::nullopt;
    return turned(*z > 0.0 ? *angle : -*angle);
}

std::optional<Affine> css_stretch(std::string_view name, const Words& words) {
    std::array<double, 16> v{};
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i == v.size()) return std::nullopt;
        const auto number = plain_number(words[i]);
        if (!number) return std::nullopt;
        v[i] = *number;
    }
    const std::size_t n = words.size();
    if (equal_ignoring_case(name, "matrix") && n == 6) return Affine{v[0], v[1], v[2], v[3], v[4], v[5]};
    if (equal_ignoring_case(name, "scale") && (n == 1 || n == 2)) return Affine::scaling(v[0], n == 1 ? v[0] : v[1]);
    if (equal_ignoring_case(name, "scalex") && n == 1) return Affine::scaling(v[0], 1.0);
    if (equal_ignoring_case(name, "scaley") && n == 1) return Affine::scaling(1.0, v[0]);
    if (equal_ignoring_case(name, "matrix3d") && n == 16) return flat_matrix(v);
    if (equal_ignoring_case(name, "scale3d") && n == 3) return Affine::scaling(v[0], v[1]);
    return std::nullopt;
}

std::optional<Affine> css_turn(std::string_view name, const Words& words) {
    if (equal_ignoring_case(name, "rotate3d") && words.size() == 4) return css_turn_in_space(words);
    if (words.empty() || words.size() > 2) return std::nullopt;
    std::array<double, 2> v{};
    for (std::size_t i = 0; i < words.size(); ++i) {
        const auto angle = angle_degrees_of(words[i], Unitless::Refused);
        if (!angle) return std::nullopt;
        v[i] = *angle;
    }
    const bool single = words.size() == 1;
    if ((equal_ignoring_case(name, "rotate") || equal_ignoring_case(name, "rotatez")) && single) return turned(v[0]);
    if (equal_ignoring_case(name, "skewx") && single) return Affine{1, 0, tangent_of_degrees(v[0]), 1, 0, 0};
    if (equal_ignoring_case(name, "skewy") && single) return Affine{1, tangent_of_degrees(v[0]), 0, 1, 0, 0};
    if (equal_ignoring_case(name, "skew"))
        return Affine{1, tangent_of_degrees(v[1]), tangent_of_degrees(v[0]), 1, 0, 0};
    return std::nullopt;
}

std::optional<Affine> css_function(std::string_view name, const Words& words, const LengthContext& context) {
    if (const auto moved = css_move(name, words, context)) return moved;
    if (const auto turn = css_turn(name, words)) return turn;
    return css_stretch(name, words);
}

Words split_at_blanks(std::string_view text) {
    Words words;
    Scanner scanner(text);
    for (skip_blanks(scanner); !scanner.done(); skip_blanks(scanner)) {
        const char* const begin = scanner.at;
        int depth = 0;
        while (!scanner.done() && (depth > 0 || !is_blank(*scanner.at))) {
            if (*scanner.at == '(') ++depth;
            if (*scanner.at == ')') --depth;
            ++scanner.at;
        }
        words.emplace_back(begin, static_cast<std::size_t>(scanner.at - begin));
    }
    return words;
}

/// left/top 0, center 0.5, right/bottom 1; which axis it can stand for.
struct Keyword {
    std::string_view name;
    double part;
    bool horizontal;
    bool vertical;
};
constexpr std::array<Keyword, 5> kKeywords{{{"left", 0.0, true, false},
                                            {"right", 1.0, true, false},
                                            {"top", 0.0, false, true},
                                            {"bottom", 1.0, false, true},
                                            {"center", 0.5, true, true}}};

const Keyword* keyword_of(std::string_view text) {
    for (const Keyword& keyword : kKeywords)
        if (equal_ignoring_case(text, keyword.name)) return &keyword;
    return nullptr;
}

} // namespace

std::optional<Affine> transform_attribute_of(std::string_view text) {
    Affine all;
    Scanner scanner(text);
    skip_blanks(scanner);
    bool comma = false;
    while (!scanner.done()) {
        const std::string_view name = read_name(scanner);
        skip_blanks(scanner);
        if (scanner.peek() != '(') return std::nullopt;
        ++scanner.at;
        Arguments arguments;
        if (!read_plain_arguments(scanner, arguments)) return std::nullopt;
        const auto next = plain_function(name, arguments);
        if (!next) return std::nullopt;
        all = all * *next;
        comma = skip_separator(scanner);
    }
    if (comma) return std::nullopt;
    return all;
}

std::optional<Affine> css_transform_of(std::string_view text, const LengthContext& context) {
    Affine all;
    Scanner scanner(trimmed(text));
    if (scanner.done()) return std::nullopt;
    if (equal_ignoring_case(scanner.rest(), "none")) return all;
    while (!scanner.done()) {
        const std::string_view name = read_name(scanner);
        if (scanner.peek() != '(') return std::nullopt;
        ++scanner.at;
        const auto words = read_css_arguments(scanner);
        if (!words) return std::nullopt;
        const auto next = css_function(name, *words, context);
        if (!next) return std::nullopt;
        all = all * *next;
        skip_blanks(scanner);
    }
    return all;
}

std::optional<Affine> css_translate_of(std::string_view text, const LengthContext& context) {
    const Words words = split_at_blanks(text);
    if (words.size() == 1 && equal_ignoring_case(words[0], "none")) return Affine{};
    if (words.empty() || words.size() > 3) return std::nullopt;
    return translation_of(css_length(words[0], context, Axis::Horizontal),
                          words.size() == 1 ? 0.0 : css_length(words[1], context, Axis::Vertical));
}

std::optional<Affine> css_rotate_of(std::string_view text) {
    const Words words = split_at_blanks(text);
    if (words.size() == 1 && equal_ignoring_case(words[0], "none")) return Affine{};
    if (words.empty()) return std::nullopt;
    // "z 45deg" names the axis that stands on the page; the others leave the plane.
    if (words.size() == 2 && !equal_ignoring_case(words[0], "z")) return std::nullopt;
    if (words.size() > 2) return std::nullopt;
    const auto angle = angle_degrees_of(words.back(), Unitless::Refused);
    if (!angle) return std::nullopt;
    return turned(*angle);
}

std::optional<Affine> css_scale_of(std::string_view text) {
    const Words words = split_at_blanks(text);
    if (words.size() == 1 && equal_ignoring_case(words[0], "none")) return Affine{};
    if (words.empty() || words.size() > 3) return std::nullopt;
    const auto x = plain_number(words[0]);
    const auto y = words.size() == 1 ? x : plain_number(words[1]);
    if (!x || !y) return std::nullopt;
    return Affine::scaling(*x, *y);
}

std::optional<Vec2> transform_origin_of(std::string_view text, const LengthContext& context, Vec2 box_min,
                                        Vec2 box_size, Unitless unitless) {
    Words words = split_at_blanks(text);
    if (words.empty() || words.size() > 3) return std::nullopt;
    if (words.size() == 1) words.push_back("center");
    const Keyword* first = keyword_of(words[0]);
    const Keyword* second = keyword_of(words[1]);
    if ((first != nullptr && !first->horizontal) || (second != nullptr && !second->vertical)) {
        // "top", "top left": the vertical one may come first.
        std::swap(words[0], words[1]);
        std::swap(first, second);
        if ((first != nullptr && !first->horizontal) || (second != nullptr && !second->vertical)) return std::nullopt;
    }
    LengthContext in_box = context;
    in_box.viewport_width = box_size.x;
    in_box.viewport_height = box_size.y;
    const auto x = first != nullptr ? std::optional(first->part * box_size.x)
                                    : length_of(words[0], in_box, Axis::Horizontal, unitless);
    const auto y = second != nullptr ? std::optional(second->part * box_size.y)
                                     : length_of(words[1], in_box, Axis::Vertical, unitless);
    if (!x || !y) return std::nullopt;
    return box_min + Vec2{*x, *y};
}

bool collapses(const Affine& map) {
    constexpr double kRounding = 4 * std::numeric_limits<double>::epsilon();
    return std::abs(map.determinant()) <= kRounding * (std::abs(map.a * map.d) + std::abs(map.b * map.c));
}

} // namespace padchart::svg
