#pragma once
// The same questions to another library (polyclipping), on a grid of one nanometre and with the non-zero rule.

#include <cmath>

#include <polyclipping/clipper.hpp>

#include "geometry/polygon.hpp"

namespace padchart::testing {

inline constexpr double kGridPerMm = 1e6;

inline ClipperLib::Path clipper_path(const geometry::Ring& ring) {
    ClipperLib::Path path;
    for (const geometry::Vec2 p : ring)
        path.emplace_back(static_cast<ClipperLib::cInt>(std::llround(p.x * kGridPerMm)),
                          static_cast<ClipperLib::cInt>(std::llround(p.y * kGridPerMm)));
    return path;
}

inline double clipper_area(const ClipperLib::Paths& paths) {
    double sum = 0.0;
    for (const ClipperLib::Path& path : paths)
        sum += ClipperLib::Area(path);
    return std::abs(sum) / (kGridPerMm * kGridPerMm);
}

/// What each ring goes round, once or more often, either way.
inline ClipperLib::Paths clipper_mended(const geometry::Ring& ring) {
    ClipperLib::Paths result;
    ClipperLib::SimplifyPolygon(clipper_path(ring), result, ClipperLib::pftNonZero);
    return result;
}

inline ClipperLib::Paths clipper_combined(ClipperLib::ClipType how, const ClipperLib::Paths& a,
                                          const ClipperLib::Paths& b) {
    ClipperLib::Clipper clipper;
    clipper.AddPaths(a, ClipperLib::ptSubject, true);
    clipper.AddPaths(b, ClipperLib::ptClip, true);
    ClipperLib::Paths result;
    clipper.Execute(how, result, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    return result;
}

/// Arcs within a thousandth of a micrometre.
inline ClipperLib::Paths clipper_widened(const ClipperLib::Paths& paths, double by) {
    ClipperLib::ClipperOffset offset(2.0, 1e-6 * kGridPerMm);
    offset.AddPaths(paths, ClipperLib::jtRound, ClipperLib::etClosedPolygon);
    ClipperLib::Paths result;
    offset.Execute(result, by * kGridPerMm);
    return result;
}

} // namespace padchart::testing
