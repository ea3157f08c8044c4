#include "svg/flatten.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>

namespace padchart::svg {
namespace {

using geometry::Affine;
using geometry::Box;

constexpr double kMaxSteps = 1 << 18; ///< pieces of one curve
constexpr double kFewSteps = 8.0;

/// Plain root instead of hypot, which guards against overflow at ten times the cost: coordinates are single precision.
double length_of(Vec2 v) {
    return std::sqrt(dot(v, v));
}

struct Node {
    double at; // in 0..1
    double weight;
};

// Gauss-Legendre rules on 0..1 (Abramowitz and Stegun, table 25.4, halved and shifted).
constexpr std::array<Node, 5> kFivePoints{{{0.046910077030668004, 0.11846344252809454},
                                           {0.23076534494715845, 0.23931433524968324},
                                           {0.5, 0.28444444444444444},
                                           {0.76923465505284155, 0.23931433524968324},
                                           {0.95308992296933200, 0.11846344252809454}}};
constexpr std::array<Node, 3> kThreePoints{{{0.11270166537925831, 0.27777777777777778},
                                            {0.5, 0.44444444444444444},
                                            {0.88729833462074169, 0.27777777777777778}}};

struct Cubic {
    Vec2 a, b, c, d;
};

Vec2 point_at(const Cubic& q, double t) {
    const Vec2 ab = lerp(q.a, q.b, t);
    const Vec2 bc = lerp(q.b, q.c, t);
    const Vec2 cd = lerp(q.c, q.d, t);
    return lerp(lerp(ab, bc, t), lerp(bc, cd, t), t);
}

double bound_of(const Cubic& q) {
    const Vec2 first = q.a - q.b * 2.0 + q.c;
    const Vec2 second = q.b - q.c * 2.0 + q.d;
    return 0.75 * std::sqrt(std::max(dot(first, first), dot(second, second)));
}

/// The same cubic as a sum of powers: a + t (k1 + t (k2 + t k3)).
struct Powers {
    Vec2 a, k1, k2, k3;

    explicit Powers(const Cubic& q)
        : a(q.a), k1((q.b - q.a) * 3.0), k2((q.a - q.b * 2.0 + q.c) * 3.0), k3(q.d - q.a + (q.b - q.c) * 3.0) {}

    [[nodiscard]] Vec2 at(double t) const { return a + (k1 + (k2 + k3 * t) * t) * t; }
    [[nodiscard]] double speed(double t) const { return length_of(k1 + (k2 * 2.0 + k3 * (3.0 * t)) * t); }
};

template <std::size_t N>
double length_of_piece(const Powers& cubic, double from, double step, const std::array<Node, N>& rule) {
    double sum = 0.0;
    for (const Node& node : rule)
        sum += node.weight * cubic.speed(from + node.at * step);
    return sum * step;
}

double length_of(const Powers& cubic, double steps) {
    const double step = 1.0 / steps;
    double length = 0.0;
    for (double i = 0.0; i < steps; i += 1.0) // long pieces get the finer rule
        length += steps < kFewSteps ? length_of_piece(cubic, i * step, step, kFivePoints)
                                    : length_of_piece(cubic, i * step, step, kThreePoints);
    return length;
}

/// Where one coordinate of a cubic turns, in the open 0..1.
void add_turns(double a, double b, double c, double d, const Cubic& q, Box& box) {
    // Between its ends' values a coordinate whose controls lie there too never leaves them.
    if (std::min(b, c) >= std::min(a, d) && std::max(b, c) <= std::max(a, d)) return;
    // Derivative / 3 = p t^2 + 2 h t + r
    const double r = b - a;
    const double h = c - 2 * b + a;
    const double p = d - 3 * c + 3 * b - a;
    const auto add = [&](double t) {
        if (t > 0.0 && t < 1.0) box.add(point_at(q, t));
    };
    const double root = h * h - p * r;
    if (root < 0.0) return;
    // The form that does not cancel; with p = 0 only the second root exists.
    const double w = -(h + std::copysign(std::sqrt(root), h));
    if (p != 0.0) add(w / p);
    if (w != 0.0) add(r / w);
}

void add_box(const Cubic& q, Box& box) {
    box.add(q.d);
    add_turns(q.a.x, q.b.x, q.c.x, q.d.x, q, box);
    add_turns(q.a.y, q.b.y, q.c.y, q.d.y, q, box);
}

/// A direction as a point of the unit circle.
struct Turn {
    double cos = 1.0;
    double sin = 0.0;

    explicit Turn(double angle) : cos(std::cos(angle)), sin(std::sin(angle)) {}
    Turn(double c, double s) : cos(c), sin(s) {}

    [[nodiscard]] Turn operator+(const Turn& by) const {
        return {cos * by.cos - sin * by.sin, sin * by.cos + cos * by.sin};
    }
    [[nodiscard]] Vec2 vector() const { return {cos, sin}; }
};

Vec2 point_at(const EllipseArc& arc, const Turn& t) {
    return arc.centre + arc.u * t.cos + arc.v * t.sin;
}

double speed_at(const EllipseArc& arc, const Turn& t) {
    return length_of(arc.v * t.cos - arc.u * t.sin);
}

EllipseArc mapped(const EllipseArc& arc, const Affine& map) {
    return {map(arc.centre), map.linear(arc.u), map.linear(arc.v), arc.from, arc.sweep};
}

/// What lies between the ends of an arc; the ends themselves either way.
class Span {
public:
    explicit Span(const EllipseArc& arc) : width_(std::abs(arc.sweep)) {
        if (width_ >= 2.0 * std::numbers::pi) return;
        const double low = std::min(arc.from, arc.from + arc.sweep);
        low_ = Turn(low).vector();
        high_ = Turn(low + width_).vector();
    }
    [[nodiscard]] bool holds(Vec2 direction) const {
        if (width_ >= 2.0 * std::numbers::pi) return true;
        const bool after_low = cross(low_, direction) >= 0.0;
        const bool before_high = cross(direction, high_) >= 0.0;
        return width_ <= std::numbers::pi ? after_low && before_high : after_low || before_high;
    }

private:
    double width_;
    Vec2 low_;
    Vec2 high_;
};

/// centre + cos(t) u + sin(t) v of one coordinate is largest where (cos t, sin t) points along (u, v).
void add_turn_of_axis(const EllipseArc& arc, const Span& span, Vec2 uv, Box& box) {
    const double size = std::hypot(uv.x, uv.y);
    if (!(size > 0.0)) return;
    const Vec2 turn = uv / size;
    if (span.holds(turn)) box.add(point_at(arc, Turn(turn.x, turn.y)));
    if (span.holds(-turn)) box.add(point_at(arc, Turn(-turn.x, -turn.y)));
}

void add_box(const EllipseArc& arc, Vec2 to, Box& box) {
    box.add(to);
    const Span span(arc);
    add_turn_of_axis(arc, span, {arc.u.x, arc.v.x}, box);
    add_turn_of_axis(arc, span, {arc.u.y, arc.v.y}, box);
}

bool is_circle(const EllipseArc& arc) {
    const double uu = dot(arc.u, arc.u);
    return std::abs(dot(arc.v, arc.v) - uu) <= 1e-13 * uu && std::abs(dot(arc.u, arc.v)) <= 1e-13 * uu;
}

double length_of(const EllipseArc& arc, double steps) {
    if (is_circle(arc)) return length_of(arc.u) * std::abs(arc.sweep);
    const double step = arc.sweep / steps;
    std::array<Turn, kFivePoints.size()> nodes{Turn(1, 0), Turn(1, 0), Turn(1, 0), Turn(1, 0), Turn(1, 0)};
    for (std::size_t k = 0; k < nodes.size(); ++k)
        nodes[k] = Turn(kFivePoints[k].at * step);
    const Turn by(step);
    Turn at(arc.from);
    double sum = 0.0;
    for (double i = 0.0; i < steps; i += 1.0, at = at + by)
        for (std::size_t k = 0; k < nodes.size(); ++k)
            sum += kFivePoints[k].weight * speed_at(arc, at + nodes[k]);
    return sum * std::abs(step);
}

class Flattener {
public:
    Flattener(const Affine& map, const FlattenOptions& options, std::vector<Vec2>& points,
              std::vector<Subpath>& subpaths)
        : map_(map), tolerance_(options.tolerance), max_points_(options.max_points), measures_(options.measure_length),
          points_(points), subpaths_(subpaths) {}

    FlatShape run(const Outline& outline) {
        const std::size_t old_points = points_.size();
        flat_.first_subpath = subpaths_.size();
        std::size_t point = 0;
        std::size_t arc = 0;
        for (const Verb verb : outline.verbs) {
            if (!flat_.fits || !flat_.finite) break;
            step(verb, outline, point, arc);
        }
        finish_subpath(false);
        flat_.subpath_count = subpaths_.size() - flat_.first_subpath;
        if (!std::isfinite(squares_)) flat_.finite = false;
        if (!flat_.fits || !flat_.finite) {
            points_.resize(old_points);
            subpaths_.resize(flat_.first_subpath);
            flat_.subpath_count = 0;
        }
        if (flat_.subpath_count == 0) flat_.closed = false;
        return flat_;
    }

private:
    void step(Verb verb, const Outline& outline, std::size_t& point, std::size_t& arc) {
        const Vec2* given = outline.points.data() + point;
        switch (verb) {
        case Verb::Move:
            finish_subpath(false);
            start_ = last_ = map_(given[0]);
            ++point;
            break;
        case Verb::Line:
            begin_subpath();
            line_to(map_(given[0]));
            ++point;
            break;
        case Verb::Cubic:
            begin_subpath();
            cubic_to({last_, map_(given[0]), map_(given[1]), map_(given[2])});
            point += 3;
            break;
        case Verb::Arc:
            begin_subpath();
            arc_to(mapped(outline.arcs[arc++], map_), map_(given[0]));
            ++point;
            break;
        case Verb::Close:
            begin_subpath();
            line_to(start_);
            finish_subpath(true);
            break;
        }
    }

    void begin_subpath() {
        if (drawing_) return;
        drawing_ = true;
        first_ = points_.size();
        push(start_);
        flat_.bbox.add(start_);
    }

    void finish_subpath(bool closed) {
        if (!drawing_) return;
        drawing_ = false;
        subpaths_.push_back({first_, points_.size() - first_, closed});
        flat_.closed = flat_.closed && closed;
        last_ = start_;
    }

    /// A coordinate out of range shows in the sum of squares, which is looked at once at the end; so does one whose
    /// length could not be measured.
    void push(Vec2 p) {
        squares_ += 4.0 * dot(p, p);
        if (points_.size() >= max_points_)
            flat_.fits = false;
        else if (points_.size() == first_ || points_.back() != p)
            points_.push_back(p);
    }

    void line_to(Vec2 to) {
        if (measures_) flat_.length += length_of(to - last_);
        flat_.bbox.add(to);
        push(to);
        last_ = to;
    }

    /// How many pieces; 0 when nothing can be drawn. The limit of pieces says so in `flat_`.
    double whole_steps(double steps, bool finite) {
        if (!finite || std::isnan(steps)) {
            flat_.finite = false;
            return 0.0;
        }
        if (steps > kMaxSteps) flat_.within_bound = false;
        steps = std::clamp(std::ceil(steps), 1.0, kMaxSteps);
        if (points_.size() + static_cast<std::size_t>(steps) <= max_points_) return steps;
        flat_.fits = false;
        return 0.0;
    }

    void cubic_to(const Cubic& q) {
        add_box(q, flat_.bbox);
        const bool finite = geometry::is_finite(q.b) && geometry::is_finite(q.c) && geometry::is_finite(q.d);
        const double steps = whole_steps(std::sqrt(bound_of(q) / tolerance_), finite);
        last_ = q.d;
        if (steps == 0.0) return;
        const Powers cubic(q);
        if (measures_) flat_.length += length_of(cubic, steps);
        const double step = 1.0 / steps;
        for (double i = 1.0; i < steps; i += 1.0)
            push(cubic.at(i * step));
        push(q.d);
    }

    [[nodiscard]] double steps_of(const EllipseArc& arc, Vec2 to) {
        const double stretch = geometry::largest_stretch({arc.u.x, arc.u.y, arc.v.x, arc.v.y, 0, 0});
        // At most an eighth turn a piece, so that the quadrature stays exact on coarse tolerances too.
        double step = std::numbers::pi / 4;
        if (tolerance_ < stretch) step = std::min(step, 2.0 * std::acos(std::max(0.0, 1.0 - tolerance_ / stretch)));
        const bool finite = std::isfinite(stretch) && geometry::is_finite(arc.centre) && geometry::is_finite(to);
        return whole_steps(std::abs(arc.sweep) / step - 1e-9, finite);
    }

    void arc_to(const EllipseArc& arc, Vec2 to) {
        add_box(arc, to, flat_.bbox);
        last_ = to;
        const double steps = steps_of(arc, to);
        if (steps == 0.0) return;
        if (measures_) flat_.length += length_of(arc, steps);
        const double step = arc.sweep / steps;
        const Turn by(step);
        Turn at(arc.from);
        const auto count = static_cast<std::uint32_t>(steps);
        for (std::uint32_t i = 1; i < count; ++i) {
            // Turning on from the last point is exact to a rounding each time: begun anew before they add up.
            at = i % 64 == 0 ? Turn(arc.from + i * step) : at + by;
            push(point_at(arc, at));
        }
        push(to);
    }

    const Affine& map_;
    const double tolerance_;
    const std::size_t max_points_;
    const bool measures_;
    std::vector<Vec2>& points_;
    std::vector<Subpath>& subpaths_;
    FlatShape flat_;
    double squares_ = 0.0;
    bool drawing_ = false;
    std::size_t first_ = 0;
    Vec2 start_;
    Vec2 last_;
};

} // namespace

FlatShape flatten(const Outline& outline, const Affine& map, const FlattenOptions& options, std::vector<Vec2>& points,
                  std::vector<Subpath>& subpaths) {
    return Flattener(map, options, points, subpaths).run(outline);
}

Box bounds_of(const Outline& outline) {
    Box box;
    Vec2 last;
    std::size_t point = 0;
    std::size_t arc = 0;
    for (const Verb verb : outline.verbs) {
        if (verb == Verb::Close) {
            box.add(last);
            continue;
        }
        const Vec2* given = outline.points.data() + point;
        const Vec2 to = verb == Verb::Cubic ? given[2] : given[0];
        if (verb != Verb::Move) box.add(last);
        if (verb == Verb::Line) box.add(to);
        if (verb == Verb::Cubic) add_box(Cubic{last, given[0], given[1], to}, box);
        if (verb == Verb::Arc) add_box(outline.arcs[arc++], to, box);
        point += verb == Verb::Cubic ? 3 : 1;
        last = to;
    }
    return box;
}

Box reference_box_of(const Outline& outline) {
    Box box = bounds_of(outline);
    const bool ends_in_move = !outline.verbs.empty() && outline.verbs.back() == Verb::Move;
    const auto is_curve = [](Verb verb) { return verb == Verb::Cubic || verb == Verb::Arc; };
    if (ends_in_move && (box.is_empty() || std::any_of(outline.verbs.begin(), outline.verbs.end(), is_curve)))
        box.add(outline.points.back());
    return box;
}

} // namespace padchart::svg
