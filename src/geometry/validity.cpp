#include "geometry/validity.hpp"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "geometry/geos_bridge.hpp"

namespace padchart::geometry {

namespace {

/// GEOS speaks of topology; the technician sees a line that crosses itself.
std::string in_plain_words(std::string_view reason) {
    static constexpr std::array<std::pair<std::string_view, std::string_view>, 8> kWords{{
        {"Self-intersection", "crosses itself"},
        {"Ring Self-intersection", "touches itself"},
        {"Hole lies outside shell", "has a hole outside its outline"},
        {"Holes are nested", "has a hole inside a hole"},
        {"Interior is disconnected", "is cut in two by its holes"},
        {"Duplicate Rings", "has the same hole twice"},
        {"Too few points in geometry component", "has fewer than three different points"},
        {"Invalid Coordinate", "has a number that is not finite"},
    }};
    const auto* const found =
        std::find_if(kWords.begin(), kWords.end(), [&](const auto& word) { return word.first == reason; });
    return std::string(found != kWords.end() ? found->second : reason);
}

bool on_one_line(std::span<const Vec2> ring) {
    const auto farthest = std::max_element(ring.begin(), ring.end(), [&](Vec2 a, Vec2 b) {
        return distance(ring.front(), a) < distance(ring.front(), b);
    });
    const Vec2 along = *farthest - ring.front();
    const double limit = 1e-12 * dot(along, along);
    return std::all_of(ring.begin(), ring.end(),
                       [&](Vec2 p) { return std::abs(cross(along, p - ring.front())) <= limit; });
}

std::optional<Flaw> simple_flaw_of(std::span<const Vec2> ring) {
    if (ring.empty()) return Flaw{"has fewer than three different points", {}};
    const auto bad = std::find_if(ring.begin(), ring.end(), [](Vec2 p) { return !is_finite(p); });
    if (bad != ring.end()) return Flaw{"has a number that is not finite", *bad};
    if (!geos::is_drawable(ring)) return Flaw{"has fewer than three different points", ring.front()};
    if (on_one_line(ring)) return Flaw{"has no area", ring.front()};
    return std::nullopt;
}

Vec2 place_of(const GEOSGeometry* point) {
    Vec2 at;
    if (point == nullptr || geos::is_empty(point)) return at;
    GEOSGeomGetX_r(geos::context(), point, &at.x);
    GEOSGeomGetY_r(geos::context(), point, &at.y);
    return at;
}

std::optional<Flaw> flaw_of_drawn(const Polygon& polygon) {
    const geos::Geometry raw = geos::raw_polygon(polygon);
    char* reason_made = nullptr;
    GEOSGeometry* place_made = nullptr;
    const char answer = GEOSisValidDetail_r(geos::context(), raw.get(), 0, &reason_made, &place_made);
    const geos::Owner<char> reason(reason_made);
    const geos::Geometry place(place_made);
    if (answer == 2) geos::fail();
    if (answer == 1) return std::nullopt;
    return Flaw{in_plain_words(reason ? reason.get() : ""), place_of(place.get())};
}

} // namespace

std::optional<Flaw> flaw_of(const Polygon& polygon) {
    if (auto flaw = simple_flaw_of(polygon.outer)) return flaw;
    for (const Ring& hole : polygon.holes)
        if (auto flaw = simple_flaw_of(hole)) return Flaw{"has a hole that " + flaw->reason, flaw->at};
    return flaw_of_drawn(polygon);
}

Region mended(const Polygon& polygon) {
    return geos::region_of(geos::mended_area(polygon).get());
}

} // namespace padchart::geometry
