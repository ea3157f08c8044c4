#pragma once
// One shape's geometry in its own user units, before any transform: what path data and basic shapes both become.
// Quadratics are raised to cubics (exact); elliptical arcs stay what they are, so that a circle is a circle.

#include <cstdint>
#include <vector>

#include "geometry/vec2.hpp"

namespace padchart::svg {

using geometry::Vec2;

/// centre + cos(t) * u + sin(t) * v for t from `from` to `from + sweep`.
struct EllipseArc {
    Vec2 centre;
    Vec2 u;
    Vec2 v;
    double from = 0.0;
    double sweep = 0.0;
};

enum class Verb : std::uint8_t {
    Move,  ///< one point
    Line,  ///< one point
    Cubic, ///< two control points and the end
    Arc,   ///< the end; the next entry of `arcs` tells how
    Close  ///< no point
};

struct Outline {
    std::vector<Verb> verbs;
    std::vector<Vec2> points;
    std::vector<EllipseArc> arcs;

    void clear() {
        verbs.clear();
        points.clear();
        arcs.clear();
    }
    void move_to(Vec2 to) {
        verbs.push_back(Verb::Move);
        points.push_back(to);
    }
    void line_to(Vec2 to) {
        verbs.push_back(Verb::Line);
        points.push_back(to);
    }
    void cubic_to(Vec2 a, Vec2 b, Vec2 to) {
        verbs.push_back(Verb::Cubic);
        points.push_back(a);
        points.push_back(b);
        points.push_back(to);
    }
    void quadratic_to(Vec2 from, Vec2 control, Vec2 to) {
        cubic_to(from + (control - from) * (2.0 / 3.0), to + (control - to) * (2.0 / 3.0), to);
    }
    void arc_to(const EllipseArc& arc, Vec2 to) {
        verbs.push_back(Verb::Arc);
        points.push_back(to);
        arcs.push_back(arc);
    }
    void close() { verbs.push_back(Verb::Close); }

    /// False when there is nothing but moves of the pen.
    [[nodiscard]] bool draws() const {
        for (const Verb verb : verbs)
            if (verb != Verb::Move) return true;
        return false;
    }
};

} // namespace padchart::svg
