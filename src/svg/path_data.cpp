#include "svg/path_data.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "svg/scan.hpp"

namespace padchart::svg {
namespace {

constexpr double kFullTurn = 2.0 * std::numbers::pi;

double angle_between(Vec2 a, Vec2 b) {
    return std::atan2(geometry::cross(a, b), geometry::dot(a, b));
}

class PathReader {
public:
    PathReader(std::string_view text, Outline& outline) : begin_(text.data()), scanner_(text), outline_(outline) {}

    std::optional<PathFault> run() {
        skip_blanks(scanner_);
        while (!scanner_.done()) {
            const char letter = *scanner_.at;
            if (!is_command(letter)) return fault("a command letter was expected");
            if (!started_ && letter != 'M' && letter != 'm') return fault("a path must start with M or m");
            ++scanner_.at;
            if (!read_command(letter)) return fault(message_);
        }
        return std::nullopt;
    }

private:
    static bool is_command(char c) {
        switch (to_lower(c)) {
        case 'm':
        case 'z':
        case 'l':
        case 'h':
        case 'v':
        case 'c':
        case 's':
        case 'q':
        case 't':
        case 'a': return true;
        default: return false;
        }
    }

    [[nodiscard]] PathFault fault(const char* message) const {
        return {static_cast<std::size_t>(scanner_.at - begin_), message};
    }

    bool read_command(char letter) {
        skip_blanks(scanner_);
        const bool relative = letter >= 'a';
        char command = to_lower(letter);
        if (command == 'z') {
            close();
            return true;
        }
        do {
            if (!read_segment(command, relative)) return false;
            if (command == 'm') command = 'l';
        } while (next_is_number());
        return true;
    }

    bool next_is_number() {
        const char c = scanner_.peek();
        return is_digit(c) || c == '.' || c == '-' || c == '+' || c == ',';
    }

    bool read_segment(char command, bool relative) {
        const Vec2 base = relative ? current_ : Vec2{};
        switch (command) {
        case 'm': return read_move(base);
        case 'l': return read_line(base);
        case 'h': return read_along(base.x, true);
        case 'v': return read_along(base.y, false);
        case 'c': return read_cubic(base);
        case 's': return read_smooth_cubic(base);
        case 'q': return read_quadratic(base);
        case 't': return read_smooth_quadratic(base);
        default: return read_arc(base);
        }
    }

    bool number(double& value) {
        if (!read_number(scanner_, value)) {
            message_ = "a number was expected";
            return false;
        }
        skip_separator(scanner_);
        return true;
    }

    bool point(Vec2 base, Vec2& value) {
        if (!number(value.x) || !number(value.y)) return false;
        value += base;
        return true;
    }

    bool flag(bool& value) {
        if (!read_flag(scanner_, value)) {
            message_ = "an arc flag (0 or 1) was expected";
            return false;
        }
        skip_separator(scanner_);
        return true;
    }

    /// A segment that follows z starts a new subpath where the closed one started.
    void resume() {
        if (closed_) outline_.move_to(start_);
        closed_ = false;
    }

    void arrive(Vec2 to) { current_ = cubic_control_ = quadratic_control_ = to; }

    bool read_move(Vec2 base) {
        Vec2 to;
        if (!point(base, to)) return false;
        started_ = true;
        closed_ = false;
        start_ = to;
        outline_.move_to(to);
        arrive(to);
        return true;
    }

    bool read_line(Vec2 base) {
        Vec2 to;
        if (!point(base, to)) return false;
        line(to);
        return true;
    }

    void line(Vec2 to) {
        resume();
        outline_.line_to(to);
        arrive(to);
    }

    bool read_along(double base, bool horizontal) {
        double to = 0.0;
        if (!number(to)) return false;
        to += base;
        line(horizontal ? Vec2{to, current_.y} : Vec2{current_.x, to});
        return true;
    }

    void cubic(Vec2 a, Vec2 b, Vec2 to) {
        resume();
        outline_.cubic_to(a, b, to);
        arrive(to);
        cubic_control_ = b;
    }

    bool read_cubic(Vec2 base) {
        Vec2 a;
        Vec2 b;
        Vec2 to;
        if (!point(base, a) || !point(base, b) || !point(base, to)) return false;
        cubic(a, b, to);
        return true;
    }

    bool read_smooth_cubic(Vec2 base) {
        Vec2 b;
        Vec2 to;
        if (!point(base, b) || !point(base, to)) return false;
        cubic(current_ * 2.0 - cubic_control_, b, to);
        return true;
    }

    void quadratic(Vec2 control, Vec2 to) {
        resume();
        outline_.quadratic_to(current_, control, to);
        arrive(to);
        quadratic_control_ = control;
    }

    bool read_quadratic(Vec2 base) {
        Vec2 control;
        Vec2 to;
        if (!point(base, control) || !point(base, to)) return false;
        quadratic(control, to);
        return true;
    }

    bool read_smooth_quadratic(Vec2 base) {
        Vec2 to;
        if (!point(base, to)) return false;
        quadratic(current_ * 2.0 - quadratic_control_, to);
        return true;
    }

    bool read_arc(Vec2 base) {
        Vec2 radii;
        double turn = 0.0;
        bool large = false;
        bool sweep = false;
        Vec2 to;
        if (!number(radii.x) || !number(radii.y) || !number(turn)) return false;
        if (!flag(large) || !flag(sweep) || !point(base, to)) return false;
        resume();
        add_arc(outline_, current_, radii, turn, large, sweep, to);
        arrive(to);
        return true;
    }

    void close() {
        if (!closed_) outline_.close();
        closed_ = true;
        arrive(start_);
    }

    const char* begin_;
    Scanner scanner_;
    Outline& outline_;
    const char* message_ = "";
    bool started_ = false;
    bool closed_ = false;
    Vec2 start_;
    Vec2 current_;
    Vec2 cubic_control_;     ///< last control point when the last segment was a cubic, else the current point
    Vec2 quadratic_control_; ///< the same for quadratics
};

} // namespace

std::optional<PathFault> read_path_data(std::string_view text, Outline& outline) {
    return PathReader(text, outline).run();
}

void add_arc(Outline& outline, Vec2 from, Vec2 radii, double turn_deg, bool large, bool sweep, Vec2 to) {
    if (from == to) {
        // Nothing to draw, but the subpath exists.
        outline.line_to(to);
        return;
    }
    double rx = std::abs(radii.x);
    double ry = std::abs(radii.y);
    if (rx == 0.0 || ry == 0.0) {
        outline.line_to(to);
        return;
    }
    // Names as in appendix F.6.5 of SVG 1.1.
    const double phi = std::fmod(turn_deg, 360.0) * std::numbers::pi / 180.0;
    const double c = std::cos(phi);
    const double s = std::sin(phi);
    const Vec2 half = (from - to) / 2.0;
    const Vec2 unit{(c * half.x + s * half.y) / rx, (-s * half.x + c * half.y) / ry};
    const double lambda = geometry::dot(unit, unit);
    const double grow = lambda > 1.0 ? std::sqrt(lambda) : 1.0;
    rx *= grow;
    ry *= grow;
    // In the frame where the ellipse is the unit circle, the chord is 2 * p long and the centre lies on its bisector.
    const Vec2 p = unit / grow;
    const double pp = std::min(1.0, geometry::dot(p, p));
    const double side = (large == sweep ? -1.0 : 1.0) * std::sqrt(std::max(0.0, 1.0 / pp - 1.0));
    const Vec2 centre_unit{side * p.y, -side * p.x};
    const Vec2 u{c * rx, s * rx};
    const Vec2 v{-s * ry, c * ry};
    const Vec2 first = p - centre_unit;
    const Vec2 last = -p - centre_unit;
    EllipseArc arc;
    arc.u = u;
    arc.v = v;
    arc.centre = (from + to) / 2.0 + u * centre_unit.x + v * centre_unit.y;
    arc.from = std::atan2(first.y, first.x);
    arc.sweep = angle_between(first, last);
    if (sweep && arc.sweep < 0.0) arc.sweep += kFullTurn;
    if (!sweep && arc.sweep > 0.0) arc.sweep -= kFullTurn;
    if (!geometry::is_finite(arc.centre) || !std::isfinite(arc.sweep)) {
        outline.line_to(to);
        return;
    }
    outline.arc_to(arc, to);
}

} // namespace padchart::svg
