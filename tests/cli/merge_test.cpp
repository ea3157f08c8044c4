#include <doctest/doctest.h>

#include <array>
#include <string>

#include "cli/run_support.hpp"

using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::read_text;
using padchart::tests::TemporaryFolder;

namespace {

bool contains(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

std::string chart(const std::string& fields) {
    return R"({"format": "padchart", "version": 1, "parts": [{"id": "r7", "name": "R7", "at_mm": [1, 2])" + fields +
           "}]}";
}

} // namespace

TEST_CASE("merge writes the combined chart and says that nothing was in conflict") {
    const TemporaryFolder folder;
    const std::string base = folder.write("base", chart(""));
    const std::string ours = folder.write("ours", chart(R"(, "value": "10k")"));
    const std::string theirs = folder.write("theirs", chart(R"(, "role": "pull-up")"));
    const Answer answer = call({"merge", base, ours, theirs, "-o", ours});
    CHECK(answer.code == 0);
    CHECK(answer.out == "1 parts merged, 0 conflicts\n");
    CHECK(contains(read_text(ours), "\"value\": \"10k\""));
    CHECK(contains(read_text(ours), "\"role\": \"pull-up\""));
}

TEST_CASE("merge ends with 1 on a conflict and check lists it with who said what") {
    const TemporaryFolder folder;
    const std::string base = folder.write("base", chart(""));
    const std::string ours = folder.write("ours", chart(R"(, "value": "10k")"));
    const std::string theirs = folder.write("theirs", chart(R"(, "value": "12k")"));
    const std::string out = folder.file("out.chart.json");
    const Answer answer =
        call({"merge", base, ours, theirs, "-o", out, "--label-ours", "bench 1", "--label-theirs", "bench 2"});
    CHECK(answer.code == 1);
    CHECK(contains(answer.out, "conflict: R7 value: bench 1 has \"10k\", bench 2 has \"12k\""));
    const Answer check = call({"check", out, "--json"});
    CHECK(contains(check.out, "\"code\": \"merge-conflict\""));
    CHECK(contains(check.out, "R7, value: bench 1 says \\\"10k\\\", bench 2 says \\\"12k\\\"."));
    const Answer json = call({"merge", base, ours, theirs, "-o", out, "--json"});
    CHECK(contains(json.out, "\"theirs\": \"12k\""));
    CHECK(contains(json.out, "\"base\": null"));
}

TEST_CASE("merge takes an empty base as nothing and stops git where a file is no chart") {
    const TemporaryFolder folder;
    const std::string empty = folder.write("empty", "");
    const std::string ours = folder.write("ours", chart(""));
    const std::string broken = folder.write("broken", "no chart");
    const std::string out = folder.file("out.chart.json");
    CHECK(call({"merge", empty, ours, ours, "-o", out}).code == 0);
    // git-merge's manual, on merge drivers: an exit code above 128 is an error, not a conflict (from memory).
    for (const auto& [base, one, other] : {std::array{broken, ours, ours}, std::array{ours, broken, ours},
                                           std::array{ours, ours, broken}, std::array{ours, empty, ours}}) {
        const Answer answer = call({"merge", base, one, other, "-o", out});
        CHECK(answer.code == 129);
        CHECK(!answer.err.empty());
    }
    CHECK(call({"merge", ours, ours, ours, "-o", "/nowhere/out"}).code == 129);
}
