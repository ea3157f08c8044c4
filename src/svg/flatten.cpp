#include "svg/flatten.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace padchart::svg {
namespace {

using geometry::Affine;
using geometry::Box;

constexpr int kMaxHalvings = 18;
constexpr double kMaxArcSteps = 1 << 18;

/// Plain root instead of hypot, which guards against overflow at ten times the cost: coordinates are single precision.
double length_of(Vec2 v) {
    return std::sqrt(dot(v, v));
}

struct Node {
    double at; // in 0..1
    double weight;
};

// Five-point Gauss-Legendre rule on 0..1 (Abramowitz and Stegun, table 25.4, halved and shifted).
constexpr std::array<Node, 5> kRule{{{0.046910077030668004, 0.11846344252809454},
                                     {0.23076534494715845, 0.23931433524968324},
                                     {0.5, 0.28444444444444444},
                                     {0.76923465505284155, 0.23931433524968324},
                                     {0.95308992296933200, 0.11846344252809454}}};

struct Cubic {
    Vec2 a, b, c, d;
};

Vec2 point_at(const Cubic& q, double t) {
    const Vec2 ab = lerp(q.a, q.b, t);
    const Vec2 bc = lerp(q.b, q.c, t);
    const Vec2 cd = lerp(q.c, q.d, t);
    return lerp(lerp(ab, bc, t), lerp(bc, cd, t), t);
}

double speed_at(const Cubic& q, double t) {
    const Vec2 d = (q.b - q.a) * ((1 - t) * (1 - t)) + (q.c - q.b) * (2 * t * (1 - t)) + (q.d - q.c) * (t * t);
    return 3.0 * length_of(d);
}

double length_of_piece(const Cubic& q) {
    double sum = 0.0;
    for (const Node& node : kRule)
        sum += node.weight * speed_at(q, node.at);
    return sum;
}

double bound_of(const Cubic& q) {
    const Vec2 first = q.a - q.b * 2.0 + q.c;
    const Vec2 second = q.b - q.c * 2.0 + q.d;
    return 0.75 * std::sqrt(std::max(dot(first, first), dot(second, second)));
}

/// Where one coordinate of a cubic turns, in the open 0..1.
void add_turns(double a, double b, double c, double d, const Cubic& q, Box& box) {
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

Vec2 point_at(const EllipseArc& arc, double t) {
    return arc.centre + arc.u * std::cos(t) + arc.v * std::sin(t);
}

EllipseArc mapped(const EllipseArc& arc, const Affine& map) {
    return {map(arc.centre), map.linear(arc.u), map.linear(arc.v), arc.from, arc.sweep};
}

void add_turn_of_axis(const EllipseArc& arc, double u, double v, Box& box) {
    if (u == 0.0 && v == 0.0) return;
    const double low = std::min(arc.from, arc.from + arc.sweep);
    const double high = std::max(arc.from, arc.from + arc.sweep);
    const double turn = std::atan2(v, u);
    // A coordinate turns every half turn: at most three times within a full one and its ends.
    const double first = turn + std::ceil((low - turn) / std::numbers::pi) * std::numbers::pi;
    for (int i = 0; i < 4; ++i)
        if (const double t = first + i * std::numbers::pi; t < high) box.add(point_at(arc, t));
}

void add_box(const EllipseArc& arc, Vec2 to, Box& box) {
    box.add(to);
    add_turn_of_axis(arc, arc.u.x, arc.v.x, box);
    add_turn_of_axis(arc, arc.u.y, arc.v.y, box);
}

class Flattener {
public:
    Flattener(const Affine& map, double tolerance, std::size_t max_points, std::vector<Vec2>& points,
              std::vector<Subpath>& subpaths)
        : map_(map), tolerance_(tolerance), max_points_(max_points), points_(points), subpaths_(subpaths) {}

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
        if (!std::isfinite(flat_.length)) flat_.finite = false;
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

    void push(Vec2 p) {
        if (!geometry::is_finite(p))
            flat_.finite = false;
        else if (points_.size() >= max_points_)
            flat_.fits = false;
        else if (points_.size() == first_ || points_.back() != p)
            points_.push_back(p);
    }

    void line_to(Vec2 to) {
        flat_.length += length_of(to - last_);
        flat_.bbox.add(to);
        push(to);
        last_ = to;
    }

    void cubic_to(const Cubic& cubic) {
        add_box(cubic, flat_.bbox);
        if (!geometry::is_finite(cubic.b) || !geometry::is_finite(cubic.c)) flat_.finite = false;
        halve(cubic, 0);
        last_ = cubic.d;
    }

    void halve(const Cubic& q, int depth) {
        if (!flat_.fits || !flat_.finite) return;
        const bool fine = bound_of(q) <= tolerance_;
        if (fine || depth == kMaxHalvings) {
            if (!fine) flat_.within_bound = false;
            flat_.length += length_of_piece(q);
            push(q.d);
            return;
        }
        const Vec2 ab = (q.a + q.b) / 2.0;
        const Vec2 bc = (q.b + q.c) / 2.0;
        const Vec2 cd = (q.c + q.d) / 2.0;
        const Vec2 abc = (ab + bc) / 2.0;
        const Vec2 bcd = (bc + cd) / 2.0;
        const Vec2 middle = (abc + bcd) / 2.0;
        halve({q.a, ab, abc, middle}, depth + 1);
        halve({middle, bcd, cd, q.d}, depth + 1);
    }

    [[nodiscard]] double steps_of(const EllipseArc& arc) {
        const double stretch = geometry::largest_stretch({arc.u.x, arc.u.y, arc.v.x, arc.v.y, 0, 0});
        if (!std::isfinite(stretch)) flat_.finite = false;
        // At most an eighth turn a piece, so that the quadrature stays exact on coarse tolerances too.
        double step = std::numbers::pi / 4;
        if (tolerance_ < stretch) step = std::min(step, 2.0 * std::acos(std::max(0.0, 1.0 - tolerance_ / stretch)));
        const double steps = std::ceil(std::abs(arc.sweep) / step - 1e-9);
        if (steps <= kMaxArcSteps) return std::max(1.0, steps);
        flat_.within_bound = false;
        return kMaxArcSteps;
    }

    void arc_to(const EllipseArc& arc, Vec2 to) {
        add_box(arc, to, flat_.bbox);
        const double steps = steps_of(arc);
        const double step = arc.sweep / steps;
        for (double i = 0.0; i < steps && flat_.fits && flat_.finite; i += 1.0) {
            const double from = arc.from + i * step;
            for (const Node& node : kRule) {
                const double t = from + node.at * step;
                flat_.length += node.weight * std::abs(step) * length_of(arc.v * std::cos(t) - arc.u * std::sin(t));
            }
            push(i + 1.0 < steps ? point_at(arc, from + step) : to);
        }
        last_ = to;
    }

    const Affine& map_;
    const double tolerance_;
    const std::size_t max_points_;
    std::vector<Vec2>& points_;
    std::vector<Subpath>& subpaths_;
    FlatShape flat_;
    bool drawing_ = false;
    std::size_t first_ = 0;
    Vec2 start_;
    Vec2 last_;
};

} // namespace

FlatShape flatten(const Outline& outline, const Affine& map, double tolerance, std::size_t max_points,
                  std::vector<Vec2>& points, std::vector<Subpath>& subpaths) {
    return Flattener(map, tolerance, max_points, points, subpaths).run(outline);
}

Box bounds_of(const Outline& outline) {
    Box box;
    Vec2 last;
    std::size_t point = 0;
    std::size_t arc = 0;
    for (const Verb verb : outline.verbs) {
        if (verb == Verb::Close) continue;
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

} // namespace padchart::svg
