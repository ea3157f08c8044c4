#include "app/part_boxes.hpp"

#include "app/editor.hpp"
#include "document/edits.hpp"
#include "support.hpp"
#include "support/chart_generator.hpp"

namespace padchart::app {

TEST_CASE("the kept boxes of parts give the bounds that are worked out from nothing, whatever is edited") {
    document::Chart chart = testing::make_chart(60, 6, 3);
    PartBoxes boxes;
    CHECK(boxes.bounds(chart) == bounds_of(chart));
    const auto id = [&](std::size_t i) { return std::vector{chart.parts[i].id}; };
    chart = document::move_parts(chart, id(59), {200, -50}).value();
    CHECK(boxes.bounds(chart) == bounds_of(chart));
    chart = document::remove_parts(chart, id(3)).value(); // the others take other places in the list
    chart = document::move_parts(chart, id(10), {-300, 0}).value();
    CHECK(boxes.bounds(chart) == bounds_of(chart));
    const document::Chart other = testing::make_chart(59, 4, 8);
    CHECK(boxes.bounds(other) == bounds_of(other));
    CHECK(boxes.bounds(document::Chart()).is_empty());
}

} // namespace padchart::app
