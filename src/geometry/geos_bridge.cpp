#include "geometry/geos_bridge.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>
#include <string>
#include <utility>

namespace padchart::geometry::geos {

namespace {

extern "C" void keep_message(const char* message, void* where) {
    static_cast<std::string*>(where)->assign(message);
}

/// What one thread needs to talk to GEOS; the last error stands here, since GEOS has no other place for it.
struct Context {
    Context() {
        GEOSContext_setErrorMessageHandler_r(handle, keep_message, &last_error);
        GEOSContext_setNoticeMessageHandler_r(handle, nullptr, nullptr);
    }
    ~Context() { GEOS_finish_r(handle); }
    Context(const Context&) = delete;
    Context& operator=(const Context&) = delete;

    GEOSContextHandle_t handle = GEOS_init_r();
    std::string last_error;
};

Context& this_thread() {
    thread_local Context context;
    return context;
}

/// Ring points with the first one repeated, as GEOS wants them.
Owner<GEOSCoordSequence> closed_sequence(std::span<const Vec2> ring) {
    const auto size = static_cast<unsigned>(ring.size() + 1);
    std::vector<double> buffer;
    buffer.reserve(ring.size() * 2 + 2);
    for (const Vec2 p : ring) {
        buffer.push_back(p.x);
        buffer.push_back(p.y);
    }
    buffer.push_back(ring.front().x);
    buffer.push_back(ring.front().y);
    return owned(GEOSCoordSeq_copyFromBuffer_r(context(), buffer.data(), size, 0, 0));
}

Geometry linear_ring(std::span<const Vec2> ring) {
    return owned(GEOSGeom_createLinearRing_r(context(), closed_sequence(ring).release()));
}

Geometry closed_line(std::span<const Vec2> ring) {
    return owned(GEOSGeom_createLineString_r(context(), closed_sequence(ring).release()));
}

Geometry empty_area() {
    return owned(GEOSGeom_createEmptyPolygon_r(context()));
}

Geometry collected(std::vector<Geometry> parts, int type) {
    std::vector<GEOSGeometry*> raw;
    raw.reserve(parts.size());
    for (Geometry& part : parts)
        raw.push_back(part.release());
    return owned(GEOSGeom_createCollection_r(context(), type, raw.data(), static_cast<unsigned>(raw.size())));
}

Geometry made_valid(const GEOSGeometry* invalid) {
    const auto how = owned(GEOSMakeValidParams_create_r(context()));
    // "Structure" keeps all a hand went round; the default, "linework", would cut out what it went round twice.
    if (GEOSMakeValidParams_setMethod_r(context(), how.get(), GEOS_MAKE_VALID_STRUCTURE) == 0) fail();
    if (GEOSMakeValidParams_setKeepCollapsed_r(context(), how.get(), 0) == 0) fail();
    return owned(GEOSMakeValidWithParams_r(context(), invalid, how.get()));
}

bool is_valid(const GEOSGeometry* geometry) {
    const char answer = GEOSisValid_r(context(), geometry);
    if (answer == 2) fail();
    return answer == 1;
}

/// Parts that may overlap to one valid area.
Geometry united(std::vector<Geometry> parts) {
    if (parts.empty()) return empty_area();
    if (parts.size() == 1) return std::move(parts.front());
    const Geometry all = collected(std::move(parts), GEOS_GEOMETRYCOLLECTION);
    return owned(GEOSUnaryUnion_r(context(), all.get()));
}

/// Ring by ring, since GEOS's own mending turns a hole that lies outside into an area.
Geometry without_holes(const GEOSGeometry* outer, const std::vector<Ring>& holes) {
    std::vector<Geometry> mended;
    for (const Ring& hole : holes)
        if (is_drawable(hole)) mended.push_back(made_valid(raw_polygon({hole, {}}).get()));
    const Geometry out = united(std::move(mended));
    return owned(GEOSDifference_r(context(), outer, out.get()));
}

bool all_finite(std::span<const Vec2> ring) {
    return std::all_of(ring.begin(), ring.end(), is_finite);
}

Geometry segment(Vec2 from, Vec2 to) {
    const std::array buffer{from.x, from.y, to.x, to.y};
    auto points = owned(GEOSCoordSeq_copyFromBuffer_r(context(), buffer.data(), 2, 0, 0));
    return owned(GEOSGeom_createLineString_r(context(), points.release()));
}

/// What is left of a ring without area: a point, or its edges one by one. As one closed line GEOS would widen it like a
/// ring, and of a flat ring it then loses a part.
Geometry trace_of(std::span<const Vec2> ring) {
    std::vector<Geometry> edges;
    for (std::size_t i = 0; i < ring.size(); ++i)
        if (const Vec2 next = ring[(i + 1) % ring.size()]; !(next == ring[i])) edges.push_back(segment(ring[i], next));
    if (edges.empty()) return owned(GEOSGeom_createPointFromXY_r(context(), ring.front().x, ring.front().y));
    return collected(std::move(edges), GEOS_MULTILINESTRING);
}

Ring ring_of(const GEOSGeometry* linear_ring) {
    const GEOSCoordSequence* points = GEOSGeom_getCoordSeq_r(context(), linear_ring);
    unsigned size = 0;
    if (points == nullptr || GEOSCoordSeq_getSize_r(context(), points, &size) == 0) fail();
    std::vector<double> buffer(std::size_t{2} * size);
    if (GEOSCoordSeq_copyToBuffer_r(context(), points, buffer.data(), 0, 0) == 0) fail();
    Ring ring;
    ring.reserve(size);
    for (std::size_t i = 0; i + 1 < size; ++i)
        ring.push_back({buffer[2 * i], buffer[2 * i + 1]});
    return ring;
}

Polygon polygon_of(const GEOSGeometry* geometry) {
    Polygon polygon{ring_of(GEOSGetExteriorRing_r(context(), geometry)), {}};
    const int holes = GEOSGetNumInteriorRings_r(context(), geometry);
    for (int i = 0; i < holes; ++i)
        polygon.holes.push_back(ring_of(GEOSGetInteriorRingN_r(context(), geometry, i)));
    return polygon;
}

void collect_polygons(const GEOSGeometry* geometry, Region& into) {
    if (is_empty(geometry)) return;
    const int type = GEOSGeomTypeId_r(context(), geometry);
    if (type == GEOS_POLYGON) {
        into.push_back(polygon_of(geometry));
    } else if (type == GEOS_MULTIPOLYGON || type == GEOS_GEOMETRYCOLLECTION) {
        const int parts = GEOSGetNumGeometries_r(context(), geometry);
        for (int i = 0; i < parts; ++i)
            collect_polygons(GEOSGetGeometryN_r(context(), geometry, i), into);
    }
}

} // namespace

GEOSContextHandle_t context() {
    return this_thread().handle;
}

void fail() {
    const std::string& said = this_thread().last_error;
    throw std::runtime_error("geometry failed: " + (said.empty() ? std::string("no reason given") : said));
}

bool is_empty(const GEOSGeometry* geometry) {
    const char answer = GEOSisEmpty_r(context(), geometry);
    if (answer == 2) fail();
    return answer == 1;
}

bool is_drawable(std::span<const Vec2> ring) {
    if (ring.size() < 3 || !all_finite(ring)) return false;
    const Vec2 first = ring.front();
    const auto second = std::find_if(ring.begin(), ring.end(), [&](Vec2 p) { return !(p == first); });
    if (second == ring.end()) return false;
    return std::any_of(second, ring.end(), [&](Vec2 p) { return !(p == first) && !(p == *second); });
}

Geometry raw_polygon(const Polygon& polygon) {
    Geometry outer = linear_ring(polygon.outer);
    std::vector<Geometry> holes;
    for (const Ring& hole : polygon.holes)
        if (is_drawable(hole)) holes.push_back(linear_ring(hole));
    std::vector<GEOSGeometry*> raw;
    raw.reserve(holes.size());
    for (Geometry& hole : holes)
        raw.push_back(hole.release());
    return owned(GEOSGeom_createPolygon_r(context(), outer.release(), raw.data(), static_cast<unsigned>(raw.size())));
}

Geometry mended_area(const Polygon& polygon) {
    if (!is_drawable(polygon.outer)) return empty_area();
    Geometry raw = raw_polygon(polygon);
    // Most rings are pads: the convex ones need no search for crossings.
    if (polygon.holes.empty() && is_convex_ring(polygon.outer)) return raw;
    if (is_valid(raw.get())) return raw;
    Geometry outer = made_valid(raw_polygon({polygon.outer, {}}).get());
    return polygon.holes.empty() ? std::move(outer) : without_holes(outer.get(), polygon.holes);
}

Geometry area_of(const Region& region) {
    std::vector<Geometry> parts;
    for (const Polygon& polygon : region)
        if (Geometry part = mended_area(polygon); !is_empty(part.get())) parts.push_back(std::move(part));
    return united(std::move(parts));
}

Geometry shape_of(const Region& region) {
    std::vector<Geometry> areas;
    std::vector<Geometry> traces;
    for (const Polygon& polygon : region) {
        Geometry part = mended_area(polygon);
        if (!is_empty(part.get()))
            areas.push_back(std::move(part));
        else if (!polygon.outer.empty() && all_finite(polygon.outer))
            traces.push_back(trace_of(polygon.outer));
    }
    if (traces.empty()) return united(std::move(areas));
    if (areas.empty() && traces.size() == 1) return std::move(traces.front());
    if (!areas.empty()) traces.push_back(united(std::move(areas)));
    return collected(std::move(traces), GEOS_GEOMETRYCOLLECTION);
}

Geometry closed_lines(std::span<const Ring> rings) {
    std::vector<Geometry> lines;
    for (const Ring& ring : rings)
        if (!ring.empty() && all_finite(ring)) lines.push_back(closed_line(ring));
    return collected(std::move(lines), GEOS_MULTILINESTRING);
}

Region region_of(const GEOSGeometry* geometry) {
    Region region;
    collect_polygons(geometry, region);
    return region;
}

} // namespace padchart::geometry::geos
