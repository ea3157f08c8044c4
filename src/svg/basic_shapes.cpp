#include "svg/basic_shapes.hpp"

#include <algorithm>
#include <numbers>

#include "svg/scan.hpp"

namespace padchart::svg {

void add_rect(Outline& outline, const RectSizes& sizes) {
    const auto [x, y, w, h, given_rx, given_ry] = sizes;
    const double rx = std::min(given_rx.value_or(given_ry.value_or(0.0)), w / 2);
    const double ry = std::min(given_ry.value_or(given_rx.value_or(0.0)), h / 2);
    if (rx <= 0.0 || ry <= 0.0) {
        outline.move_to({x, y});
        outline.line_to({x + w, y});
        outline.line_to({x + w, y + h});
        outline.line_to({x, y + h});
        outline.close();
        return;
    }
    constexpr double kQuarter = std::numbers::pi / 2;
    const auto corner = [&](double cx, double cy, double quarter, Vec2 to) {
        outline.arc_to({{cx, cy}, {rx, 0}, {0, ry}, quarter * kQuarter, kQuarter}, to);
    };
    outline.move_to({x + rx, y});
    outline.line_to({x + w - rx, y});
    corner(x + w - rx, y + ry, -1, {x + w, y + ry});
    outline.line_to({x + w, y + h - ry});
    corner(x + w - rx, y + h - ry, 0, {x + w - rx, y + h});
    outline.line_to({x + rx, y + h});
    corner(x + rx, y + h - ry, 1, {x, y + h - ry});
    outline.line_to({x, y + ry});
    corner(x + rx, y + ry, 2, {x + rx, y});
    outline.close();
}

void add_ellipse(Outline& outline, Vec2 centre, double rx, double ry) {
    const Vec2 start{centre.x + rx, centre.y};
    outline.move_to(start);
    outline.arc_to({centre, {rx, 0}, {0, ry}, 0.0, 2.0 * std::numbers::pi}, start);
    outline.close();
}

void add_line(Outline& outline, Vec2 from, Vec2 to) {
    outline.move_to(from);
    outline.line_to(to);
}

std::optional<PointsFault> add_points(Outline& outline, std::string_view text, bool close) {
    Scanner scanner(text);
    skip_blanks(scanner);
    bool first = true;
    while (!scanner.done()) {
        Vec2 point;
        if (!read_number(scanner, point.x)) {
            outline.clear();
            return PointsFault{true, "is no list of numbers"};
        }
        skip_separator(scanner);
        if (scanner.done()) break;
        if (!read_number(scanner, point.y)) {
            outline.clear();
            return PointsFault{true, "is no list of numbers"};
        }
        skip_separator(scanner);
        if (first)
            outline.move_to(point);
        else
            outline.line_to(point);
        first = false;
        if (scanner.done()) {
            if (close) outline.close();
            return std::nullopt;
        }
    }
    if (close && !first) outline.close();
    if (trimmed(text).empty()) return std::nullopt;
    return PointsFault{false, "holds an odd count of numbers: the last is left out"};
}

} // namespace padchart::svg
