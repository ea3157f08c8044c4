// Whole drawings. Places by own arithmetic: the page of read_support.hpp has ten units to the millimetre.
#include "read_support.hpp"

#include <cmath>

namespace padchart::svg {
namespace {

using namespace test;

TEST_CASE("a physical size makes units millimetres") {
    const Drawing drawing = read_page("<rect id=\"a\" x=\"10\" y=\"20\" width=\"30\" height=\"40\"/>");
    CHECK(*drawing.mm_per_unit == doctest::Approx(0.1));
    CHECK(drawing.page_width == doctest::Approx(40.0));
    REQUIRE(drawing.shapes.size() == 1);
    check_box(drawing.shapes[0], 1, 2, 4, 6);
    CHECK(drawing.shapes[0].length == doctest::Approx(14.0));
    CHECK(drawing.shapes[0].closed);
    CHECK(drawing.shapes[0].kind == Kind::Rect);
}

TEST_CASE("px and plain sizes are 96ths of an inch and are remarked") {
    for (const char* unit : {"px", ""}) {
        const std::string size = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"96" + std::string(unit) +
                                 "\" height=\"48" + unit + "\" viewBox=\"0 0 48 24\"><path d=\"M0 0h48\"/></svg>";
        const Drawing drawing = read_text(size);
        CHECK(*drawing.mm_per_unit == doctest::Approx(25.4 / 48));
        CHECK(drawing.size_in_px);
        CHECK(has_code(drawing.diagnostics, "size-in-px"));
        CHECK(drawing.shapes[0].length == doctest::Approx(25.4));
    }
}

TEST_CASE("without a size lengths stay user units from the page's top left") {
    for (const char* size : {"", "width=\"100%\" height=\"100%\""}) {
        const Drawing drawing =
            read_text("<svg xmlns=\"http://www.w3.org/2000/svg\" " + std::string(size) +
                      " viewBox=\"5 -5 120 80\"><rect x=\"10\" y=\"10\" width=\"30\" height=\"20\"/></svg>");
        CHECK_FALSE(drawing.mm_per_unit.has_value());
        CHECK(has_code(drawing.diagnostics, "no-physical-size"));
        check_box(drawing.shapes[0], 5, 15, 35, 35);
    }
}

TEST_CASE("one stated side gives the other by the viewBox") {
    const Drawing drawing = read_text("<svg xmlns=\"http://www.w3.org/2000/svg\" height=\"20mm\" viewBox=\"0 0 300 "
                                      "200\"><path d=\"M0 0h300\"/></svg>");
    CHECK(*drawing.mm_per_unit == doctest::Approx(0.1));
    CHECK(drawing.page_width == doctest::Approx(30.0));
}

TEST_CASE("a stretched page is a fault and its places are right") {
    const Drawing drawing =
        read_text("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"20mm\" height=\"10mm\" "
                  "preserveAspectRatio=\"none\" viewBox=\"0 0 10 10\"><rect width=\"10\" height=\"10\"/></svg>");
    CHECK(has_code(drawing.diagnostics, "stretched"));
    check_box(drawing.shapes[0], 0, 0, 20, 10);
}

TEST_CASE("layers are labels from the outside in") {
    const Drawing drawing =
        read_page("<g ed:label=\"pads\" ed:groupmode=\"layer\" id=\"layer1\"><g id=\"U4\"><g><g data-name=\"row\" "
                  "id=\"x\"><g><title>left</title><rect width=\"5\" height=\"5\"/></g></g></g></g></g>");
    CHECK(layers_of(drawing, drawing.shapes[0]) == std::vector<std::string>{"pads", "U4", "row", "left"});
    CHECK(drawing.groups[0].is_layer);
    CHECK(groups_of(drawing, drawing.shapes[0]).size() == 5);
}

TEST_CASE("a title counts wherever it stands in its element, the first of two, with a prefix too") {
    const Drawing drawing = read_text("<s:svg xmlns:s=\"http://www.w3.org/2000/svg\" width=\"9mm\" height=\"9mm\" "
                                      "viewBox=\"0 0 9 9\"><s:g><s:rect width=\"5\" height=\"5\"><s:desc>x</s:desc>"
                                      "<s:title> a &amp; b </s:title></s:rect></s:g><s:g><s:rect width=\"5\" "
                                      "height=\"5\"/></s:g><s:g><s:rect width=\"1\" height=\"1\"/><s:title>one"
                                      "</s:title><s:title>two</s:title></s:g><s:title>board</s:title></s:svg>");
    CHECK(drawing.title == "board");
    CHECK(drawing.shapes[0].title == "a & b");
    CHECK(drawing.groups[0].title.empty());
    CHECK(drawing.groups[1].title.empty());
    CHECK(drawing.groups[2].title == "one");
}

TEST_CASE("keys are ids where there are some and places among the like else") {
    const Drawing drawing =
        read_page("<g id=\"pads\"><rect id=\"p1\" width=\"5\" height=\"5\"/><circle r=\"3\"/><rect width=\"5\" "
                  "height=\"5\"/><rect width=\"6\" height=\"5\"/></g><g><path d=\"M0 0h5\"/></g>");
    CHECK(key_of(drawing, drawing.shapes[0]) == "pads/p1");
    CHECK(key_of(drawing, drawing.shapes[1]) == "pads/circle:1");
    CHECK(key_of(drawing, drawing.shapes[3]) == "pads/rect:2");
    CHECK(key_of(drawing, drawing.shapes[4]) == "g:1/path:1");
}

TEST_CASE("each use gives an entry of its own in document order") {
    const Drawing drawing =
        read_page("<defs><g id=\"land\"><rect id=\"r\" width=\"10\" height=\"5\"/></g></defs><use id=\"one\" "
                  "href=\"#land\" x=\"20\"/><circle id=\"c\" r=\"5\"/><use xlink:href=\"#land\" y=\"50\"/>");
    REQUIRE(drawing.shapes.size() == 3);
    CHECK(drawing.shapes[0].id == "r");
    CHECK(drawing.shapes[1].id == "c");
    check_box(drawing.shapes[0], 2, 0, 3, 0.5);
    check_box(drawing.shapes[2], 0, 5, 1, 5.5);
    CHECK(key_of(drawing, drawing.shapes[0]) == "one/land/r");
    CHECK(key_of(drawing, drawing.shapes[2]) == "use:1/land/r");
}

TEST_CASE("a symbol is fitted into the size its use states") {
    const Drawing drawing =
        read_page("<symbol id=\"s\" viewBox=\"0 0 10 20\"><rect width=\"10\" height=\"20\"/></symbol><use href=\"#s\" "
                  "x=\"10\" width=\"100\" height=\"100\"/>");
    REQUIRE(drawing.shapes.size() == 1);
    check_box(drawing.shapes[0], 3.5, 0, 8.5, 10); // 50 wide, in the middle of 100
}

TEST_CASE("cycles of use are refused with a finding") {
    const Drawing drawing = read_page(
        "<g id=\"a\"><rect width=\"5\" height=\"5\"/><use href=\"#b\"/></g><g id=\"b\"><use href=\"#a\"/></g>");
    CHECK(has_code(drawing.diagnostics, "use-cycle"));
    // Both groups on their own, and the first once more within the second.
    CHECK(drawing.shapes.size() == 2);
}

TEST_CASE("what use cannot find is reported") {
    CHECK(has_code(read_page("<use href=\"#none\"/>").diagnostics, "use-missing"));
    CHECK(has_code(read_page("<use href=\"other.svg#a\"/>").diagnostics, "use-outside"));
    CHECK(has_code(read_page("<filter id=\"f\"/><use href=\"#f\"/>").diagnostics, "use-missing"));
}

TEST_CASE("things not displayed give nothing and hidden ones are kept as such") {
    const Drawing drawing = read_page(
        "<g style=\"display:none\" id=\"photo\"><rect width=\"5\" height=\"5\"/></g><g visibility=\"hidden\"><rect "
        "id=\"a\" width=\"5\" height=\"5\"/><rect id=\"b\" visibility=\"visible\" width=\"5\" height=\"5\"/></g>");
    REQUIRE(drawing.shapes.size() == 2);
    CHECK_FALSE(drawing.shapes[0].visible);
    CHECK(drawing.shapes[1].visible);
    CHECK(has_code(drawing.diagnostics, "not-displayed"));
    CHECK(has_code(drawing.diagnostics, "hidden"));
}

namespace {

std::vector<std::string> told_as(const Drawing& drawing, const std::string& code) {
    std::vector<std::string> lines;
    for (const Diagnostic& finding : drawing.diagnostics)
        if (finding.code == code) lines.push_back(finding.message);
    return lines;
}

} // namespace

TEST_CASE("what reaches out of an inner svg is kept whole, and a note says that a browser cuts it") {
    const auto told = [](const std::string& inner) { return told_as(read_page(inner), "clip").size(); };
    const std::string in = R"(<rect id="in" x="1" y="1" width="9" height="9"/>)";
    const std::string out = R"(<rect id="out" x="5" y="5" width="9" height="2"/>)";
    const Drawing drawing = read_page("<svg x='50' y='50' width='10' height='10'>" + in + out + "</svg>");
    REQUIRE(drawing.shapes.size() == 2);
    check_box(drawing.shapes[1], 5.5, 5.5, 6.4, 5.7);
    CHECK(told_as(drawing, "clip") == std::vector<std::string>{"rect \"out\" reaches out of the inner svg or symbol it "
                                                               "lies in: a browser cuts what is seen, the geometry is "
                                                               "kept whole"});
    CHECK(told("<svg width='10' height='10' overflow='visible'>" + out + "</svg>") == 0);
    CHECK(told("<svg width='10' height='10' style='overflow:hidden'>" + out + "</svg>") == 1);
    CHECK(told("<style>svg{overflow:auto}</style><svg width='10' height='10'>" + out + "</svg>") == 0);
    // A viewBox of half the size, turned: what is 9 long inside of it is 18 outside.
    CHECK(told("<svg width='20' height='20' viewBox='0 0 10 10'>" + in + "</svg>") == 0);
    CHECK(told("<g transform='rotate(30)'><svg width='10' height='10'>" + in + "</svg></g>") == 0);
    CHECK(told("<g transform='rotate(30)'><svg width='10' height='10'>" + out + "</svg></g>") == 1);
    // The outer of two cuts as well; an inner one that does not cut is no way out of it.
    CHECK(told("<svg width='10' height='10'><svg width='99' height='99'>" + out + "</svg></svg>") == 1);
    CHECK(told("<svg width='10' height='10'><svg overflow='visible' width='99' height='99'>" + out + "</svg></svg>") ==
          1);
    CHECK(told("<symbol id='s' width='10' height='10'>" + out + "</symbol><use href='#s' width='10' height='10'/>") ==
          1);
}

TEST_CASE("a shape with neither fill nor stroke is told and stays") {
    const Drawing drawing = read_page(
        "<rect id='a' fill='none' width='5' height='5'/><rect id='b' width='5' height='5'/><g fill='none'><path id='c' "
        "stroke='red' d='M0 0h5'/><path id='d' d='M0 0h5'/></g><line id='e' x2='5'/>");
    CHECK(drawing.shapes.size() == 5);
    CHECK(told_as(drawing, "unpainted") ==
          std::vector<std::string>{
              "rect \"a\" has neither fill nor stroke, so nothing of it is seen; the geometry is kept",
              "path \"d\" has neither fill nor stroke, so nothing of it is seen; the geometry is kept",
              "line \"e\" has neither fill nor stroke, so nothing of it is seen; the geometry is kept"});
}

TEST_CASE("a shape painted with what does not show is told and stays") {
    const auto told = [](const std::string& attributes) {
        const Drawing drawing = read_page("<rect width='5' height='5' " + attributes + "/>");
        CHECK(drawing.shapes.size() == 1);
        return told_as(drawing, "unpainted").size();
    };
    for (const char* unseen :
         {"fill='transparent'", "fill-opacity='0'", "style='fill:rgba(1,2,3,0)'", "style='fill:rgb(1 2 3 / 0%)'",
          "fill='#1230'", "fill='#11223300'", "fill='none' stroke='red' stroke-width='0'",
          "fill='none' stroke='red' style='stroke-width:0px'", "fill='none' stroke='red' stroke-opacity='0'",
          "fill='transparent' stroke='transparent'"}) {
        INFO(unseen);
        CHECK(told(unseen) == 1);
    }
    for (const char* seen :
         {"fill='#110'", "fill='#112200'", "fill='rgb(0,0,0)'", "style='fill:rgba(0,0,0,.1)'", "fill-opacity='0.5'",
          "fill='transparent' stroke='red'", "stroke-width='0'", "fill='url(#a)'"}) {
        INFO(seen);
        CHECK(told(seen) == 0);
    }
    const Drawing handed_down =
        read_page("<g fill-opacity='0'><rect id='a' width='5' height='5'/><rect id='b' width='5' "
                  "height='5' fill-opacity='1'/></g>");
    REQUIRE(told_as(handed_down, "unpainted").size() == 1);
    CHECK(told_as(handed_down, "unpainted")[0].find("rect \"a\"") == 0);
}

TEST_CASE("what a transform presses flat is left out and told") {
    const Drawing drawing = read_page(
        "<g id=\"flat\" transform=\"scale(1 0)\"><rect width=\"5\" height=\"5\"/></g><rect id=\"a\" width=\"5\" "
        "height=\"5\"/><circle id=\"dot\" r=\"5\" transform=\"scale(0)\"/>");
    REQUIRE(drawing.shapes.size() == 1);
    CHECK(drawing.shapes[0].id == "a");
    CHECK(drawing.groups.empty());
    REQUIRE(drawing.diagnostics.size() == 2);
    CHECK(drawing.diagnostics[0].message.starts_with("g \"flat\" is pressed flat"));
    CHECK(drawing.diagnostics[1].message.starts_with("circle \"dot\" is pressed flat"));
    const Drawing none = read_text("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" height=\"9mm\" "
                                   "transform=\"scale(0)\"><rect width=\"5\" height=\"5\"/></svg>");
    CHECK(none.shapes.empty());
    CHECK(has_code(none.diagnostics, "collapsed"));
}

TEST_CASE("containers that only serve others draw nothing") {
    const Drawing drawing = read_page(
        "<defs><rect width=\"5\" height=\"5\"/></defs><clipPath><rect width=\"5\" height=\"5\"/></clipPath><mask><rect "
        "width=\"5\" height=\"5\"/></mask><pattern><rect width=\"5\" height=\"5\"/></pattern><marker><rect width=\"5\" "
        "height=\"5\"/></marker><symbol><rect width=\"5\" height=\"5\"/></symbol>");
    CHECK(drawing.shapes.empty());
    CHECK(drawing.groups.empty());
}

TEST_CASE("text and images and effects are reported") {
    const Drawing drawing = read_page(
        "<text>U4</text><image href=\"p.png\"/><blob/><rect width=\"5\" height=\"5\" clip-path=\"url(#c)\" "
        "style=\"mask:url(#m);marker-start:url(#k)\" filter=\"url(#f)\"><animate attributeName=\"x\"/></rect>");
    for (const char* text : {"opacity=\"0\"", "style=\"opacity: 0.0\"", "style=\"opacity:0%\""}) {
        const Drawing clear = read_page("<g " + std::string(text) + "><rect width=\"5\" height=\"5\"/></g>");
        CHECK(has_code(clear.diagnostics, "clear"));
        CHECK(clear.shapes.size() == 1);
    }
    CHECK_FALSE(has_code(read_page("<rect width=\"5\" height=\"5\" opacity=\"0.05\"/>").diagnostics, "clear"));
    for (const char* code : {"not-geometry", "unknown-element", "clip", "mask", "marker", "filter", "animation"}) {
        CAPTURE(code);
        CHECK(has_code(drawing.diagnostics, code));
    }
}

TEST_CASE("findings say line and column") {
    const Drawing drawing = read_text("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"4mm\" height=\"3mm\">\n  "
                                      "<g>\n    <path d=\"M0 0L5 5x\"/>\n  </g>\n</svg>");
    REQUIRE(drawing.diagnostics.size() == 1);
    CHECK(drawing.diagnostics[0].where == "3:5");
    CHECK(drawing.diagnostics[0].code == "path-cut-short");
    CHECK(where_of(drawing.shapes[0]) == "3:5");
}

TEST_CASE("fill and stroke are inherited") {
    const Drawing drawing = read_page("<g fill=\"none\" stroke=\"#000\"><rect width=\"5\" height=\"5\"/><rect "
                                      "style=\"fill:red;stroke:none\" width=\"5\" height=\"5\"/></g>");
    CHECK_FALSE(drawing.shapes[0].has_fill);
    CHECK(drawing.shapes[0].has_stroke);
    CHECK(drawing.shapes[1].has_fill);
    CHECK_FALSE(drawing.shapes[1].has_stroke);
}

TEST_CASE("subpaths of a path are kept apart and only all closed make it closed") {
    const Drawing drawing = read_page("<path d=\"M0 0h10v10zM20 0h10\"/><path d=\"M0 0h10v10zM20 0h10v10z\"/>");
    CHECK(drawing.shapes[0].subpath_count == 2);
    CHECK_FALSE(drawing.shapes[0].closed);
    CHECK(drawing.shapes[1].closed);
    const auto first = drawing.points_of(drawing.subpaths_of(drawing.shapes[1])[0]);
    CHECK(first.front() == first.back());
}

TEST_CASE("the tolerance holds in millimetres after all transforms") {
    // A circle of 10 mm radius, drawn as 0.01 units and blown up.
    const std::string inner = "<g transform=\"scale(10000)\"><circle r=\".01\"/></g>";
    for (const double tolerance : {0.5, 0.05, 0.005}) {
        const Drawing drawing = read_page(inner, {.tolerance_mm = tolerance});
        const auto points = drawing.points_of(drawing.subpaths[0]);
        double worst = 0;
        for (std::size_t i = 0; i + 1 < points.size(); ++i)
            worst = std::max(worst, 10.0 - geometry::length((points[i] + points[i + 1]) / 2.0));
        CHECK(worst <= tolerance * 1.000001);
        CHECK(worst > tolerance / 4); // not wastefully fine
    }
}

TEST_CASE("switch takes the first child that fits") {
    const Drawing drawing =
        read_page("<switch><g requiredExtensions=\"x\"><rect id=\"a\" width=\"5\" height=\"5\"/></g><rect id=\"b\" "
                  "systemLanguage=\"de\" width=\"5\" height=\"5\"/><rect id=\"c\" width=\"5\" height=\"5\"/><rect "
                  "id=\"d\" width=\"5\" height=\"5\"/></switch>");
    REQUIRE(drawing.shapes.size() == 1);
    CHECK(drawing.shapes[0].id == "c");
    const Drawing german = read_page("<switch><rect id=\"b\" systemLanguage=\"fr, de-AT\" width=\"5\" "
                                     "height=\"5\"/><rect id=\"c\" width=\"5\" height=\"5\"/></switch>",
                                     {.language = "de"});
    CHECK(german.shapes[0].id == "b");
}

} // namespace
} // namespace padchart::svg
