// The turn-symmetry table of the trade facts: 34 land patterns. Expected turns: own arithmetic from the stated
// coordinates, as in that table.

#include "analysis/fit.hpp"

#include <doctest/doctest.h>

#include "fit_patterns.hpp"

using namespace padchart;
using analysis::fit_of;
using test::pattern_named;
using test::written;

namespace {

constexpr double kMeasuring_mm = 0.02;

} // namespace

TEST_CASE("Each pattern of the table lies exactly on itself at the turns the table gives") {
    const std::vector<test::TableRow> table = test::turn_table();
    CHECK(table.size() == 35);
    for (const test::TableRow& row : table) {
        CAPTURE(row.name);
        CHECK(written(fit_of(row.part, kMeasuring_mm).exact_turns) == written(row.exact));
        CHECK(written(analysis::exact_turns(row.part)) == written(row.exact));
    }
}

TEST_CASE("Each pattern of the table seats without a shift at the turns the table gives") {
    for (const test::TableRow& row : test::turn_table()) {
        CAPTURE(row.name);
        CHECK(written(fit_of(row.part, kMeasuring_mm).seating_turns_unshifted) == written(row.seats_unshifted));
    }
}

TEST_CASE("Each pattern of the table seats at the best shift as worked out") {
    for (const test::TableRow& row : test::turn_table()) {
        CAPTURE(row.name);
        CHECK(written(fit_of(row.part, kMeasuring_mm).seating_turns) == written(row.seats_at_best_shift));
    }
}
