#include "base/counted.hpp"

#include <doctest/doctest.h>

namespace padchart {

TEST_CASE("one thing is counted in the singular, none and many in the plural") {
    CHECK(counted(0, "part") == "0 parts");
    CHECK(counted(1, "keep-out") == "1 keep-out");
    CHECK(counted(2, "part") == "2 parts");
}

} // namespace padchart
