// Hostile and huge drawings end with a finding, not with the machine's memory.
#include <algorithm>

#include "read_support.hpp"
#include "svg/trace_to_chart.hpp"

namespace padchart::svg {
namespace {

using namespace test;

std::string repeated(const std::string& text, int times) {
    std::string out;
    for (int i = 0; i < times; ++i)
        out += text;
    return out;
}

TEST_CASE("rules that would be held against shapes for ever are given up and told") {
    std::string text = "<style>";
    for (int i = 0; i < 7'000; ++i)
        text += "rect[data-k='" + std::to_string(i) + "']{x:5px}";
    text += "</style>";
    for (int i = 0; i < 7'000; ++i)
        text += "<rect width='5' height='5'/>";
    const Drawing drawing = read_page(text);
    CHECK(drawing.shapes.size() == 7'000);
    CHECK(has_code(drawing.diagnostics, "too-many-rules"));
}

TEST_CASE("nesting beyond the limit is left out with a finding") {
    const Drawing drawing = read_page(repeated("<g>", 20000) + "<rect width=\"5\" height=\"5\"/>" +
                                      repeated("</g>", 20000) + "<rect width=\"6\" height=\"5\"/>");
    CHECK(drawing.shapes.size() == 1);
    CHECK(has_code(drawing.diagnostics, "too-deep"));
}

TEST_CASE("a long reading tells how far it is and stops when it is told to") {
    const std::string text = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\">" +
                             repeated("<rect width=\"5\" height=\"5\"/>", 5000) + "</svg>";
    std::vector<double> shares;
    ReadOptions options;
    options.go_on = [&](double share) {
        shares.push_back(share);
        return true;
    };
    const Result<Drawing> whole = read(text, options);
    REQUIRE(whole);
    CHECK(whole->shapes.size() == 5000);
    REQUIRE(shares.size() > 5);
    CHECK(std::is_sorted(shares.begin(), shares.end()));
    CHECK(shares.front() < 0.1);
    CHECK(shares.back() > 0.9);
    options.go_on = [&](double share) { return share < 0.5; };
    const Result<Drawing> half = read(text, options);
    REQUIRE_FALSE(half);
    CHECK(half.error().message == "reading was called off");
    TraceOptions making;
    making.go_on = [](double share) { return share < 0.2; };
    CHECK_FALSE(chart_from_trace(*whole, making));
    making.go_on = [](double) { return true; };
    CHECK(chart_from_trace(*whole, making)->account.size() == 5000);
}

TEST_CASE("a short text cannot multiply into millions of shapes") {
    // Twelve groups of four instances each: four to the twelfth, sixteen million rectangles, in under two kilobytes.
    std::string defs = "<defs><g id=\"u0\"><rect width=\"1\" height=\"1\"/></g>";
    for (int i = 1; i <= 12; ++i) {
        defs += "<g id=\"u" + std::to_string(i) + "\">";
        for (int k = 0; k < 4; ++k)
            defs += "<use href=\"#u" + std::to_string(i - 1) + "\"/>";
        defs += "</g>";
    }
    const Drawing drawing = read_page(defs + "</defs><use href=\"#u12\"/>", {});
    CHECK(drawing.shapes.size() <= 51'000);
    CHECK(has_code(drawing.diagnostics, "too-many-shapes"));
}

TEST_CASE("a chain of uses that doubles at every step stops at the shape limit") {
    std::string defs = "<defs><rect id=\"u0\" width=\"5\" height=\"5\"/>";
    for (int i = 1; i < 40; ++i) {
        const std::string use = "<use href=\"#u" + std::to_string(i - 1) + "\"/>";
        defs += "<g id=\"u" + std::to_string(i) + "\">" + use + use + "</g>";
    }
    const Drawing drawing = read_page(defs + "</defs><use href=\"#u39\"/>", {.max_shapes = 1000});
    CHECK(drawing.shapes.size() == 1000);
    CHECK(has_code(drawing.diagnostics, "too-many-shapes"));
}

TEST_CASE("uses of nothing that double at every step stop too") {
    std::string defs = "<defs><g id=\"u0\"/>";
    for (int i = 1; i < 40; ++i) {
        const std::string use = "<use href=\"#u" + std::to_string(i - 1) + "\"/>";
        defs += "<g id=\"u" + std::to_string(i) + "\">" + use + use + "</g>";
    }
    const Drawing drawing = read_page(defs + "</defs><use href=\"#u39\"/>", {.max_shapes = 1000});
    CHECK(drawing.shapes.empty());
    CHECK(has_code(drawing.diagnostics, "too-many-shapes"));
}

TEST_CASE("the point limit leaves out what follows") {
    const Drawing drawing =
        read_page("<rect width=\"5\" height=\"5\"/><circle r=\"100\"/><rect width=\"5\" height=\"5\"/>",
                  {.tolerance_mm = 1e-6, .max_points = 50});
    CHECK(drawing.shapes.size() == 1);
    CHECK(has_code(drawing.diagnostics, "too-many-points"));
}

TEST_CASE("a thousand faults of a kind are counted and not listed") {
    const Drawing drawing = read_page(repeated("<path d=\"M0 0L5 5x\"/>", 1000));
    CHECK(drawing.shapes.size() == 1000);
    CHECK(drawing.diagnostics.size() == 101);
    CHECK(drawing.diagnostics.back().message.starts_with("900 more findings"));
}

TEST_CASE("transforms that overflow give no shape and a finding") {
    const Drawing drawing =
        read_page("<g transform=\"scale(1e38)\"><g transform=\"scale(1e38)\"><g transform=\"scale(1e38)\"><g "
                  "transform=\"scale(1e38)\"><g transform=\"scale(1e38)\"><g transform=\"scale(1e38)\"><g "
                  "transform=\"scale(1e38)\"><g transform=\"scale(1e38)\"><g transform=\"scale(1e38)\"><circle "
                  "r=\"5\"/></g></g></g></g></g></g></g></g></g>");
    CHECK(drawing.shapes.empty());
    CHECK(has_code(drawing.diagnostics, "out-of-range"));
}

TEST_CASE("a tree of selectors on a tree of groups ends") {
    const std::string selector = repeated("g ", 60) + "rect{x:5px}";
    const Drawing drawing = read_page("<style>" + selector + "</style>" + repeated("<g>", 50) +
                                      "<rect width=\"5\" height=\"5\"/>" + repeated("</g>", 50));
    CHECK(drawing.shapes[0].bbox.min.x == doctest::Approx(0));
}

TEST_CASE("a flat drawing of many shapes is read whole") {
    const Drawing drawing =
        read_page(repeated("<use href=\"#p\"/>", 5000) + "<defs><path id=\"p\" d=\"M0 0c1 2 3 4 5 6z\"/></defs>");
    CHECK(drawing.shapes.size() == 5000);
}

} // namespace
} // namespace padchart::svg
