#include "geometry/box_index.hpp"

#include <doctest/doctest.h>

#include "support/random_shapes.hpp"

using namespace padchart::geometry;
using padchart::testing::Random;

namespace {

std::vector<std::size_t> scan(const std::vector<Box>& boxes, const Box& wanted) {
    std::vector<std::size_t> found;
    for (std::size_t i = 0; i < boxes.size(); ++i)
        if (!boxes[i].is_empty() && boxes[i].overlaps(wanted)) found.push_back(i);
    return found;
}

Box random_box(Random& random) {
    const Vec2 at = random.point(50);
    // Now and then a point, a line, or nothing at all.
    if (random.chance(0.05)) return {};
    const double w = random.chance(0.1) ? 0.0 : random.between(0, 4);
    const double h = random.chance(0.1) ? 0.0 : random.between(0, 4);
    return {at, at + Vec2{w, h}};
}

} // namespace

TEST_CASE("the index finds the boxes a scan finds in rising order") {
    Random random(71);
    for (const std::size_t count : {0U, 1U, 2U, 9U, 10U, 11U, 500U}) {
        std::vector<Box> boxes;
        for (std::size_t i = 0; i < count; ++i)
            boxes.push_back(random_box(random));
        const BoxIndex index(boxes);
        for (int i = 0; i < 200; ++i) {
            const Box wanted = random_box(random);
            CHECK(index.touching(wanted) == scan(boxes, wanted));
        }
        CHECK(index.touching(Box{{-100, -100}, {100, 100}}) == scan(boxes, Box{{-100, -100}, {100, 100}}));
    }
}

TEST_CASE("boxes that only touch are found") {
    const std::vector<Box> boxes{{{0, 0}, {1, 1}}, {{2, 0}, {3, 1}}};
    const BoxIndex index(boxes);
    CHECK(index.touching(Box{{1, 1}, {1, 1}}) == std::vector<std::size_t>{0});
    CHECK(index.touching(Box{{1, 0}, {2, 1}}) == std::vector<std::size_t>{0, 1});
    CHECK(index.touching(Box{}).empty());
}

TEST_CASE("a moved index answers as before") {
    std::vector<Box> boxes{{{0, 0}, {1, 1}}};
    BoxIndex first(boxes);
    const BoxIndex second(std::move(first));
    boxes.clear();
    CHECK(second.touching(Box{{0, 0}, {2, 2}}).size() == 1);
}
