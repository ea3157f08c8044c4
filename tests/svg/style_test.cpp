// Rules: CSS 2 section 6.4 (cascade), Selectors 4; what browsers make of units was seen in one.
#include "read_support.hpp"

#include "svg/properties.hpp"
#include "svg/selectors.hpp"
#include "svg/style_sheet.hpp"

namespace padchart::svg {
namespace {

using namespace test;

double x_of(const std::string& style, const std::string& attributes) {
    const Drawing drawing =
        read_page("<style>" + style + "</style><g class=\"layer\"><rect y=\"0\" height=\"10\" width=\"10\" " +
                  attributes + "/></g>");
    REQUIRE(drawing.shapes.size() == 1);
    return drawing.shapes[0].bbox.min.x * 10;
}

TEST_CASE("any rule wins over a presentation attribute") {
    CHECK(x_of("*{x:20px}", "x=\"10\"") == doctest::Approx(20));
}

TEST_CASE("specificity decides and then the order") {
    CHECK(x_of(".a{x:1px} rect{x:2px}", "class=\"a\"") == doctest::Approx(1));
    CHECK(x_of("#i{x:1px} .a.b{x:2px}", "id=\"i\" class=\"a b\"") == doctest::Approx(1));
    CHECK(x_of(".a{x:1px} .b{x:2px}", "class=\"b a\"") == doctest::Approx(2));
    CHECK(x_of("g rect{x:1px} rect{x:2px}", "") == doctest::Approx(1));
}

TEST_CASE("the style attribute wins over rules and important over all") {
    CHECK(x_of("#i{x:1px}", "id=\"i\" style=\"x:2px\"") == doctest::Approx(2));
    CHECK(x_of("rect{x:1px!important}", "style=\"x:2px\"") == doctest::Approx(1));
    CHECK(x_of("rect{x:1px!important}", "style=\"x:2px ! IMPORTANT\"") == doctest::Approx(2));
}

TEST_CASE("combinators look at ancestors and siblings") {
    CHECK(x_of(".layer rect{x:1px}", "") == doctest::Approx(1));
    CHECK(x_of("g > rect{x:1px}", "") == doctest::Approx(1));
    CHECK(x_of("svg > rect{x:1px}", "") == doctest::Approx(0));
    CHECK(x_of("svg .layer > rect{x:1px}", "") == doctest::Approx(1));
    CHECK(x_of("style ~ g rect{x:1px}", "") == doctest::Approx(1));
    CHECK(x_of("rect + rect{x:1px}", "") == doctest::Approx(0));
}

TEST_CASE("an invalid value or selector leaves the rest of the sheet alone") {
    CHECK(x_of("rect{x:1px;x:junk}", "") == doctest::Approx(1));
    CHECK(x_of("rect,,g{x:1px} rect{x:2px}", "") == doctest::Approx(2));
    CHECK(x_of("rect:hover{x:1px}", "") == doctest::Approx(0));
    const Drawing drawing = read_page("<style>rect::before{x:1px}@media print{rect{x:2px}}@import url(a.css);</style>");
    CHECK(has_code(drawing.diagnostics, "css"));
}

TEST_CASE("places among siblings, lists in :is, :where and :not, and dashes in attributes are told apart") {
    CHECK(x_of("rect:nth-child(1){x:1px}", "") == doctest::Approx(1));
    CHECK(x_of("rect:nth-child(2){x:1px}", "") == doctest::Approx(0));
    CHECK(x_of("g:nth-last-of-type( 1 ) rect:only-of-type{x:1px}", "") == doctest::Approx(1));
    CHECK(x_of(":is(#i, .b){x:1px} .a.b.c{x:2px}", "id=\"i\" class=\"a b c\"") == doctest::Approx(1));
    CHECK(x_of(":where(#i){x:1px} rect{x:2px}", "id=\"i\"") == doctest::Approx(2));
    CHECK(x_of("rect:not(.b, .c){x:1px}", "class=\"a\"") == doctest::Approx(1));
    CHECK(x_of("rect:not(.b, .a){x:1px}", "class=\"a\"") == doctest::Approx(0));
    CHECK(x_of("[lang|=en]{x:1px}", "lang=\"en-US\"") == doctest::Approx(1));
}

TEST_CASE("media queries are held against a screen, and a finding tells where the window's size decides") {
    CHECK(x_of("@media print, screen{rect{x:1px}}", "") == doctest::Approx(1));
    CHECK(x_of("@media not print{rect{x:1px}}", "") == doctest::Approx(1));
    CHECK(x_of("@MEDIA only screen and (min-width: 10px) and (color){rect{x:1px}}", "") == doctest::Approx(1));
    CHECK(x_of("@media not screen{rect{x:1px}}", "") == doctest::Approx(0));
    CHECK(x_of("@media (max-width: 1px){rect{x:1px}}", "") == doctest::Approx(0));
    const Drawing sized = read_page("<style>@media (min-width:1px){rect{x:1px}}</style>");
    REQUIRE(has_code(sized.diagnostics, "css"));
    CHECK(sized.diagnostics[0].message.find("size of the window") != std::string::npos);
    CHECK_FALSE(has_code(read_page("<style>@media screen{rect{x:1px}}</style>").diagnostics, "css"));
}

TEST_CASE("what a style attribute says and is not applied is a finding") {
    for (const char* style : {"x:5vw", "offset-path:path('M0 0h9')", "zoom:2", "width:junk"}) {
        const Drawing drawing = read_page("<rect width=\"9\" height=\"9\" style=\"" + std::string(style) + "\"/>");
        CHECK_MESSAGE(has_code(drawing.diagnostics, "css"), style);
    }
    CHECK(has_code(read_page("<rect width=\"4ex\" height=\"9\"/>").diagnostics, "font-unit"));
    CHECK_FALSE(has_code(read_page("<rect width=\"4px\" height=\"9\" style=\"x:1px;color:red\"/>").diagnostics, "css"));
}

TEST_CASE("display: contents leaves what is in a group, without its place, and nothing of a shape") {
    const Drawing drawing = read_page("<g style=\"display:contents\" transform=\"translate(50 50)\"><rect width=\"10\" "
                                      "height=\"10\"/></g><rect style=\"display:contents\" width=\"5\" height=\"5\"/>");
    REQUIRE(drawing.shapes.size() == 1);
    check_box(drawing.shapes[0], 0, 0, 1, 1);
}

TEST_CASE("a path in a sheet takes no fill rule, and rules within rules are told") {
    CHECK(read_page("<path style=\"d:path('M0 0h50v50')\"/>").shapes.size() == 1);
    CHECK(read_page("<path style=\"d:path(evenodd, 'M0 0h50v50')\"/>").shapes.empty());
    CHECK(has_code(read_page("<style>g{rect{x:3px}}</style><rect width=\"5\" height=\"5\"/>").diagnostics, "css"));
}

TEST_CASE("a group is placed by the boxes of its parts, each turned and boxed again") {
    // A unit square turned by 45 degrees within a group turned by 45 degrees: the inner box is sqrt 2 wide, the outer
    // one round it 2 wide, not the 1 of the square itself.
    const char* const kTurned = "<g style=\"transform-box:fill-box;transform-origin:right;transform:scale(2)\">"
                                "<g transform=\"rotate(45)\"><g transform=\"rotate(-45)\">"
                                "<circle cx=\"100\" cy=\"100\" r=\"10\"/></g></g></g>";
    const Drawing drawing = read_page(kTurned);
    // The circle's box of 20 becomes 20 sqrt 2, and that 40: its right end lies at 120.
    REQUIRE(drawing.shapes.size() == 1);
    check_box(drawing.shapes[0], 6.0, 8.0, 10.0, 12.0);
    CHECK(has_code(drawing.diagnostics, "transform-box"));
    const Drawing straight = read_page("<g style=\"transform-box:fill-box;transform-origin:right;transform:scale(2)\">"
                                       "<circle cx=\"100\" cy=\"100\" r=\"10\"/></g>");
    check_box(straight.shapes[0], 7.0, 8.0, 11.0, 12.0);
    CHECK_FALSE(has_code(straight.diagnostics, "transform-box"));
}

TEST_CASE("what a place hangs on and is not known is told") {
    const auto told = [](const std::string& inside, const char* box) {
        return has_code(read_page("<g style=\"transform-origin:center;transform:scale(2);transform-box:" +
                                  std::string(box) + "\"><rect width=\"5\" height=\"5\"/>" + inside + "</g>")
                            .diagnostics,
                        "transform-box");
    };
    CHECK_FALSE(told("", "fill-box"));
    CHECK(told("<text>U4</text>", "fill-box"));
    CHECK_FALSE(told("<text display=\"none\">U4</text>", "fill-box"));
    CHECK(told("", "stroke-box"));
}

TEST_CASE("a link right inside a link is left out") {
    const Drawing drawing = read_page("<a><a><rect width=\"5\" height=\"5\"/></a><g><a><rect width=\"5\" "
                                      "height=\"5\"/></a></g></a>");
    CHECK(drawing.shapes.size() == 1);
    CHECK(has_code(drawing.diagnostics, "nested-link"));
}

TEST_CASE("an unfinished sheet is read to its end") {
    CHECK(x_of("rect{x:5px", "") == doctest::Approx(5));
    CHECK(x_of("g{} rect{x:5px;} /* open", "") == doctest::Approx(5));
    CHECK(x_of("rect{x:'", "") == doctest::Approx(0));
}

TEST_CASE("comments and strings do not confuse a sheet") {
    CHECK(without_comments("a/*;x*/b") == "a b");
    CHECK(without_comments("'/*'b") == "'/*'b");
    CHECK(x_of(".k/**/.l{x:5px}", "class=\"k l\"") == doctest::Approx(5));
    CHECK(x_of("rect{x:5/**/px}", "") == doctest::Approx(0));
    CHECK(x_of("rect{fill:url(';x:9px');x:5px}", "") == doctest::Approx(5));
}

TEST_CASE("escapes in selectors stand for their characters") {
    CHECK(x_of("#\\34 a{x:5px}", "id=\"4a\"") == doctest::Approx(5));
    CHECK(x_of(".a\\.b{x:5px}", "class=\"a.b\"") == doctest::Approx(5));
    CHECK(x_of(".caf\\e9{x:5px}", "class=\"caf\xC3\xA9\"") == doctest::Approx(5));
    CHECK(x_of("[data-k='\\1F600 ']{x:5px}", "data-k=\"\xF0\x9F\x98\x80\"") == doctest::Approx(5));
}

TEST_CASE("attribute tests compare as told") {
    const auto found = [&](const char* test) {
        return x_of("[" + std::string(test) + "]{x:5px}", "data-k=\"one two-three\"") > 1;
    };
    CHECK(found("data-k"));
    CHECK(found("data-k~=one"));
    CHECK(found("data-k^='one t'"));
    CHECK(found("data-k$=\"three\""));
    CHECK(found("data-k*=wo"));
    CHECK(found("data-k='ONE two-three' i"));
    CHECK_FALSE(found("data-k='ONE two-three' s"));
    CHECK_FALSE(found("data-k=one"));
    CHECK_FALSE(found("data-k~=two"));
    CHECK_FALSE(found("data-k^=''"));
}

TEST_CASE("selector lists are void as a whole when one is not understood") {
    CHECK(selectors_of("a, b > c")->size() == 2);
    CHECK_FALSE(selectors_of("a, b:hover").has_value());
    CHECK_FALSE(selectors_of("").has_value());
    CHECK_FALSE(selectors_of("a >").has_value());
    CHECK_FALSE(selectors_of("[a=b").has_value());
}

TEST_CASE("display in a sheet takes a shape away and a class brings it back") {
    const Drawing drawing = read_page("<style>rect{display:none} .on{display:inline}</style><rect width=\"5\" "
                                      "height=\"5\"/><rect class=\"x on y\" width=\"5\" height=\"5\"/>");
    CHECK(drawing.shapes.size() == 1);
}

TEST_CASE("words in a list are whole words") {
    CHECK(has_word("a bc d", "bc"));
    CHECK_FALSE(has_word("a bcd", "bc"));
    CHECK(has_word("bcd bc", "bc"));
    CHECK_FALSE(has_word("a", ""));
}

TEST_CASE("rules inside an instance of use see nothing outside of it") {
    const Drawing drawing = read_page(
        "<style>.out rect{x:50px} .in rect{x:70px}</style><g class=\"out\"><g id=\"t\" class=\"in\"><rect width=\"5\" "
        "height=\"5\"/></g><rect id=\"r\" width=\"5\" height=\"5\"/></g><use href=\"#t\"/><use href=\"#r\"/>");
    REQUIRE(drawing.shapes.size() == 4);
    CHECK(drawing.shapes[0].bbox.min.x == doctest::Approx(7));
    CHECK(drawing.shapes[1].bbox.min.x == doctest::Approx(5));
    CHECK(drawing.shapes[2].bbox.min.x == doctest::Approx(7));
    CHECK(drawing.shapes[3].bbox.min.x == doctest::Approx(0));
}

// What var() and inherit mean: CSS Custom Properties Level 1 sections 2 and 3, CSS 2 section 6.2.

TEST_CASE("a variable decides whether a shape is drawn") {
    const Drawing drawing = read_page("<style>svg { --aid: none; --keep: inline } .aid { display: var(--aid) }</style>"
                                      "<rect class=\"aid\" width=\"10\" height=\"10\"/>"
                                      "<g style=\"--aid: inline\"><rect class=\"aid\" width=\"20\" height=\"10\"/></g>"
                                      "<rect style=\"display: var( --keep , none )\" width=\"30\" height=\"10\"/>"
                                      "<rect style=\"display: var(--unknown, none)\" width=\"40\" height=\"10\"/>");
    REQUIRE(drawing.shapes.size() == 2);
    CHECK(drawing.shapes[0].bbox.width() == doctest::Approx(2));
    CHECK(drawing.shapes[1].bbox.width() == doctest::Approx(3));
    CHECK_FALSE(has_code(drawing.diagnostics, "css-variable"));
}

TEST_CASE("variables move and size shapes and may name one another") {
    const Drawing drawing =
        read_page("<style>:root { --unit: 10px; --wide: calc(3 * var(--unit)) } rect { width: var(--wide); height: "
                  "var(--unit); transform: translate(var(--unit), 0) }</style><rect width=\"1\" height=\"1\"/>");
    REQUIRE(drawing.shapes.size() == 1);
    CHECK(drawing.shapes[0].bbox.width() == doctest::Approx(3));
    CHECK(drawing.shapes[0].bbox.height() == doctest::Approx(1));
    CHECK(drawing.shapes[0].bbox.min.x == doctest::Approx(1));
}

TEST_CASE("a variable that is not set or goes round in a circle counts as unset and is told") {
    const Drawing drawing =
        read_page("<style>rect { --a: var(--b); --b: var(--a); display: var(--a) }</style>"
                  "<rect width=\"10\" height=\"10\"/><circle r=\"5\" style=\"cx: var(--nowhere)\" cx=\"7\"/>");
    REQUIRE(drawing.shapes.size() == 2);
    CHECK(has_code(drawing.diagnostics, "css-variable"));
    CHECK(drawing.shapes[1].bbox.centre().x == doctest::Approx(0)); // not 0.7: the attribute has lost already
}

TEST_CASE("of two rules for a variable the stronger counts and inline over both") {
    const Drawing drawing = read_page("<style>#b { --w: 40px } rect { --w: 20px; width: var(--w) }</style>"
                                      "<rect id=\"a\" height=\"10\"/><rect id=\"b\" height=\"10\"/>"
                                      "<rect id=\"c\" style=\"--w: 60px\" height=\"10\"/>");
    REQUIRE(drawing.shapes.size() == 3);
    CHECK(drawing.shapes[0].bbox.width() == doctest::Approx(2));
    CHECK(drawing.shapes[1].bbox.width() == doctest::Approx(4));
    CHECK(drawing.shapes[2].bbox.width() == doctest::Approx(6));
}

TEST_CASE("inherit takes the parent's value of what is not inherited by itself") {
    const Drawing drawing =
        read_page("<g transform=\"translate(10 0)\"><rect style=\"transform: inherit\" width=\"10\" "
                  "height=\"10\"/></g><svg x=\"30\"><rect style=\"x: inherit\" width=\"10\" "
                  "height=\"10\"/></svg><rect style=\"x: inherit\" x=\"50\" width=\"10\" height=\"10\"/>");
    REQUIRE(drawing.shapes.size() == 3);
    CHECK(drawing.shapes[0].bbox.min.x == doctest::Approx(2)); // moved by the group and once more
    CHECK(drawing.shapes[1].bbox.min.x == doctest::Approx(6));
    CHECK(drawing.shapes[2].bbox.min.x == doctest::Approx(0)); // the page has none: unset
}

TEST_CASE("variables that would grow without bound are given up in time") {
    std::string sheet = "<style>rect { --v0: 10px 10px";
    for (int i = 1; i <= 30; ++i)
        sheet += "; --v" + std::to_string(i) + ": var(--v" + std::to_string(i - 1) + ") var(--v" +
                 std::to_string(i - 1) + ")";
    const Drawing drawing = read_page(sheet + "; width: var(--v30) }</style><rect width=\"5\" height=\"10\"/>");
    CHECK(has_code(drawing.diagnostics, "css-variable"));
}

} // namespace
} // namespace padchart::svg
