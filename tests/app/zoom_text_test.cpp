#include "app/zoom_text.hpp"

#include <doctest/doctest.h>

namespace padchart::app {

TEST_CASE("the zoom is told in px of a millimetre and from far away in millimetres of a px") {
    CHECK(zoom_text(59.6, true) == "60 px = 1 mm");
    CHECK(zoom_text(9.96, true) == "10.0 px = 1 mm");
    CHECK(zoom_text(1.25, true) == "1.2 px = 1 mm");
    CHECK(zoom_text(0.31, true) == "1 px = 3.2 mm");
    CHECK(zoom_text(0.02, false) == "1 px = 50.0 units");
    CHECK(zoom_text(25, false) == "25 px = 1 unit");
}

} // namespace padchart::app
