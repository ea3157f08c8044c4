#include <doctest/doctest.h>

#include "cli/run_support.hpp"

using padchart::tests::Answer;
using padchart::tests::call;
using padchart::tests::contains;
using padchart::tests::demo_chart_path;
using padchart::tests::read_text;
using padchart::tests::TemporaryFolder;

TEST_CASE("heat writes a picture beside its answer") {
    const TemporaryFolder folder;
    const Answer answer =
        call({"heat", demo_chart_path(), "--target", "U4", "--cell", "1.5", "--svg", folder.file("heat.svg")});
    CHECK(answer.code != 2);
    CHECK(contains(answer.out, "U4 joints"));
    const std::string svg = read_text(folder.file("heat.svg"));
    CHECK(contains(svg, "<svg"));
    CHECK(contains(svg, "mm\""));
    CHECK(svg.size() > 20000);
}

TEST_CASE("the picture is a bitmap or a document by its ending and the same on every run") {
    const TemporaryFolder folder;
    for (const char* name : {"a.png", "b.png", "a.pdf", "b.pdf"})
        CHECK(call({"heat", demo_chart_path(), "--target", "U4", "--cell", "1.5", "--svg", folder.file(name)}).code !=
              2);
    const std::string png = read_text(folder.file("a.png"));
    CHECK(png.substr(1, 3) == "PNG");
    CHECK(png == read_text(folder.file("b.png")));
    const std::string pdf = read_text(folder.file("a.pdf"));
    CHECK(pdf.substr(0, 5) == "%PDF-");
    CHECK(pdf == read_text(folder.file("b.pdf")));
}

TEST_CASE("an ending the picture cannot have and a folder that is not there are refused") {
    const TemporaryFolder folder;
    const Answer ending =
        call({"heat", demo_chart_path(), "--target", "U4", "--cell", "1.5", "--svg", folder.file("heat.bmp")});
    CHECK(ending.code == 2);
    CHECK(contains(ending.err, "\".bmp\" is not one of pdf, svg, png"));
    const Answer nowhere =
        call({"heat", demo_chart_path(), "--target", "U4", "--cell", "1.5", "--svg", folder.file("no/heat.svg")});
    CHECK(nowhere.code == 2);
}

TEST_CASE("noaim writes the map as a picture") {
    const TemporaryFolder folder;
    const Answer answer =
        call({"noaim", demo_chart_path(), "--target", "U4", "--step", "3", "--svg", folder.file("map.svg")});
    CHECK(answer.code != 2);
    CHECK(contains(read_text(folder.file("map.svg")), "<svg"));
}
