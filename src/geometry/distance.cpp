#include "geometry/distance.hpp"

#include <cassert>
#include <optional>
#include <utility>

#include "geometry/geos_bridge.hpp"

namespace padchart::geometry {

namespace {

Vec2 point_at(const GEOSCoordSequence* points, unsigned i) {
    Vec2 at;
    if (GEOSCoordSeq_getXY_r(geos::context(), points, i, &at.x, &at.y) == 0) geos::fail();
    return at;
}

/// A point both have. Pair by pair, since GEOS will not intersect a collection of areas and lines.
std::optional<Vec2> common_point(const GEOSGeometry* a, const GEOSGeometry* b) {
    GEOSContextHandle_t context = geos::context();
    const int parts_a = GEOSGetNumGeometries_r(context, a);
    const int parts_b = GEOSGetNumGeometries_r(context, b);
    for (int i = 0; i < parts_a * parts_b; ++i) {
        const GEOSGeometry* part_a = GEOSGetGeometryN_r(context, a, i / parts_b);
        const GEOSGeometry* part_b = GEOSGetGeometryN_r(context, b, i % parts_b);
        if (GEOSIntersects_r(context, part_a, part_b) != 1) continue;
        const geos::Geometry both = geos::owned(GEOSIntersection_r(context, part_a, part_b));
        if (geos::is_empty(both.get())) continue;
        const geos::Geometry point = geos::owned(GEOSPointOnSurface_r(context, both.get()));
        Vec2 at;
        if (GEOSGeomGetX_r(context, point.get(), &at.x) != 1 || GEOSGeomGetY_r(context, point.get(), &at.y) != 1)
            geos::fail();
        return at;
    }
    return std::nullopt;
}

Gap gap_of(double mm, geos::Owner<GEOSCoordSequence> nearest, const GEOSGeometry* a, const GEOSGeometry* b) {
    if (mm == 0.0)
        if (const auto at = common_point(a, b)) return {0.0, *at, *at};
    return {mm, point_at(nearest.get(), 0), point_at(nearest.get(), 1)};
}

Gap plain_gap(const GEOSGeometry* a, const GEOSGeometry* b) {
    double mm = 0.0;
    if (GEOSDistance_r(geos::context(), a, b, &mm) == 0) geos::fail();
    return gap_of(mm, geos::owned(GEOSNearestPoints_r(geos::context(), a, b)), a, b);
}

} // namespace

struct PreparedArea::State {
    explicit State(geos::Geometry made)
        : shape(std::move(made)), prepared(geos::owned(GEOSPrepare_r(geos::context(), shape.get()))) {
        assert(!geos::is_empty(shape.get()));
        GEOSGeom_getExtent_r(geos::context(), shape.get(), &box.min.x, &box.min.y, &box.max.x, &box.max.y);
    }

    geos::Geometry shape;
    geos::Prepared prepared;
    Box box;
};

Gap gap_between(const Region& a, const Region& b) {
    const geos::Geometry first = geos::shape_of(a);
    const geos::Geometry second = geos::shape_of(b);
    assert(!geos::is_empty(first.get()) && !geos::is_empty(second.get()));
    return plain_gap(first.get(), second.get());
}

Gap gap_to_lines(const Region& a, std::span<const Ring> closed_lines) {
    const geos::Geometry area = geos::shape_of(a);
    const geos::Geometry lines = geos::closed_lines(closed_lines);
    assert(!geos::is_empty(area.get()) && !geos::is_empty(lines.get()));
    return plain_gap(area.get(), lines.get());
}

PreparedArea::PreparedArea(const Region& region) : state_(std::make_unique<State>(geos::shape_of(region))) {}
PreparedArea::PreparedArea(std::unique_ptr<State> state) : state_(std::move(state)) {}
PreparedArea::PreparedArea(PreparedArea&&) noexcept = default;
PreparedArea& PreparedArea::operator=(PreparedArea&&) noexcept = default;
PreparedArea::~PreparedArea() = default;

PreparedArea PreparedArea::along(std::span<const Ring> closed_lines) {
    return PreparedArea(std::make_unique<State>(geos::closed_lines(closed_lines)));
}

double PreparedArea::distance_to(const PreparedArea& other) const {
    double mm = 0.0;
    if (GEOSPreparedDistance_r(geos::context(), state_->prepared.get(), other.state_->shape.get(), &mm) == 0)
        geos::fail();
    return mm;
}

bool PreparedArea::is_within(const PreparedArea& other, double mm) const {
    if (!(mm >= 0.0) || !box().grown(mm).overlaps(other.box())) return false;
    const char answer =
        GEOSPreparedDistanceWithin_r(geos::context(), state_->prepared.get(), other.state_->shape.get(), mm);
    if (answer == 2) geos::fail();
    return answer == 1;
}

Gap PreparedArea::gap_to(const PreparedArea& other) const {
    const GEOSGeometry* to = other.state_->shape.get();
    const double mm = distance_to(other);
    return gap_of(mm, geos::owned(GEOSPreparedNearestPoints_r(geos::context(), state_->prepared.get(), to)),
                  state_->shape.get(), to);
}

const Box& PreparedArea::box() const {
    return state_->box;
}

} // namespace padchart::geometry
