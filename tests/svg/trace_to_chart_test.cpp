// From traces to charts. The page has ten units to the millimetre; places by own arithmetic.
#include "read_support.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "document/edits.hpp"
#include "support/random_shapes.hpp"
#include "svg/trace_to_chart.hpp"

namespace padchart::svg {
namespace {

using namespace test;
using document::ShapeKind;
using document::Side;

TraceResult trace(const std::string& inner, const TraceOptions& options = {}) {
    const Drawing drawing = read_page(inner);
    auto result = chart_from_trace(drawing, options);
    REQUIRE(result.has_value());
    CHECK(result->account.size() == drawing.shapes.size());
    CHECK_FALSE(document::fault_of(result->chart).has_value());
    return std::move(result).value();
}

const std::string kChip =
    "<g id=\"R1\"><title>R1: divider</title><rect class=\"body\" x=\"100\" y=\"100\" width=\"16\" height=\"8\"/>"
    "<rect class=\"pad\" id=\"R1-1\" x=\"96\" y=\"100\" width=\"6\" height=\"8\"/><rect class=\"pad\" id=\"R1-2\" "
    "x=\"114\" y=\"100\" width=\"6\" height=\"8\"/></g>";

TEST_CASE("a named group of a body and its pads is a part") {
    const TraceResult result = trace(kChip);
    REQUIRE(result.chart.parts.size() == 1);
    const document::Footprint& part = result.chart.parts[0];
    CHECK(part.name == "R1");
    CHECK(part.role == "divider");
    CHECK(part.placement.at == geometry::Vec2{10.8, 10.4});
    REQUIRE(part.body.has_value());
    CHECK(part.body->shape.width_mm == doctest::Approx(1.6));
    REQUIRE(part.pads.size() == 2);
    CHECK(part.pads[0].number == "1");
    CHECK(part.pads[0].at.x == doctest::Approx(-0.9));
    CHECK(part.pads[1].at.x == doctest::Approx(0.9));
    CHECK(part.pads[1].shape.width_mm == doctest::Approx(0.6));
    CHECK(result.account[1].what == "pad 1 of R1");
    CHECK(result.diagnostics.empty());
}

TEST_CASE("hidden shapes are kept as what they are, each with a finding, whoever said what they are") {
    const std::string hidden = "<g visibility='hidden'>" + kChip + "</g>";
    const TraceResult result = trace(hidden);
    REQUIRE(result.chart.parts.size() == 1);
    CHECK(result.chart.parts[0].body);
    CHECK(result.chart.parts[0].pads.size() == 2);
    const auto told = [](const TraceResult& of) {
        std::vector<std::string> lines;
        for (const Diagnostic& finding : of.diagnostics)
            if (finding.code == "hidden-shape") lines.push_back(finding.message);
        return lines;
    };
    REQUIRE(told(result).size() == 3);
    CHECK(told(result)[1].starts_with("rect 'R1-1' ("));
    CHECK(told(result)[1].find(") is hidden in the drawing and is kept as pad all the same; ") != std::string::npos);
    CHECK_FALSE(has_code(result.diagnostics, "hidden")); // said once
    TraceOptions options;
    options.shape_meanings[1].role = Role::Pad;
    options.shape_meanings[2].role = Role::Note;
    CHECK(told(trace(hidden, options)).size() == 2);
    // Whoever says what a layer is may not have seen what is hidden in it.
    TraceOptions layer;
    layer.layer_meanings["Layer_3"] = Role::Pad;
    const auto unnamed = "<g id='Layer_3'><rect visibility='hidden' x='450' y='20' width='9' height='9'/></g>";
    CHECK(told(trace(unnamed)).empty());
    CHECK(told(trace(unnamed, layer)).size() == 1);
    TraceOptions said;
    said.shape_meanings[0].role = Role::Pad;
    CHECK(told(trace(unnamed, said)).size() == 1);
}

TEST_CASE("where no scale is known no finding tells millimetres") {
    const std::string shapes =
        "<g id='body'><rect x='50' y='50' width='60' height='60'/><path d='M200,50 h30 v30 h-30 v-29.5'/>"
        "<rect x='9000' y='0' width='10' height='10'/></g>"
        "<g id='keep-out'><path d='M300,50 h20'/><path d='M320,50 v20'/><path d='M320,70 L300,50.4'/>"
        "<path d='M400,50 l20,20 v-20 l-20,20 z'/></g>";
    const auto findings_of = [&](const std::string& page) {
        const auto drawing =
            read("<svg xmlns='http://www.w3.org/2000/svg' " + page + "viewBox='0 0 500 300'>" + shapes + "</svg>");
        REQUIRE(drawing);
        const auto result = chart_from_trace(*drawing);
        REQUIRE(result);
        std::string all;
        for (const Diagnostic& finding : result->diagnostics)
            if (finding.code != "no-physical-size") all += finding.message + "\n";
        return all;
    };
    const std::string units = findings_of(""), mm = findings_of("width='500mm' height='300mm' ");
    CHECK_MESSAGE(units.find(" mm") == std::string::npos, units);
    CHECK(units.find("a part at x 80.00, y 80.00 units of the trace has no name") != std::string::npos);
    CHECK(mm.find("a part at x 80.00, y 80.00 mm has no name") != std::string::npos);
    // How near ends must be to belong together is a share of the drawing where no millimetre is known.
    for (const char* what : {"reaches beyond 4,000", "closed over a gap of 0.5", "gaps up to 0.4", "at x 410, y 60"})
        CHECK_MESSAGE(units.find(what + std::string(" units of the trace")) != std::string::npos, units);
    for (const char* what : {"reaches beyond 4,000", "closed over a gap of 0.5", "closed over a gap of 0.4"})
        CHECK_MESSAGE(mm.find(what + std::string(" mm")) != std::string::npos, mm);
}

TEST_CASE("a layer is what its label says, not what part its own id looks like") {
    const TraceResult result = trace("<g id=\"L3\" ed:groupmode=\"layer\" ed:label=\"body\"><rect id=\"R1\" x=\"100\" "
                                     "y=\"100\" width=\"16\" height=\"8\"/></g><g id=\"L4\" ed:groupmode=\"layer\" "
                                     "ed:label=\"pads\"><rect x=\"96\" y=\"100\" width=\"6\" height=\"8\"/><rect "
                                     "x=\"114\" y=\"100\" width=\"6\" height=\"8\"/></g>");
    REQUIRE(result.chart.parts.size() == 1);
    CHECK(result.chart.parts[0].name == "R1");
    CHECK(result.chart.parts[0].pads.size() == 2);
    // Where the label says nothing the id may be a hand's.
    const TraceResult named = trace("<g id=\"U7\" ed:groupmode=\"layer\" ed:label=\"the chip\"><rect class=\"body\" "
                                    "width=\"16\" height=\"8\"/></g>");
    REQUIRE(named.chart.parts.size() == 1);
    CHECK(named.chart.parts[0].name == "U7");
}

TEST_CASE("separate layers find together by name and by place") {
    const TraceResult result =
        trace("<g ed:label=\"Body\"><rect id=\"U1\" x=\"100\" y=\"100\" width=\"40\" height=\"40\"/><rect id=\"rect7\" "
              "x=\"200\" y=\"100\" width=\"40\" height=\"40\"/></g>"
              "<g ed:label=\"Pads\"><rect id=\"U1-1\" x=\"90\" y=\"110\" width=\"10\" height=\"5\"/><rect id=\"rect9\" "
              "x=\"236\" y=\"110\" width=\"10\" height=\"5\"/></g>");
    REQUIRE(result.chart.parts.size() == 2);
    CHECK(result.chart.parts[0].name == "U1");
    CHECK(result.chart.parts[0].pads.size() == 1);
    CHECK(result.chart.parts[1].name.empty());
    CHECK(result.chart.parts[1].pads.size() == 1);
    CHECK(has_code(result.diagnostics, "no-name"));
}

TEST_CASE("things of one name get ids in their order, each the first that is free") {
    std::string twins;
    for (int i = 0; i < 4; ++i)
        twins += "<g id=\"R1\"><rect class=\"body\" x=\"" + std::to_string(100 + 30 * i) +
                 "\" y=\"100\" width=\"16\" height=\"8\"/></g>";
    const TraceResult result = trace(twins);
    REQUIRE(result.chart.parts.size() == 4);
    CHECK(result.chart.parts[0].id == document::id_of("part", "R1"));
    CHECK(result.chart.parts[1].id == document::id_of("part", "R1#2"));
    CHECK(result.chart.parts[3].id == document::id_of("part", "R1#4"));
}

TEST_CASE("leads outside of a body belong to the nearest one") {
    const TraceResult result =
        trace("<g id=\"body\"><rect id=\"U1\" x=\"100\" y=\"100\" width=\"40\" height=\"40\"/></g><g id=\"pads\"><rect "
              "x=\"80\" y=\"110\" width=\"16\" height=\"5\"/></g>");
    CHECK(result.chart.parts.size() == 1);
    CHECK(result.chart.parts[0].pads.size() == 1);
}

TEST_CASE("two bodies of one name keep their own pads and are reported") {
    const TraceResult result = trace(kChip + "<g transform=\"translate(100 0)\">" + kChip + "</g>");
    REQUIRE(result.chart.parts.size() == 2);
    CHECK(result.chart.parts[0].pads.size() == 2);
    CHECK(result.chart.parts[1].pads.size() == 2);
    CHECK(has_code(result.diagnostics, "name-twice"));
}

TEST_CASE("a body drawn turned turns its part") {
    const TraceResult result = trace("<g transform=\"translate(200 150) rotate(-30)\">" + kChip + "</g>");
    const document::Footprint& part = result.chart.parts[0];
    CHECK(part.placement.turn.degrees() == doctest::Approx(30));
    CHECK(part.pads[0].at.x == doctest::Approx(-0.9));
    CHECK(part.pads[0].at.y == doctest::Approx(0).epsilon(1e-6));
    CHECK(part.pads[0].turn.degrees() == doctest::Approx(0));
}

TEST_CASE("a part of the far side lies on the board where it was drawn") {
    const TraceResult result = trace("<g ed:label=\"bottom\">" + kChip + "</g>");
    const document::Footprint& part = result.chart.parts[0];
    CHECK(part.placement.side == Side::Bottom);
    const geometry::Box pad = geometry::bounds(document::outline_on_board(part, part.pads[0]));
    CHECK(pad.min.x == doctest::Approx(9.6));
    CHECK(pad.max.y == doctest::Approx(10.8));
}

TEST_CASE("every pad lies on the board where it was drawn whatever the turn and side") {
    for (const char* side : {"top", "bottom"})
        for (const char* turn : {"0", "17", "90", "-135", "180"}) {
            CAPTURE(side);
            CAPTURE(turn);
            const std::string drawn =
                "<g ed:label=\"" + std::string(side) + "\"><g transform=\"rotate(" + turn +
                " 200 150)\"><g id=\"U1\"><rect class=\"body\" x=\"180\" y=\"140\" width=\"40\" height=\"20\"/>"
                "<path class=\"pad\" d=\"M180 140h9v3l-4 5h-5z\"/><rect class=\"pad\" x=\"205\" y=\"143\" width=\"10\" "
                "height=\"4\" rx=\"2\"/></g></g></g>";
            const Drawing drawing = read_page(drawn);
            const TraceResult result = trace(drawn);
            REQUIRE(result.chart.parts.size() == 1);
            const document::Footprint& part = result.chart.parts[0];
            REQUIRE(part.pads.size() == 2);
            CHECK(part.pads[1].shape.kind == ShapeKind::Oblong);
            for (std::size_t i = 0; i < 2; ++i) {
                const geometry::Box box = geometry::bounds(document::outline_on_board(part, part.pads[i]));
                CHECK(std::abs(box.min.x - drawing.shapes[i + 1].bbox.min.x) < 0.01);
                CHECK(std::abs(box.max.y - drawing.shapes[i + 1].bbox.max.y) < 0.01);
            }
        }
}

TEST_CASE("a mark is recorded with its kind and bearing and no meaning") {
    const TraceResult result = trace(kChip + "<g id=\"marks\"><circle cx=\"102\" cy=\"104\" r=\"1\"/></g>");
    const document::Orientation& orientation = result.chart.parts[0].orientation;
    CHECK(orientation.state == document::RecordState::Recorded);
    CHECK(orientation.mark == document::MarkKind::Dot);
    CHECK(orientation.bearing.degrees() == doctest::Approx(180));
    CHECK(orientation.meaning == document::Meaning::Unknown);
    const TraceResult bar = trace(kChip + "<rect class=\"mark\" x=\"113\" y=\"100\" width=\"2\" height=\"8\"/>");
    CHECK(bar.chart.parts[0].orientation.mark == document::MarkKind::Band);
    CHECK(bar.chart.parts[0].orientation.bearing.degrees() == doctest::Approx(0));
    CHECK(has_code(trace(kChip + "<circle class=\"mark\" cx=\"300\" cy=\"4\" r=\"1\"/>").diagnostics,
                   "mark-without-body"));
}

TEST_CASE("the largest outline is the board and rings inside it are cut-outs") {
    const TraceResult result = trace("<g id=\"outline\"><rect x=\"10\" y=\"10\" width=\"300\" height=\"200\"/><circle "
                                     "cx=\"50\" cy=\"50\" r=\"10\"/></g><circle id=\"hole\" cx=\"200\" cy=\"100\" "
                                     "r=\"10\"/><circle class=\"hole\" cx=\"390\" cy=\"290\" r=\"5\"/>");
    REQUIRE(result.chart.board.outline.has_value());
    CHECK(geometry::bounds(result.chart.board.outline->outer).width() == doctest::Approx(30));
    CHECK(result.chart.board.outline->holes.size() == 2);
    CHECK(has_code(result.diagnostics, "hole-outside"));
}

TEST_CASE("sensitive layers mark bodies in them and keep heat off all else") {
    const TraceResult result = trace("<g ed:label=\"sensitive\">" + kChip +
                                     "<rect id=\"cell\" x=\"200\" y=\"200\" width=\"50\" height=\"30\"/></g>");
    CHECK(result.chart.parts[0].heat.has_value());
    REQUIRE(result.chart.keep_outs.size() == 1);
    CHECK(result.chart.keep_outs[0].name == "cell");
}

TEST_CASE("keep-outs and shields are areas with holes") {
    const TraceResult result = trace("<path class=\"keepout\" id=\"ring\" d=\"M10 10h90v90h-90zM30 "
                                     "30h20v20h-20z\"/><rect class=\"shield\" x=\"200\" width=\"30\" height=\"30\"/>");
    REQUIRE(result.chart.keep_outs.size() == 1);
    CHECK(result.chart.keep_outs[0].outline.holes.size() == 1);
    CHECK(result.chart.shields.size() == 1);
}

/// A grid of squares in one path, each with a smaller one within it.
std::string squares_with_holes(int columns, int rows) {
    std::string data;
    for (int x = 0; x < columns; ++x)
        for (int y = 0; y < rows; ++y) {
            const std::string at = std::to_string(3 * x) + " " + std::to_string(3 * y);
            data += "M" + at + "m.5 .5h1v1h-1zM" + at + "h2v2h-2z";
        }
    return data;
}

TEST_CASE("every ring of a path with thousands is an area or the hole of the one round it") {
    const TraceResult result = trace("<path class=\"keepout\" id=\"mesh\" d=\"" + squares_with_holes(60, 50) + "\"/>");
    REQUIRE(result.chart.keep_outs.size() == 3000);
    for (const auto& area : result.chart.keep_outs) {
        REQUIRE(area.outline.holes.size() == 1);
        CHECK(geometry::contains(area.outline.outer, area.outline.holes[0].front()));
    }
}

TEST_CASE("every ring of a pad path that is no hole is a land") {
    const TraceResult result =
        trace("<g id=\"U1\"><rect class=\"body\" width=\"180\" height=\"150\"/><path class=\"pad\" id=\"mesh\" d=\"" +
              squares_with_holes(20, 10) + "\"/></g>");
    REQUIRE(result.chart.parts.size() == 1);
    CHECK(result.chart.parts[0].pads.size() == 200);
}

TEST_CASE("what is not understood is said and taken as nothing") {
    const TraceResult result = trace("<path id=\"lid\" d=\"M0 0h9v9z\"/>");
    REQUIRE(result.diagnostics.size() == 1);
    CHECK(result.diagnostics[0].message.starts_with("path 'lid' (1:"));
    CHECK(result.account[0].role == Role::None);
    CHECK(result.account[0].what == "nothing");
}

TEST_CASE("open outlines are closed and the gap is told") {
    const TraceResult result = trace(
        "<path class=\"body\" id=\"U1\" d=\"M10 10h50v50h-49\"/><path class=\"body\" id=\"U2\" d=\"M10 10h50\"/>");
    CHECK(result.chart.parts.size() == 1);
    CHECK(has_code(result.diagnostics, "closed-gap"));
    CHECK(has_code(result.diagnostics, "no-area"));
}

TEST_CASE("a body that crosses itself is reported with its place") {
    const TraceResult result = trace("<path class=\"body\" id=\"U1\" d=\"M10 10L60 60V10L10 50z\"/>");
    CHECK(has_code(result.diagnostics, "flawed-outline"));
}

TEST_CASE("bare numbers of balls are no names of parts") {
    const TraceResult result = trace(
        "<g id=\"U1\"><rect class=\"body\" x=\"100\" y=\"100\" width=\"40\" height=\"40\"/><circle class=\"pad\" "
        "id=\"A1\" cx=\"110\" cy=\"110\" r=\"2\"/><circle class=\"pad\" id=\"B2\" cx=\"120\" cy=\"120\" r=\"2\"/></g>");
    REQUIRE(result.chart.parts.size() == 1);
    CHECK(result.chart.parts[0].pads[1].number == "B2");
    CHECK(result.chart.parts[0].pads[1].shape.kind == ShapeKind::Round);
}

TEST_CASE("the scale says where it is from and the user's own wins") {
    CHECK(trace(kChip).chart.scale->source == document::ScaleSource::DocumentUnits);
    CHECK(trace(kChip).chart.scale->relative_uncertainty == 0.01);
    TraceOptions options;
    options.scale = document::Scale{0.2, document::ScaleSource::KnownPart, 0.005, "U1 by calliper", {}};
    const TraceResult result = trace(kChip, options);
    CHECK(result.chart.scale->note == "U1 by calliper");
    CHECK(result.chart.parts[0].body->shape.width_mm == doctest::Approx(3.2));
    options.scale->mm_per_unit = 0.0;
    CHECK_FALSE(chart_from_trace(read_page(kChip), options).has_value());
}

TEST_CASE("a trace without a size gives a chart without a scale") {
    const auto result =
        chart_from_trace(read_text("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"><rect class=\"body\" "
                                   "id=\"U1\" width=\"5\" height=\"5\"/></svg>"));
    REQUIRE(result);
    CHECK_FALSE(result->chart.scale.has_value());
    CHECK(has_code(result->diagnostics, "no-scale"));
    CHECK_FALSE(chart_from_trace(Drawing{}).has_value());
}

TEST_CASE("a corrected trace finds the same things again") {
    const TraceResult first = trace(kChip + "<rect id=\"lamp\" class=\"keepout\" width=\"9\" height=\"9\"/>");
    const TraceResult second = trace(
        "<rect class=\"body\" id=\"C9\" x=\"300\" y=\"9\" width=\"9\" height=\"9\"/><g transform=\"translate(3 4)\">" +
        kChip + "</g><rect id=\"lamp\" class=\"keepout\" width=\"12\" height=\"9\"/>");
    CHECK(first.chart.parts[0].id == second.chart.parts[1].id);
    CHECK(first.chart.keep_outs[0].id == second.chart.keep_outs[0].id);
    CHECK(second.chart.parts[0].id != second.chart.parts[1].id);
}

TEST_CASE("the user's meaning of a layer wins over its name") {
    TraceOptions options;
    options.layer_meanings["Lid"] = Role::KeepOut;
    options.layer_meanings["pads"] = Role::Note;
    const TraceResult result = trace(
        "<g ed:label=\"lid\"><rect width=\"9\" height=\"9\"/></g><g id=\"pads\"><rect width=\"9\" height=\"9\"/></g>",
        options);
    CHECK(result.chart.keep_outs.size() == 1);
    CHECK(result.account[1].role == Role::Note);
    CHECK(result.chart.parts.empty());
}

TEST_CASE("open lines of one layer whose ends touch are one outline") {
    // Four edges, drawn one by one in no order and either way, ends up to 0.05 mm apart.
    const TraceResult result =
        trace("<g id=\"outline\"><path d=\"M0,0 H300\"/><path d=\"M300,200 H0.3\"/>"
              "<line x1=\"300.3\" y1=\"0.4\" x2=\"300\" y2=\"200\"/><polyline points=\"0,200 0,0\"/></g>");
    REQUIRE(result.chart.board.outline.has_value());
    CHECK(geometry::area(*result.chart.board.outline) == doctest::Approx(30.0 * 20.0).epsilon(0.001));
    CHECK(has_code(result.diagnostics, "lines-chained"));
    CHECK_FALSE(has_code(result.diagnostics, "closed-gap"));
    CHECK_FALSE(has_code(result.diagnostics, "no-area"));
    CHECK(result.account[1].what.find("one loop") != std::string::npos);
}

TEST_CASE("open lines from one point are joined into the rings they run round") {
    // Three squares with one corner in common, each drawn as two lines out of it, in no order and either way.
    const TraceResult result =
        trace("<g class=\"keepout\"><path d=\"M100,100 H200 V200\"/><path d=\"M100,100 H0 V200\"/>"
              "<path d=\"M100,100 V0 H0\"/><path d=\"M200,200 H100 V100\"/>"
              "<path d=\"M0,200 H100 V100\"/><path d=\"M100,100 H0 V0\"/></g>");
    REQUIRE(result.chart.keep_outs.size() == 3);
    for (const auto& keep_out : result.chart.keep_outs)
        CHECK(geometry::area(keep_out.outline) == doctest::Approx(10.0 * 10.0).epsilon(1e-6));
    CHECK(has_code(result.diagnostics, "lines-chained"));
    CHECK_FALSE(has_code(result.diagnostics, "self-crossing"));
}

TEST_CASE("loops with a common corner stay apart whichever of their lines comes first") {
    // Three quadrangles with one corner in common, which one of them misses by 0.03 mm; every side a line of its own,
    // in any order and either way.
    using Corners = std::array<geometry::Vec2, 5>;
    const std::array<Corners, 3> shapes{Corners{{{100, 100}, {200, 110}, {200, 190}, {110, 200}, {100, 100}}},
                                        Corners{{{100, 100}, {90, 210}, {10, 200}, {0, 120}, {100.3, 100}}},
                                        Corners{{{100, 100}, {0, 80}, {0, 0}, {80, 0}, {100, 100}}}};
    // Half the sum of the cross products along the sides, in mm2.
    const std::vector<double> areas{80, 85.5, 85.5};
    std::vector<std::array<std::string, 2>> sides;
    const auto text = [](geometry::Vec2 p) { return std::to_string(p.x) + "," + std::to_string(p.y); };
    for (const Corners& corners : shapes)
        for (std::size_t i = 0; i < 4; ++i)
            sides.push_back({text(corners[i]), text(corners[i + 1])});
    testing::Random random(5);
    for (int round = 0; round < 200; ++round) {
        for (std::size_t i = sides.size() - 1; i > 0; --i)
            std::swap(sides[i], sides[random.below(i + 1)]);
        std::string lines;
        for (auto& [from, to] : sides) {
            if (random.chance(0.5)) std::swap(from, to);
            lines += "<path d=\"M" + from + " L" + to + "\"/>";
        }
        CAPTURE(lines);
        const TraceResult result = trace("<g class=\"keepout\">" + lines + "</g>");
        std::vector<double> found;
        for (const auto& keep_out : result.chart.keep_outs)
            found.push_back(geometry::area(keep_out.outline));
        std::sort(found.begin(), found.end());
        REQUIRE(found.size() == 3);
        for (std::size_t i = 0; i < 3; ++i)
            CHECK(found[i] == doctest::Approx(areas[i]).epsilon(0.005));
        CHECK_FALSE(has_code(result.diagnostics, "self-crossing"));
    }
}

TEST_CASE("a loop on the end of a line is a loop of its own") {
    // A line in two halves from afar to the corner of a square, which is drawn as two lines.
    const std::array<std::string, 4> lines{"<path d=\"M0,0 L50,50\"/>", "<path d=\"M50,50 L100,100\"/>",
                                           "<path d=\"M100,100 H200 V200\"/>", "<path d=\"M100,100 V200 H200\"/>"};
    std::array<std::size_t, 4> order{0, 1, 2, 3};
    do {
        std::string text;
        for (const std::size_t i : order)
            text += lines[i];
        CAPTURE(text);
        const TraceResult result = trace("<g class=\"keepout\">" + text + "</g>");
        const auto& areas = result.chart.keep_outs;
        CHECK(std::any_of(areas.begin(), areas.end(), [](const document::KeepOut& keep_out) {
            return std::abs(geometry::area(keep_out.outline) - 100.0) < 1e-6;
        }));
    } while (std::next_permutation(order.begin(), order.end()));
}

TEST_CASE(
    "open lines that can be read as other loops are told with all of their names, one shared corner is no doubt") {
    const auto told = [](const std::string& lines) {
        std::vector<std::string> words;
        for (const Diagnostic& finding : trace("<g class=\"pads\">" + lines + "</g>").diagnostics)
            if (finding.code == "loops-in-doubt") words.push_back(finding.message);
        return words;
    };
    // Two pads beside each other between the corners A (100,100) and B (100,200), two lines each.
    const std::string two =
        "<path id=\"a\" d=\"M100,100 H50 V200 H100\"/><path id=\"b\" d=\"M100,100 L90,150 L100,200\"/>"
        "<path id=\"c\" d=\"M100,100 L110,150 L100,200\"/><path id=\"d\" d=\"M100,100 H150 V200 H100\"/>";
    const std::vector<std::string> words = told(two);
    REQUIRE(words.size() == 1);
    CHECK(words[0].starts_with("path 'a' ("));
    CHECK(words[0].find(" share more corners than one: their open lines can be put together in another way") !=
          std::string::npos);
    // An edge that two pads have in common, drawn once: whose it is nobody can tell.
    CHECK(told("<path d=\"M100,100 H50 V200 H100\"/><path d=\"M100,100 L90,150 L100,200\"/>"
               "<path d=\"M100,100 H150 V200 H100\"/>")
              .size() == 1);
    // Three in a row, each with one corner of the next, and a line that only begins at one of them.
    CHECK(told("<path d=\"M0,0 H50 V50\"/><path d=\"M0,0 V50 H50\"/><path d=\"M50,50 H90 V90\"/>"
               "<path d=\"M50,50 V90 H90\"/><path d=\"M90,90 H150 V150\"/><path d=\"M90,90 V150 H150\"/>"
               "<path d=\"M150,150 H300 V300\"/>")
              .empty());
    // Three in a ring: the gap between them is a loop as well.
    CHECK(told("<path d=\"M0,0 H50\"/><path d=\"M0,0 V-20 H50 V0\"/><path d=\"M50,0 L25,40\"/>"
               "<path d=\"M50,0 H80 V40 H25\"/><path d=\"M25,40 L0,0\"/><path d=\"M25,40 H-20 L0,0\"/>")
              .size() == 1);
}

TEST_CASE("a line there and back on the way round is no loop of its own") {
    // The fourth side goes out to a tip and comes back beside itself, within the 0.1 mm that ends may miss each other.
    const TraceResult result =
        trace("<g class=\"keepout\"><path d=\"M0,0 H300\"/><path d=\"M300,0 V200\"/><path d=\"M300,200 L400,300\"/>"
              "<path d=\"M400,300 L300.3,200.2\"/><path d=\"M300.3,200.2 L0,200\"/><path d=\"M0,200 V0\"/></g>");
    REQUIRE(result.chart.keep_outs.size() == 1);
    CHECK(geometry::area(result.chart.keep_outs[0].outline) == doctest::Approx(30.0 * 20.0).epsilon(0.01));
}

TEST_CASE("two thousand open lines from one point are rings, each drawn once") {
    // A fan of thin triangles: two lines out of the middle and back for each.
    constexpr int kTriangles = 1000;
    std::string lines = "<g class=\"keepout\">";
    const auto spoke = [](double turn) {
        return std::to_string(150 + 100 * std::cos(turn)) + "," + std::to_string(150 + 100 * std::sin(turn));
    };
    for (int i = 0; i < kTriangles; ++i) {
        const double from = i * 6.283185 / kTriangles;
        const std::string middle = spoke(from + 0.002);
        lines += "<path d=\"M150,150 L" + spoke(from) + " L" + middle + "\"/><path d=\"M" + middle + " L" +
                 spoke(from + 0.004) + " L150,150\"/>";
    }
    const TraceResult result = trace(lines + "</g>");
    double area = 0.0;
    for (const auto& keep_out : result.chart.keep_outs)
        area += geometry::area(keep_out.outline);
    // Each covers two triangles of 10 mm sides and 0.002 rad between them.
    CHECK(area == doctest::Approx(kTriangles * 2 * 0.5 * 10.0 * 10.0 * std::sin(0.002)).epsilon(0.01));
}

TEST_CASE("open lines that stay open are closed and the gap is told") {
    const TraceResult result = trace("<g id=\"outline\"><path d=\"M0,0 H300\"/><path d=\"M300,0 V200 H100\"/></g>");
    REQUIRE(result.chart.board.outline.has_value());
    CHECK(result.chart.board.outline->outer.size() == 4);
    CHECK(has_code(result.diagnostics, "lines-chained"));
}

TEST_CASE("open lines of two groups or two roles are not joined") {
    const TraceResult result =
        trace("<g id=\"a\"><path class=\"body\" d=\"M0,0 H30 V20\"/></g><g id=\"b\"><path class=\"body\" d=\"M30,20 H0 "
              "V0\"/></g>");
    CHECK(result.chart.parts.size() == 2);
    CHECK_FALSE(has_code(result.diagnostics, "lines-chained"));
}

TEST_CASE("a line alone is closed by itself as before") {
    const TraceResult result = trace("<g id=\"outline\"><path d=\"M0,0 H300 V200 H0\"/></g>");
    CHECK(result.chart.board.outline.has_value());
    CHECK(has_code(result.diagnostics, "closed-gap"));
}

TEST_CASE("what a person says of a shape wins over its names") {
    TraceOptions options;
    options.shape_meanings[0] = {Role::KeepOut, Side::Bottom};
    options.shape_meanings[1] = {Role::Note, std::nullopt};
    const TraceResult result = trace("<g id=\"pads\"><rect x=\"0\" y=\"0\" width=\"20\" height=\"10\"/>"
                                     "<rect x=\"50\" y=\"0\" width=\"20\" height=\"10\"/>"
                                     "<rect x=\"90\" y=\"0\" width=\"20\" height=\"10\"/></g>",
                                     options);
    REQUIRE(result.chart.keep_outs.size() == 1);
    CHECK(result.chart.keep_outs[0].side == Side::Bottom);
    REQUIRE(result.chart.parts.size() == 1);
    CHECK(result.chart.parts[0].pads.size() == 1);
}

} // namespace
} // namespace padchart::svg
