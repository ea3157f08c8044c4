#include "scene/hit_test.hpp"

#include <cmath>
#include <random>

#include <doctest/doctest.h>

#include "scene/chart_scene.hpp"
#include "support/sample_chart.hpp"

using namespace padchart;
using namespace padchart::scene;
using geometry::Box;
using geometry::Vec2;

namespace {

// The slow twin: no boxes, no grid. Inside by the sum of angles, distance by halving along each edge.

bool slow_inside(const geometry::Ring& ring, Vec2 p) {
    double turn = 0.0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 a = ring[i] - p;
        const Vec2 b = ring[(i + 1) % ring.size()] - p;
        turn += std::atan2(geometry::cross(a, b), geometry::dot(a, b));
    }
    return std::abs(turn) > 3.0;
}

double slow_distance(Vec2 p, Vec2 a, Vec2 b) {
    double low = 0.0;
    double high = 1.0;
    for (int i = 0; i < 80; ++i) {
        const double first = low + (high - low) / 3.0;
        const double second = high - (high - low) / 3.0;
        if (geometry::distance(p, geometry::lerp(a, b, first)) < geometry::distance(p, geometry::lerp(a, b, second)))
            high = second;
        else
            low = first;
    }
    return geometry::distance(p, geometry::lerp(a, b, (low + high) / 2.0));
}

double slow_distance(Vec2 p, const std::vector<Vec2>& points, bool closed) {
    double nearest = 1e9;
    for (std::size_t i = 0; i + 1 < points.size(); ++i)
        nearest = std::min(nearest, slow_distance(p, points[i], points[i + 1]));
    if (closed) nearest = std::min(nearest, slow_distance(p, points.back(), points.front()));
    return nearest;
}

std::optional<std::int32_t> slow_at(const Scene& scene, Vec2 p, double reach) {
    for (auto item = scene.items.rbegin(); item != scene.items.rend(); ++item) {
        if (item->source < 0) continue;
        bool hit = false;
        if (item->kind == Item::Kind::Fill) {
            const geometry::Ring& ring = scene.fills[item->index].area.outer;
            hit = slow_inside(ring, p) || slow_distance(p, ring, true) <= reach;
        }
        if (item->kind == Item::Kind::Line)
            hit = slow_distance(p, scene.lines[item->index].points, scene.lines[item->index].closed) <= reach;
        if (item->kind == Item::Kind::Symbol) hit = geometry::distance(p, scene.symbols[item->index].at) <= reach;
        if (hit) return item->source;
    }
    return std::nullopt;
}

/// Star-shaped, so that it does not cross itself.
geometry::Ring random_ring(std::mt19937& random, Vec2 centre) {
    std::uniform_real_distribution<double> radius(0.2, 2.0);
    geometry::Ring ring;
    for (int i = 0; i < 7; ++i)
        ring.push_back(centre + geometry::direction(Angle::degrees(i * 360.0 / 7)) * radius(random));
    return ring;
}

Scene random_scene(std::mt19937& random) {
    std::uniform_real_distribution<double> place(-15.0, 15.0);
    Scene scene;
    for (int i = 0; i < 120; ++i) {
        const std::int32_t source = scene.add_source(document::Id{"t" + std::to_string(i)});
        const Vec2 at{place(random), place(random)};
        if (i % 3 == 0)
            scene.add(Role::Body, Fill{{random_ring(random, at), {}}}, source);
        else if (i % 3 == 1)
            scene.add(Role::BodyEdge, Line{random_ring(random, at), i % 2 == 0, Weight::Thin}, source);
        else
            scene.add(Role::BadgeNote, Symbol{at, Sign::NoteSign, 9.0}, source);
    }
    scene.add(Role::Board, Fill{{{{-20, -20}, {20, -20}, {20, 20}, {-20, 20}}, {}}}); // nobody's: never hit
    return scene;
}

} // namespace

TEST_CASE("the hit test answers as looking at every shape from the top does") {
    std::mt19937 random(20310402);
    std::uniform_real_distribution<double> place(-18.0, 18.0);
    std::size_t hits = 0;
    for (int round = 0; round < 8; ++round) {
        const Scene scene = random_scene(random);
        const HitTest test(scene);
        for (int i = 0; i < 150; ++i) {
            const Vec2 p{place(random), place(random)};
            const double reach = i % 4 == 0 ? 0.0 : 0.4;
            const std::optional<std::int32_t> expected = slow_at(scene, p, reach);
            hits += expected.has_value();
            CHECK(test.at(p, reach) == expected);
        }
    }
    CHECK(hits > 200); // the comparison was not about empty ground
}

TEST_CASE("a reach as large as the board still finds the topmost thing") {
    std::mt19937 random(7);
    const Scene scene = random_scene(random);
    CHECK(HitTest(scene).at({0, 0}, 100.0) == slow_at(scene, {0, 0}, 100.0));
    CHECK_FALSE(HitTest(Scene{}).at({0, 0}, 5.0).has_value());
}

TEST_CASE("a pad over a body is hit before the body and a hole in a keep-out is not hit") {
    const document::Chart chart = test::sample_chart();
    const Scene scene = chart_scene(chart, {}, {});
    const HitTest test(scene);
    const document::Footprint& u4 = chart.parts[1];
    const Vec2 ball = document::board_from_part(u4.placement)(u4.pads[5].at);
    const std::optional<std::int32_t> hit = test.at(ball, 0.0);
    REQUIRE(hit.has_value());
    CHECK(scene.sources[static_cast<std::size_t>(*hit)].id == u4.id);
    CHECK(scene.sources[static_cast<std::size_t>(*hit)].pad == 5);
    Scene ring;
    const std::int32_t source = ring.add_source(document::Id{"k"});
    ring.add(Role::KeepOut, Fill{{{{0, 0}, {9, 0}, {9, 9}, {0, 9}}, {{{3, 3}, {6, 3}, {6, 6}, {3, 6}}}}}, source);
    CHECK(HitTest(ring).at({1, 1}, 0.0).has_value());
    CHECK_FALSE(HitTest(ring).at({4.5, 4.5}, 0.5).has_value());
    CHECK(HitTest(ring).at({3.2, 4.5}, 0.5).has_value());
}

TEST_CASE("a missing part is hit anywhere within its outline and its pads before that") {
    document::Chart chart = test::sample_chart();
    document::Footprint big = chart.parts[1];
    big.condition.presence = document::Presence::Missing;
    big.body.emplace();
    big.body->shape = {document::ShapeKind::Rectangle, 3.0, 3.0, {}};
    chart.parts.replace(1, big);
    const Scene scene = chart_scene(chart, {}, {});
    const HitTest test(scene);
    const auto at = [&](Vec2 in_part) {
        const auto hit = test.at(document::board_from_part(big.placement)(in_part), 0.0);
        REQUIRE(hit.has_value());
        return scene.sources[static_cast<std::size_t>(*hit)];
    };
    CHECK(at({-1.4, 1.4}).id == big.id); // far from any pad
    CHECK(at(big.pads[5].at).id == big.id);
    CHECK(at(big.pads[5].at).pad == 5);
}

TEST_CASE("the outline of something missing is hit above a ground and below what lies on it") {
    Scene scene;
    const auto square = [](double r) { return geometry::Ring{{-r, -r}, {r, -r}, {r, r}, {-r, r}}; };
    const std::int32_t ground = scene.add_source(document::Id{"ground"});
    const std::int32_t missing = scene.add_source(document::Id{"missing"});
    const std::int32_t above = scene.add_source(document::Id{"above"});
    scene.add(Role::KeepOut, Fill{{square(9), {}}}, ground);
    scene.add(Role::MissingEdge, Line{square(5), true, Weight::Normal}, missing);
    scene.add(Role::Body, Fill{{square(1), {}}}, above);
    const HitTest test(scene);
    CHECK(test.at({7, 7}, 0.0) == ground);
    CHECK(test.at({3, 3}, 0.0) == missing);
    CHECK(test.at({0, 0}, 0.0) == above);
    CHECK_FALSE(test.at({20, 20}, 0.0).has_value());
}

TEST_CASE("a marquee takes what lies wholly inside or what it touches") {
    const document::Chart chart = test::sample_chart();
    const Scene scene = chart_scene(chart, {}, {});
    const HitTest test(scene);
    const auto has = [](const std::vector<document::Id>& ids, std::string_view name) {
        return std::find(ids.begin(), ids.end(), document::id_of("part", name)) != ids.end();
    };
    // C11 spans x 4.77 to 6.03 with its lands, C12 lies below it, both inside; U1 is cut by the left edge.
    const Box box{{3.5, 3.0}, {6.2, 5.0}};
    const std::vector<document::Id> inside = test.in(box, false);
    CHECK(has(inside, "C11"));
    CHECK(has(inside, "C12"));
    CHECK_FALSE(has(inside, "U1"));
    CHECK(has(test.in(box, true), "U1"));
    CHECK_FALSE(has(test.in(box, true), "J2"));
    // Wholly within one body: touched, not inside.
    const Box within{{11.9, 7.5}, {12.1, 7.7}};
    CHECK(test.in(within, false).empty());
    CHECK(has(test.in(within, true), "J2"));
}

TEST_CASE("a marquee answers as looking at every corner does") {
    std::mt19937 random(99);
    std::uniform_real_distribution<double> place(-16.0, 16.0);
    const Scene scene = random_scene(random);
    const HitTest test(scene);
    for (int i = 0; i < 60; ++i) {
        Box box;
        box.add(Vec2{place(random), place(random)});
        box.add(Vec2{place(random), place(random)});
        std::vector<document::Id> expected;
        for (const Item& item : scene.items) {
            if (item.source < 0) continue;
            bool inside = true;
            if (item.kind == Item::Kind::Fill)
                for (const Vec2 p : scene.fills[item.index].area.outer)
                    inside = inside && box.contains(p);
            if (item.kind == Item::Kind::Line)
                for (const Vec2 p : scene.lines[item.index].points)
                    inside = inside && box.contains(p);
            if (item.kind == Item::Kind::Symbol) inside = box.contains(scene.symbols[item.index].at);
            if (inside) expected.push_back(scene.sources[static_cast<std::size_t>(item.source)].id);
        }
        CHECK(test.in(box, false) == expected);
    }
}
