#include "app/caution.hpp"

#include <algorithm>

#include <doctest/doctest.h>

#include "app/line_break.hpp"

namespace padchart::app {
namespace {

/// Every letter is seven wide.
float width_of(std::string_view words) {
    return static_cast<float>(words.size()) * 7.0F;
}

TEST_CASE("every caution finds room in the lines it is given, whatever the width") {
    for (float room = 120.0F; room < 900.0F; room += 7.0F) {
        const int lines = std::max(caution_lines(room, 260.0F, width_of), 1);
        for (const Caution& caution : cautions()) {
            const std::string broken = broken_at_blanks(caution.text, room, width_of);
            CHECK_MESSAGE(std::count(broken.begin(), broken.end(), '\n') < lines, caution.text << " in " << room);
        }
    }
}

TEST_CASE("a caution stands beside position and counts only where both find room") {
    CHECK(caution_lines(900.0F, 260.0F, width_of) == 0);
    CHECK(caution_lines(600.0F, 260.0F, width_of) == 1);
    CHECK(caution_lines(240.0F, 260.0F, width_of) > 1);
}

} // namespace
} // namespace padchart::app
