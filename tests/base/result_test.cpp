#include "base/result.hpp"

#include <doctest/doctest.h>

#include <memory>
#include <string>

using namespace padchart;

namespace {

Result<int> half_of(int number) {
    if (number % 2 != 0) return Error{"is odd; right would be an even number", std::to_string(number)};
    return number / 2;
}

} // namespace

TEST_CASE("a result holds a value or the reason why not") {
    REQUIRE(half_of(4));
    CHECK(*half_of(4) == 2);
    REQUIRE_FALSE(half_of(3));
    CHECK(describe(half_of(3).error()) == "3: is odd; right would be an even number");
}

TEST_CASE("an error without a place is its message alone") {
    CHECK(describe({"no room", {}}) == "no room");
}

TEST_CASE("a value that can only be moved comes out again") {
    Result<std::unique_ptr<int>> result = std::make_unique<int>(7);
    const std::unique_ptr<int> value = std::move(result).value();
    CHECK(*value == 7);
}

TEST_CASE("a result of nothing is done or failed") {
    CHECK(Result<void>{});
    const Result<void> failed = Error{"disk full", "a.chart.json"};
    CHECK_FALSE(failed);
    CHECK(failed.error().where == "a.chart.json");
}
