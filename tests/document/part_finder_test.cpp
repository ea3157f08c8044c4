#include "document/part_finder.hpp"

#include <doctest/doctest.h>

#include "support/chart_generator.hpp"

namespace padchart::document {
namespace {

TEST_CASE("parts are found by their ids as find_part finds them, in any order and more than once") {
    const Chart chart = testing::make_chart(23, 2, 1);
    PartFinder finder(chart);
    for (std::size_t k = 0; k < 2000; ++k) { // long enough for the index
        const Id& id = chart.parts[k * 7 % 23].id;
        CHECK(finder.find(id) == find_part(chart, id));
    }
    CHECK_FALSE(finder.find(Id{"nobody"}));
    CHECK(finder.find(chart.parts[22].id) == 22);
    CHECK(finder.find(chart.parts[0].id) == 0);
    const Chart empty;
    CHECK_FALSE(PartFinder(empty).find(Id{"part-1"}));
}

} // namespace
} // namespace padchart::document
