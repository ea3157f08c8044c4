#include "paint/sfml_ground.hpp"

#include <doctest/doctest.h>

namespace padchart::paint {
namespace {

using geometry::Box;
using geometry::Vec2;

const View kView{{10, 5}, {{0, 0}, {400, 200}}, 10.0, 1.0}; // 40 x 20 mm

geometry::Ring square(Vec2 at, double half) {
    return {
        {at.x - half, at.y - half}, {at.x + half, at.y - half}, {at.x + half, at.y + half}, {at.x - half, at.y + half}};
}

std::shared_ptr<const PreparedScene> squares(const std::vector<Vec2>& places, double half) {
    auto scene = std::make_shared<scene::Scene>();
    for (const Vec2 at : places)
        scene->add(scene::Role::PadCopper, scene::Fill{{square(at, half), {}}});
    return prepared(scene);
}

Box box_of(const Ground& ground) {
    Box box;
    for (const sf::Vertex& v : ground.quads.vertices())
        box.add(Vec2{static_cast<double>(v.position.x), static_cast<double>(v.position.y)});
    return box;
}

} // namespace

TEST_CASE("the quads of a ground are pixels about the centre of its view") {
    const auto ground = ground_of(squares({{12, 6}}, 1.0), kView, paper_theme());
    const Box box = box_of(*ground);
    CHECK(box.min.x == doctest::Approx(10)); // 12 - 1 - 10 mm, 10 px each
    CHECK(box.max.x == doctest::Approx(30));
    CHECK(box.min.y == doctest::Approx(0));
    CHECK(box.max.y == doctest::Approx(20));
}

TEST_CASE("a ground reaches as far round its view as is asked, and leaves out what lies beyond") {
    const auto scene = squares({{10, 5}, {34, 5}, {39, 5}}, 0.5); // the view ends at 30 mm
    const Around wide{1.5, 1.1};
    CHECK(ground_of(scene, kView, paper_theme())->quads.vertices().size() == 8);        // to 35 mm
    CHECK(ground_of(scene, kView, paper_theme(), wide)->quads.vertices().size() == 12); // to 40 mm
}

TEST_CASE("a ground serves every view of its zoom that it reaches round, under its theme alone") {
    const auto ground = ground_of(squares({{10, 5}}, 1.0), kView, paper_theme());
    const auto moved = [](double by) {
        View view = kView;
        view.centre_mm.x += by;
        return view;
    };
    CHECK(serves(*ground, kView, paper_theme()));
    CHECK(serves(*ground, moved(4.9), paper_theme())); // a quarter of half the view is 5 mm
    CHECK_FALSE(serves(*ground, moved(5.1), paper_theme()));
    CHECK_FALSE(serves(*ground, kView, *find_theme("dark-room")));
    View nearer = kView;
    nearer.px_per_mm = 11;
    CHECK_FALSE(serves(*ground, nearer, paper_theme()));
    View larger = kView;
    larger.ui_scale = 2;
    CHECK_FALSE(serves(*ground, larger, paper_theme()));
}

TEST_CASE("of what is to be kept round a view the ground is asked for in time") {
    const Around around{1.5, 1.1};
    View view = kView;
    view.centre_mm.x += 7.9; // 0.4 of half the view may be panned
    CHECK(serves(kView, view, around));
    view.centre_mm.x += 0.2;
    CHECK_FALSE(serves(kView, view, around));
}

} // namespace padchart::paint
