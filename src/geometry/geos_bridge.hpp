#pragma once
// The only door to GEOS: owners for its objects, and the way from rings to its geometries and back. For the .cpp files
// of this folder alone. GEOS fails by a null pointer and a message; `owned` turns that into std::runtime_error, which
// with finite coordinates means a defect or no memory left, never bad input.

#include <memory>
#include <span>
#include <vector>

#include <geos_c.h>

#include "geometry/polygon.hpp"

namespace padchart::geometry::geos {

/// This thread's own context.
[[nodiscard]] GEOSContextHandle_t context();

struct Destroy {
    void operator()(GEOSGeometry* g) const { GEOSGeom_destroy_r(context(), g); }
    void operator()(const GEOSPreparedGeometry* g) const { GEOSPreparedGeom_destroy_r(context(), g); }
    void operator()(GEOSCoordSequence* s) const { GEOSCoordSeq_destroy_r(context(), s); }
    void operator()(GEOSSTRtree* t) const { GEOSSTRtree_destroy_r(context(), t); }
    void operator()(GEOSMakeValidParams* p) const { GEOSMakeValidParams_destroy_r(context(), p); }
    void operator()(char* text) const { GEOSFree_r(context(), text); }
};
template <class T>
using Owner = std::unique_ptr<T, Destroy>;
using Geometry = Owner<GEOSGeometry>;
using Prepared = Owner<const GEOSPreparedGeometry>;

/// Throws std::runtime_error with what GEOS last said.
[[noreturn]] void fail();

template <class T>
[[nodiscard]] Owner<T> owned(T* made) {
    if (made == nullptr) fail();
    return Owner<T>(made);
}

/// The rings as they are, valid or not. Requires: is_drawable(polygon).
[[nodiscard]] Geometry raw_polygon(const Polygon& polygon);
/// At least three different points and every number finite: what GEOS accepts as a ring.
[[nodiscard]] bool is_drawable(std::span<const Vec2> ring);

/// The proper area of one polygon (see mended); an empty geometry when it has none.
[[nodiscard]] Geometry mended_area(const Polygon& polygon);
/// The proper area of all polygons together; overlaps count once.
[[nodiscard]] Geometry area_of(const Region& region);
/// As area_of, but a polygon without any area counts as the line or point it is, so that nothing drawn is left out.
[[nodiscard]] Geometry shape_of(const Region& region);
/// Each ring as a closed line.
[[nodiscard]] Geometry closed_lines(std::span<const Ring> rings);

/// The polygons of a result; lines and points in it have no area and are left out.
[[nodiscard]] Region region_of(const GEOSGeometry* geometry);

[[nodiscard]] bool is_empty(const GEOSGeometry* geometry);

} // namespace padchart::geometry::geos
