#include "app/desks.hpp"

#include <doctest/doctest.h>

using padchart::app::Desks;

namespace {
struct Pile {
    int height = 3;
};
struct Other {
    int height = 5;
};
} // namespace

TEST_CASE("a desk is made when first asked for and kept") {
    Desks desks;
    CHECK(desks.find<Pile>() == nullptr);
    CHECK(desks.get<Pile>().height == 3);
    desks.get<Pile>().height = 7;
    CHECK(desks.get<Pile>().height == 7);
    REQUIRE(desks.find<Pile>() != nullptr);
    CHECK(desks.find<Pile>()->height == 7);
}

TEST_CASE("desks of two types do not meet") {
    Desks desks;
    desks.get<Pile>().height = 1;
    CHECK(desks.get<Other>().height == 5);
}
