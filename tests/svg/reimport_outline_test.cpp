// By how much a corrected trace draws the board differently.
#include "svg/reimport_outline.hpp"

#include "reimport_support.hpp"

namespace padchart::svg {
namespace {

using Lines = std::vector<std::string>;

const std::string kBoard = R"(<rect x="1" y="1" width="20" height="12"/>)";

std::string board(const std::string& edge, const std::string& holes = "") {
    return "<g class=\"outline\">" + edge + "</g><g class=\"holes\">" + holes + "</g>" + chip("R1", 4, 8);
}

Lines told(const std::string& before, const std::string& after) {
    return told_as(reimport(traced(before), traced(after)), "outline-changed");
}

const std::string kStart = "the board's outline is drawn differently: ";

TEST_CASE("the board's edge says how far it lies off and how large it was and is") {
    // 20 x 12 = 240 and 20 x 12.35 = 247, own arithmetic.
    CHECK(told(board(kBoard), board(R"(<rect x="1" y="1" width="20" height="12.35"/>)")) ==
          Lines{kStart + "its edge lies up to 0.35 mm off, it is 20.00 x 12.35 mm, was 20.00 x 12.00, its area is "
                         "247.00 mm², was 240.00"});
    CHECK(told(board(kBoard), board(R"(<rect x="1.3" y="1.4" width="20" height="12"/>)")) ==
          Lines{kStart + "its edge lies up to 0.50 mm off"}); // a right triangle of sides 3, 4 and 5
    CHECK(told(board(kBoard), board(kBoard)).empty());
}

TEST_CASE("a corner that was cut off is told, though the outline is as wide and as high") {
    // Its middle is 2 mm / sqrt 2 from the corner, half of its triangle of 2 mm by 2 mm is gone, own arithmetic.
    CHECK(told(board(kBoard), board(R"(<path d="M1 1H19L21 3V13H1Z"/>)")) ==
          Lines{kStart + "its edge lies up to 1.41 mm off, its area is 238.00 mm², was 240.00"});
}

TEST_CASE("a hole that came, went, moved or grew is told with its place") {
    const std::string one = R"(<rect x="4" y="4" width="2" height="2"/>)";
    CHECK(told(board(kBoard), board(kBoard, one)) == Lines{kStart + "the hole at x 5.00, y 5.00 mm is new"});
    CHECK(told(board(kBoard, one), board(kBoard)) == Lines{kStart + "the hole at x 5.00, y 5.00 mm is gone"});
    CHECK(told(board(kBoard, one), board(kBoard, R"(<rect x="4.3" y="4" width="2" height="2"/>)")) ==
          Lines{kStart + "the hole at x 5.00, y 5.00 mm moved by 0.30 mm"});
    CHECK(told(board(kBoard, one), board(kBoard, R"(<rect x="3.9" y="4" width="2.2" height="2"/>)")) ==
          Lines{kStart + "the hole at x 5.00, y 5.00 mm is 2.20 x 2.00 mm, was 2.00 x 2.00"});
    const std::string other = R"(<rect x="14" y="4" width="2" height="2"/>)";
    CHECK(told(board(kBoard, one + other), board(kBoard, other + one)).empty()); // in another order
}

TEST_CASE("a round hole that is only turned is no other hole") {
    const auto hole = [](const std::string& turn) {
        return "<circle cx=\"5\" cy=\"5\" r=\"0.4\" transform=\"rotate(" + turn + " 5 5)\"/>";
    };
    for (const char* turn : {"7", "15", "37"})
        CHECK(told(board(kBoard, hole("0")), board(kBoard, hole(turn))).empty());
}

} // namespace
} // namespace padchart::svg
