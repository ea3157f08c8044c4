#include "app/heat_pace.hpp"

#include <doctest/doctest.h>

namespace padchart::app {

TEST_CASE("two slow answers one after the other make the grid coarser and one alone does not") {
    LiveGrid grid;
    grid.took(300.0); // made its grid
    CHECK(grid.coarser() == 1.0);
    grid.took(10.0);
    grid.took(300.0);
    CHECK(grid.coarser() == 1.0);
    grid.took(40.0);
    CHECK(grid.coarser() > 1.2);
}

TEST_CASE("the grid gets no coarser than shows small parts and finer again once there is time") {
    LiveGrid grid;
    for (int k = 0; k < 50; ++k)
        grid.took(200.0);
    CHECK(grid.coarser() == LiveGrid::kMostCoarser);
    for (int k = 0; k < 200; ++k)
        grid.took(5.0);
    CHECK(grid.coarser() == 1.0);
    // Neither slow nor quick: it stays.
    grid.took(50.0);
    grid.took(50.0);
    const double coarser = grid.coarser();
    for (int k = 0; k < 200; ++k)
        grid.took(20.0);
    CHECK(grid.coarser() == coarser);
}

TEST_CASE("a question is due two frames after the one in which it was asked") {
    FramePace pace;
    CHECK(pace.due() == 0);
    pace.frame_begins();
    pace.asked(1);
    CHECK(pace.due() == 0);
    pace.frame_begins();
    pace.asked(2);
    pace.asked(3); // of two in one frame only the last can be seen
    CHECK(pace.due() == 0);
    pace.frame_begins();
    CHECK(pace.due() == 1);
    pace.frame_begins();
    CHECK(pace.due() == 3);
    for (std::uint64_t number = 4; number < 40; ++number) {
        pace.frame_begins();
        pace.asked(number);
        CHECK(pace.due() == (number < 6 ? 3 : number - 2));
    }
}

} // namespace padchart::app
