#include "base/day.hpp"

#include <doctest/doctest.h>

namespace padchart {

TEST_CASE("a day is one that the calendar has, written year, month, day") {
    for (const char* day : {"2031-04-02", "2024-02-29", "2000-02-29", "1999-12-31"}) {
        CAPTURE(day);
        CHECK(is_day(day));
    }
    // The Gregorian rule of leap years, ISO 8601: 2023, 2100 and 2200 have no 29 February.
    for (const char* none :
         {"", "yesterday", "2031-4-2", "2031-04-31", "2023-02-29", "2100-02-29", "2200-02-29", "2031-13-01",
          "2031-00-10", "2031-04-00", "02.04.2031", "2031-04-02 ", "2031-04-02T10", "2031/04/02"}) {
        CAPTURE(none);
        CHECK_FALSE(is_day(none));
    }
}

} // namespace padchart
