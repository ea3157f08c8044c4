#include <doctest/doctest.h>

#include <filesystem>
#include <string>
#include <tuple>

#include "cli/run_support.hpp"

using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::contains;
using padchart::tests::read_text;
using padchart::tests::TemporaryFolder;

namespace {

std::string chart(const std::string& value, const std::string& more = "") {
    return R"({"format": "padchart", "version": 1, "scale": {"mm_per_unit": 1, "source": "two-points"},
"board": {"outline_mm": [[[0, 0], [20, 0], [20, 10], [0, 12]]]},
"parts": [{"id": "r7", "name": "R7", "value": ")" +
           value + R"(", "class": "resistor", "at_mm": [5, 5]}])" + more + "}";
}

std::string replaced(std::string text, std::string_view from, std::string_view to) {
    text.replace(text.find(from), from.size(), to);
    return text;
}

} // namespace

TEST_CASE("a frozen chart is compared with its copy without naming it") {
    const TemporaryFolder folder;
    const std::string file = folder.write("board.chart.json", chart("10k"));
    const Answer frozen = call({"freeze", file, "--by", "bench 2", "--date", "2031-04-02"});
    CHECK(frozen.code == 0);
    CHECK(contains(frozen.out, "board.before.chart.json: 1 part kept as before"));
    const Answer same = call({"compare", file});
    CHECK(same.code == 0);
    CHECK(contains(same.out, "Looked at again: 0 of 1 compared; 0 differ; 1 not checked again."));
    std::ignore = folder.write("board.chart.json", replaced(read_text(file), "10k", "12k"));
    const Answer other = call({"compare", file, "--json"});
    CHECK(other.code == 1);
    CHECK(contains(other.out, "\"kind\": \"value\""));
    CHECK(contains(other.out, "\"not_checked\": 1"));
}

TEST_CASE("what is handed over tells what the comparison with before found, or why there is none") {
    const TemporaryFolder folder;
    const std::string file = folder.write("board.chart.json", chart("10k"));
    const auto page_of_it = [&] {
        CHECK(call({"sheet", file, "-o", folder.file("board.html"), "--force"}).code == 0);
        return read_text(folder.file("board.html"));
    };
    CHECK_FALSE(contains(page_of_it(), "Compared with before"));
    CHECK(call({"freeze", file}).code == 0);
    CHECK(contains(page_of_it(), "Not everything was looked at again."));
    std::ignore = folder.write("board.chart.json", replaced(read_text(file), "\"at_mm\": [5, 5]", "\"at_mm\": [9, 5]"));
    const std::string moved = page_of_it();
    CHECK(contains(moved, "One part differs."));
    CHECK(contains(moved, "What differs from before"));
    std::filesystem::remove(folder.file("board.before.chart.json"));
    const std::string gone = page_of_it();
    CHECK(contains(gone, "The chart from before, board.before.chart.json, cannot be used: "));
}

TEST_CASE("freezing again keeps the older copy and the same content makes no second one") {
    const TemporaryFolder folder;
    const std::string file = folder.write("board.chart.json", chart("10k"));
    CHECK(call({"freeze", file}).code == 0);
    const std::string first = read_text(folder.file("board.before.chart.json"));
    CHECK(call({"freeze", file}).code == 0);
    CHECK_FALSE(std::filesystem::exists(folder.file("board.before-2.chart.json")));
    std::ignore = folder.write("board.chart.json", replaced(read_text(file), "10k", "12k"));
    CHECK(call({"freeze", file}).code == 0);
    CHECK(read_text(folder.file("board.before.chart.json")) == first);
    CHECK(contains(read_text(folder.file("board.before-2.chart.json")), "12k"));
    CHECK(contains(read_text(file), "board.before-2.chart.json"));
    CHECK(call({"compare", file}).code == 0);
}

TEST_CASE("freezing anew takes the ticks of the last comparison off and leaves them in the copy") {
    const TemporaryFolder folder;
    const std::string ticks = R"(, "ticks": [{"id": "t1", "task": "bridges", "done": true}])";
    const std::string file = folder.write("board.chart.json", chart("10k", ticks));
    CHECK(call({"freeze", file}).code == 0);
    CHECK_FALSE(contains(read_text(file), "bridges"));
    CHECK(contains(read_text(folder.file("board.before.chart.json")), "bridges"));
}

TEST_CASE("check tells of a copy that is gone or was changed and does not fail") {
    const TemporaryFolder folder;
    const std::string file = folder.write("board.chart.json", chart("10k"));
    CHECK(call({"freeze", file}).code == 0);
    CHECK_FALSE(contains(call({"check", file, "--json"}).out, "\"before-"));
    const std::string copy = folder.file("board.before.chart.json");
    std::ignore = folder.write("board.before.chart.json", replaced(read_text(copy), "10k", "11k"));
    CHECK(contains(call({"check", file, "--json"}).out, "\"code\": \"before-changed\""));
    const Answer compared = call({"compare", file});
    CHECK(compared.code == 1);
    CHECK(contains(compared.err, "is not as it was when it was frozen"));
    std::ignore = folder.write("board.before.chart.json", "no chart");
    CHECK(contains(call({"check", file, "--json"}).out, "\"code\": \"before-unreadable\""));
    std::filesystem::remove(copy);
    const Answer gone = call({"check", file, "--json"});
    CHECK(gone.code != 2);
    CHECK(contains(gone.out, "\"code\": \"before-missing\""));
    CHECK(call({"compare", file}).code == 2);
}

TEST_CASE("what is no day of the calendar is refused before anything is written") {
    const TemporaryFolder folder;
    const std::string file = folder.write("board.chart.json", chart("10k"));
    for (const char* none : {"yesterday", "2031-02-30", "02.04.2031"}) {
        const Answer answer = call({"freeze", file, "--date", none});
        CHECK(answer.code == 2);
        CHECK(contains(answer.err, none));
        CHECK(contains(answer.err, "such as 2031-04-02"));
    }
    CHECK_FALSE(std::filesystem::exists(std::filesystem::path(file).parent_path() / "board.before.chart.json"));
}

TEST_CASE("a chart that was never frozen needs a second one to be compared with") {
    const TemporaryFolder folder;
    const std::string file = folder.write("board.chart.json", chart("10k"));
    const Answer answer = call({"compare", file});
    CHECK(answer.code == 2);
    CHECK(contains(answer.err, "was not frozen as before"));
    CHECK(contains(answer.err, "board.chart.json"));
}

TEST_CASE("a shield that still lies on the board or a measure not undone ends a comparison with 1") {
    const TemporaryFolder folder;
    const std::string plain = folder.write("a.chart.json", chart("10k"));
    const std::string outline = R"("outline_mm": [[[1, 1], [2, 1], [2, 2]]])";
    const std::string taped =
        folder.write("b.chart.json", chart("10k", R"(, "shields": [{"id": "s1", "name": "S1", )" + outline + "}]"));
    const std::string covered = folder.write(
        "c.chart.json", chart("10k", R"(, "keep_outs": [{"id": "k1", "measure": "shielded", )" + outline + "}]"));
    const std::string bare =
        folder.write("d.chart.json", chart("10k", R"(, "keep_outs": [{"id": "k1", )" + outline + "}]"));
    CHECK(call({"compare", plain, plain}).code == 0);
    const Answer left = call({"compare", taped, taped});
    CHECK(left.code == 1);
    CHECK(contains(left.out, "no difference, 1 thing may still lie on the board or be off it."));
    CHECK(call({"compare", covered, covered}).code == 1);
    const Answer undone = call({"compare", covered, bare});
    CHECK(undone.code == 1);
    CHECK(contains(undone.out, "was shielded before and is bare now"));
    CHECK(call({"compare", bare, bare}).code == 0);
}
