#include "patterns/numbering.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>

#include "geometry/affine.hpp"
#include "geometry/box.hpp"

namespace padchart::patterns {
namespace {

using geometry::Vec2;

std::string_view alphabet(RowLetters letters) {
    return letters == RowLetters::Standard ? "ABCDEFGHJKLMNPRTUVWY" : "ABCDEFGHIJKLMNOPQRSTUVWXYZ";
}

char upper(char c) {
    return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
}

int positive_modulo(int value, int by) {
    return (value % by + by) % by;
}

Vec2 middle(std::span<const Vec2> lands) {
    geometry::Box box;
    for (const Vec2 land : lands)
        box.add(land);
    return box.centre();
}

/// All lands in one line, as far as a hand traces straight.
bool in_one_line(std::span<const Vec2> lands, Vec2 first) {
    constexpr double kStraightness = 0.02;
    Vec2 far = first;
    for (const Vec2 land : lands)
        if (distance(first, land) > distance(first, far)) far = land;
    const Vec2 along = far - first;
    return std::all_of(lands.begin(), lands.end(), [&](Vec2 land) {
        return std::abs(cross(along, land - first)) <= kStraightness * dot(along, along);
    });
}

/// How far each land's bearing lies counter-clockwise after the first one's, degrees; in one line, how far away it is.
std::vector<double> way_round(std::span<const Vec2> lands, std::size_t first) {
    const bool line = in_one_line(lands, lands[first]);
    const Vec2 centre = middle(lands);
    const double start = geometry::bearing(lands[first] - centre).degrees();
    std::vector<double> way(lands.size(), 0.0);
    for (std::size_t i = 0; i < lands.size(); ++i) {
        if (i == first) continue;
        way[i] = line ? distance(lands[i], lands[first])
                      : Angle::degrees(geometry::bearing(lands[i] - centre).degrees() - start).wrapped().degrees();
    }
    return way;
}

} // namespace

std::string row_name(int row, RowLetters letters) {
    assert(row >= 1 && row <= 400);
    const std::string_view all = alphabet(letters);
    const int n = static_cast<int>(all.size());
    const auto letter = [&](int index) { return std::string(1, all[static_cast<std::size_t>(index)]); };
    if (row <= n) return letter(row - 1);
    return letter((row - 1) / n - 1) + letter((row - 1) % n);
}

std::optional<int> row_of(std::string_view name, RowLetters letters) {
    if (name.empty() || name.size() > 2) return std::nullopt;
    const std::string_view all = alphabet(letters);
    int row = 0;
    for (const char c : name) {
        const std::size_t at = all.find(upper(c));
        if (at == std::string_view::npos) return std::nullopt;
        row = row * static_cast<int>(all.size()) + static_cast<int>(at) + 1;
    }
    return row;
}

std::string ball_name(GridPlace place, RowLetters letters) {
    assert(place.column >= 1);
    return row_name(place.row, letters) + std::to_string(place.column);
}

std::optional<GridPlace> ball_place(std::string_view name, RowLetters letters) {
    const std::size_t digits = name.find_first_of("0123456789");
    if (digits == std::string_view::npos || name.size() - digits > 3 || name[digits] == '0') return std::nullopt;
    const std::optional<int> row = row_of(name.substr(0, digits), letters);
    if (!row) return std::nullopt;
    int column = 0;
    for (const char c : name.substr(digits)) {
        if (c < '0' || c > '9') return std::nullopt;
        column = column * 10 + (c - '0');
    }
    return GridPlace{*row, column};
}

GridPlace turned_place(GridPlace place, int rows, int columns, int quarter_turns) {
    assert(place.row >= 1 && place.row <= rows && place.column >= 1 && place.column <= columns);
    for (int turn = 0; turn < positive_modulo(quarter_turns, 4); ++turn) {
        // Counter-clockwise: the top row becomes the left column, read upwards.
        place = {columns + 1 - place.column, place.row};
        std::swap(rows, columns);
    }
    return place;
}

int opposite_pin(int pin, int pins) {
    assert(pins % 2 == 0 && pin >= 1 && pin <= pins);
    return pins + 1 - pin;
}

Result<int> turned_pin(int pin, int pins, int quarter_turns) {
    assert(pin >= 1 && pin <= pins);
    const int turns = positive_modulo(quarter_turns, 4);
    if ((turns * pins) % 4 != 0)
        return Error{"A part with " + std::to_string(pins) + " pins has no land where pin " + std::to_string(pin) +
                         " would lie after " + std::to_string(turns * 90) + " degrees.",
                     ""};
    return positive_modulo(pin - 1 + turns * pins / 4, pins) + 1;
}

std::vector<int> perimeter_numbers(std::span<const Vec2> lands, std::size_t first) {
    assert(first < lands.size());
    const std::vector<double> way = way_round(lands, first);
    std::vector<std::size_t> order(lands.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::swap(order[0], order[first]);
    std::stable_sort(order.begin() + 1, order.end(), [&](std::size_t a, std::size_t b) { return way[a] < way[b]; });
    std::vector<int> numbers(lands.size());
    for (std::size_t i = 0; i < order.size(); ++i)
        numbers[order[i]] = static_cast<int>(i) + 1;
    return numbers;
}

double numbering_area(std::span<const Vec2> lands_in_pin_order) {
    double twice = 0.0;
    for (std::size_t i = 0; i < lands_in_pin_order.size(); ++i)
        twice -= cross(lands_in_pin_order[i], lands_in_pin_order[(i + 1) % lands_in_pin_order.size()]);
    return twice / 2;
}

NumberingSense numbering_sense(std::span<const Vec2> lands_in_pin_order) {
    if (lands_in_pin_order.size() < 3) return NumberingSense::Unclear;
    // The line of a zigzag or of a single row encloses next to nothing of its box.
    constexpr double kLeastShare = 0.2;
    geometry::Box box;
    for (const Vec2 land : lands_in_pin_order)
        box.add(land);
    const double area = numbering_area(lands_in_pin_order);
    if (std::abs(area) < kLeastShare * box.width() * box.height() || area == 0.0) return NumberingSense::Unclear;
    return area > 0.0 ? NumberingSense::CounterClockwise : NumberingSense::Clockwise;
}

bool is_mirrored(std::span<const Vec2> lands_in_pin_order) {
    return numbering_sense(lands_in_pin_order) == NumberingSense::Clockwise;
}

int connector_pin(ConnectorScheme scheme, int row, int place, int per_row) {
    assert((row == 0 || row == 1) && place >= 0 && place < per_row);
    if (scheme == ConnectorScheme::Zigzag) return 2 * place + row + 1;
    if (row == 0) return place + 1;
    return scheme == ConnectorScheme::CounterClockwise ? 2 * per_row - place : per_row + place + 1;
}

} // namespace padchart::patterns
