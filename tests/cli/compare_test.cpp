#include <doctest/doctest.h>

#include <string>

#include "cli/run_support.hpp"

using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::contains;
using padchart::tests::TemporaryFolder;

namespace {

std::string chart(const std::string& value, const std::string& at) {
    return R"({"format": "padchart", "version": 1, "scale": {"mm_per_unit": 1, "source": "two-points"},
"board": {"outline_mm": [[[0, 0], [20, 0], [20, 10], [0, 12]]]},
"parts": [{"id": "r7", "name": "R7", "value": ")" +
           value + R"(", "class": "resistor", "at_mm": )" + at + R"(},
{"id": "c1", "name": "C1", "class": "ceramic-capacitor", "at_mm": [3, 3]}]})";
}

} // namespace

TEST_CASE("compare says how many parts were compared where nothing differs") {
    const TemporaryFolder folder;
    const std::string file = folder.write("a.chart.json", chart("10k", "[5, 5]"));
    const Answer answer = call({"compare", file, file});
    CHECK(answer.code == 0);
    CHECK(contains(answer.out, "2 parts and 0 readings compared (2 parts before, 2 after): no difference."));
    CHECK(answer.err.empty());
}

TEST_CASE("compare lists differences and takes tolerances") {
    const TemporaryFolder folder;
    const std::string before = folder.write("a.chart.json", chart("10k", "[5, 5]"));
    const std::string after = folder.write("b.chart.json", chart("12k", "[5.5, 5]"));
    const Answer answer = call({"compare", before, after});
    CHECK(answer.code == 1);
    CHECK(contains(answer.out, "R7 has moved by 0.50 mm (+0.50 right, +0.00 down)."));
    CHECK(contains(answer.out, "R7 has another value: \"10k\" before, \"12k\" now."));
    CHECK(contains(answer.out, "2 differences."));
    const Answer coarse = call({"compare", before, after, "--moved-mm", "0.6", "--json"});
    CHECK(coarse.code == 1);
    CHECK(!contains(coarse.out, "\"moved\""));
    CHECK(contains(coarse.out, "\"kind\": \"value\""));
    CHECK(call({"compare", before, after, "--moved-mm", "-1"}).code == 2);
    CHECK(contains(call({"compare", before, folder.file("none")}).err, "No such file"));
}
