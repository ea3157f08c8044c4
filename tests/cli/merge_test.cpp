#include <doctest/doctest.h>

#include <array>
#include <string>

#include "cli/run_support.hpp"

using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::contains;
using padchart::tests::read_text;
using padchart::tests::TemporaryFolder;

namespace {

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
    CHECK(answer.out == "1 part merged, 0 conflicts\n");
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
    const Answer json = call({"merge", base, ours, theirs, "-o", out, "--force", "--json"});
    CHECK(contains(json.out, "\"theirs\": \"12k\""));
    CHECK(contains(json.out, "\"base\": null"));
}

TEST_CASE("conflicts are drawn with the thing before and by either hand and said in words") {
    const TemporaryFolder folder;
    const std::string tail = R"(], "keep_outs": [{"id": "k1", "name": "foam", "measure": ")";
    const auto text = [&](const std::string& value, const std::string& measure) {
        return R"({"format": "padchart", "version": 1, "scale": {"mm_per_unit": 1, "source": "drawn"}, "title": {"job": ")" +
               value + R"("}, "parts": [{"id": "r7", "name": "R7", "value": ")" + value +
               R"(", "at_mm": [1, 2], "pads": [{"at_mm": [0, 0], "width_mm": 1, "height_mm": 1}]})" + tail + measure +
               R"(", "outline_mm": [[[4, 0], [8, 0], [8, 2], [4, 2]]]}]})";
    };
    const std::string base = folder.write("base", text("1k", "none"));
    const std::string ours = folder.write("ours", text("10k", "shielded"));
    const std::string theirs = folder.write("theirs", text("12k", "removed"));
    const std::string picture = folder.file("open.svg");
    const Answer answer = call({"merge", base, ours, theirs, "-o", folder.file("out.chart.json"), "--label-ours",
                                "bench 1", "--label-theirs", "bench 2", "--picture", picture});
    CHECK(answer.code == 1);
    CHECK(contains(answer.out, "open.svg"));
    CHECK(contains(answer.out, "open-2.svg"));
    CHECK(contains(answer.out, "open-3.svg")); // chart, part, keep-out
    CHECK(std::filesystem::file_size(picture) > 2000);
    const std::string png = folder.file("open.png");
    const Answer as_json =
        call({"merge", base, ours, theirs, "-o", folder.file("json.chart.json"), "--json", "--picture", png});
    CHECK(as_json.code == 1);
    CHECK(!contains(as_json.out, "open.png")); // JSON alone
    CHECK(read_text(png).substr(1, 3) == "PNG");
    const std::string none = folder.file("none.svg");
    CHECK(call({"merge", base, ours, base, "-o", folder.file("o.chart.json"), "--picture", none}).code == 0);
    CHECK(!std::filesystem::exists(none));
    CHECK(call({"merge", base, ours, theirs, "-o", folder.file("o2.chart.json"), "--picture", "x.bmp"}).code == 129);
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
