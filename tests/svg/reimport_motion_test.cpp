// A corrected trace that lies elsewhere as a whole, and parts drawn turned in their place. Invented boards.

#include "svg/reimport_motion.hpp"

#include <algorithm>

#include "document/edits.hpp"
#include "svg/reimport_support.hpp"

using namespace padchart;
using namespace padchart::svg;

namespace {

/// Four chips, a board's edge and a keep-out.
std::string board(const std::string& transform, const std::string& r4 = chip("R4", 20, 13)) {
    return "<g" + (transform.empty() ? "" : " transform=\"" + transform + "\"") +
           "><g id=\"outline\"><path d=\"M1 1h24v16h-20l-4-4z\"/></g>" + chip("R1", 3, 3) + chip("R2", 12, 3) +
           chip("R3", 5, 12) + r4 +
           "<g id=\"keep-out\"><rect id=\"K1\" x=\"8\" y=\"7\" width=\"3\" height=\"2\"/></g></g>";
}

/// With all that has a place but does not come from a trace.
document::Chart with_things_said() {
    document::Chart chart = traced(board(""));
    document::Note note;
    note.id = {"n"};
    note.at = {15, 10};
    chart.notes.add(note);
    document::Shield foil;
    foil.id = {"s"};
    foil.name = "foil";
    foil.outline.outer = {{2, 2}, {6, 2}, {6, 4}, {2, 4}};
    chart.shields.add(foil);
    document::Photo photo;
    photo.id = {"p"};
    photo.path = "p.png";
    photo.board_from_pixel = {0.01, 0, 0, 0, 0.01, 0, 0, 0, 1};
    photo.points = {{{100, 100}, {1, 1}, {}}, {{1000, 900}, {10, 9}, {}}};
    chart.photos.add(photo);
    document::HeatPlan plan;
    plan.id = {"h"};
    plan.target = chart.parts[0].id;
    plan.aim = chart.parts[0].placement.at + geometry::Vec2{0.5, 0};
    chart.heat_plans.add(plan);
    return chart;
}

document::Chart recorded(document::Chart chart, std::size_t part) {
    document::Footprint changed = chart.parts[part];
    changed.orientation.state = document::RecordState::Recorded;
    changed.orientation.mark = document::MarkKind::Band;
    changed.orientation.bearing = Angle::degrees(180);
    changed.orientation.evidence.kind = document::EvidenceKind::SeenHere;
    chart.parts.replace(part, changed);
    return chart;
}

void check_at(geometry::Vec2 at, geometry::Vec2 wanted) {
    CHECK(geometry::distance(at, wanted) < 1e-9);
}

TEST_CASE("a drawing that lies elsewhere as a whole takes photos, shields, notes and aims along, and is told once") {
    const document::Chart chart = with_things_said();
    const auto result = reimport(chart, traced(board("translate(2 1.5)")));
    CHECK(told_as(result, "drawing-moved") ==
          std::vector<std::string>{"the whole drawing lies 2.00 mm to the right and 1.50 mm down of where it lay: "
                                   "everything on the chart goes along, photos, shields and notes too"});
    CHECK(told_as(result, "part-changed").empty());
    CHECK(told_as(result, "keep-out-changed").empty());
    check_at(result->chart.notes[0].at, {17, 11.5});
    check_at(result->chart.shields[0].outline.outer[0], {4, 3.5});
    check_at(result->chart.photos[0].points[1].at, {12, 10.5});
    CHECK(result->chart.photos[0].board_from_pixel[2] == doctest::Approx(2.0));
    check_at(result->chart.heat_plans[0].aim, chart.heat_plans[0].aim + geometry::Vec2{2, 1.5});
}

TEST_CASE("a drawing turned as a whole turns the chart, and no part of it counts as changed") {
    document::Chart chart = with_things_said();
    const auto result = reimport(chart, traced(board("translate(20 0) rotate(90)")));
    CHECK(told_as(result, "drawing-moved") ==
          std::vector<std::string>{"the whole drawing is turned by 90 degrees clockwise against where it lay: "
                                   "everything on the chart goes along, photos, shields and notes too"});
    CHECK(told_as(result, "part-changed").empty());
    CHECK(told_as(result, "record-of-turned").empty());
    check_at(result->chart.notes[0].at, {10, 15});
    // The aim lies beside its part as it lay.
    const geometry::Vec2 beside = result->chart.heat_plans[0].aim - result->chart.parts[0].placement.at;
    check_at(beside, {0, 0.5});
}

TEST_CASE("parts that moved on a board that stayed are told by their names") {
    std::string moved = board("translate(0.6 0)");
    const std::string edge = "<g id=\"outline\"><path d=\"M1 1h24v16h-20l-4-4z\"/></g>";
    moved.replace(moved.find("M1 1h24v16h-20l-4-4z"), 20, "M0.4 1h24v16h-20l-4-4z");
    const auto result = reimport(with_things_said(), traced(moved));
    CHECK(told_as(result, "drawing-moved").empty());
    CHECK(told_as(result, "part-changed") ==
          std::vector<std::string>{"4 parts moved by 0.60 mm (+0.60 right, +0.00 down), all alike: R1, R2, R3 and R4"});
    check_at(result->chart.notes[0].at, {15, 10});
}

TEST_CASE("a drawing in other units that are as many millimetres changes nothing but the unit") {
    const document::Chart chart = with_things_said();
    const auto result = reimport(chart, traced_page(board("scale(4)"), "120 80"));
    CHECK(told_as(result, "scale-changed") ==
          std::vector<std::string>{"1 unit of the corrected trace is 0.25 mm, was 1 mm: all is as large as it was"});
    CHECK(told_as(result, "part-changed").empty());
    CHECK(told_as(result, "outline-changed").empty());
    CHECK(result->chart.scale->mm_per_unit == doctest::Approx(0.25));
    check_at(result->chart.notes[0].at, {15, 10});
    check_at(result->chart.photos[0].points[1].at, {10, 9});
}

TEST_CASE("a page that makes the same drawing larger makes the chart larger, photos, shields and notes too") {
    const document::Chart chart = with_things_said();
    const auto result = reimport(chart, traced(board(""), R"(width="31.5mm" height="21mm")"));
    CHECK(told_as(result, "scale-changed") ==
          std::vector<std::string>{"the corrected trace is 1.05 times as large: every length of the chart follows it, "
                                   "photos, shields and notes too"});
    CHECK(told_as(result, "part-changed").empty());
    check_at(result->chart.notes[0].at, {15.75, 10.5});
    check_at(result->chart.shields[0].outline.outer[0], {2.1, 2.1});
}

TEST_CASE("a board drawn larger under a measured scale is read in the chart's own millimetres") {
    document::Chart chart = with_things_said();
    chart.scale->source = document::ScaleSource::TwoPoints;
    chart.scale->note = "24 mm along the edge";
    Diagnostics findings;
    const Drawing drawing =
        read("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 60 40\">" + board("scale(2)") + "</svg>").value();
    TraceOptions options;
    options.scale = scale_for_correction(drawing, chart, findings);
    const auto fresh = chart_from_trace(drawing, options);
    REQUIRE(fresh);
    const auto result = reimport(chart, fresh->chart);
    CHECK(told_as(result, "scale-changed") ==
          std::vector<std::string>{"the corrected trace is drawn 2 times as large: it is read in the chart's own "
                                   "millimetres, 1 unit is 0.5 mm now (24 mm along the edge)"});
    CHECK(told_as(result, "part-changed").empty());
    CHECK(result->chart.scale->source == document::ScaleSource::TwoPoints);
    check_at(result->chart.notes[0].at, {15, 10});
}

TEST_CASE("a record of a part whose body shows no turn goes round with the whole drawing") {
    const auto with_can = [](const std::string& transform) {
        return traced(board(transform,
                            "<g id=\"C7\"><path class=\"body\" d=\"M18 9h4l1 1v3h-6v-3z\"/><g class=\"pads\"><rect "
                            "id=\"C7-1\" x=\"19.5\" y=\"8\" width=\"1\" height=\"1\"/><rect id=\"C7-2\" "
                            "x=\"19.5\" y=\"13\" width=\"1\" height=\"1\"/></g></g>"));
    };
    document::Chart chart = recorded(with_can(""), 3);
    const auto result = reimport(chart, with_can("translate(14 -3) rotate(37)"));
    CHECK(told_as(result, "drawing-moved").size() == 1);
    CHECK(told_as(result, "part-changed").empty());
    const document::Footprint &was = chart.parts[3], &is = result->chart.parts[3];
    CHECK(is.orientation == was.orientation); // in its own frame, which went round
    CHECK((is.placement.turn - was.placement.turn).signed_turn().degrees() == doctest::Approx(-37.0));
}

TEST_CASE("things without names are found again where all of the drawing moved") {
    const auto nameless = [](const std::string& transform) {
        std::string shapes = "<g id=\"outline\"><path d=\"M1 1h24v16h-20l-4-4z\"/></g>";
        for (int i = 0; i < 4; ++i)
            shapes += "<g><g class=\"pads\"><rect x=\"" + std::to_string(3 + 5 * i) +
                      "\" y=\"6\" width=\"0.8\" height=\"0.8\"/>"
                      "<rect x=\"" +
                      std::to_string(3 + 5 * i) +
                      "\" y=\"8\" width=\"0.8\" height=\"0.8\"/></g><rect class=\"body\" x=\"" +
                      std::to_string(3 + 5 * i) + "\" y=\"6.2\" width=\"0.8\" height=\"2.2\"/></g>";
        return traced("<g transform=\"" + transform + "\">" + shapes + "</g>");
    };
    document::Chart chart = nameless("translate(0 0)");
    REQUIRE(chart.parts.size() == 4);
    for (std::size_t i = 0; i < 4; ++i)
        chart = *document::rename_part(chart, chart.parts[i].id, "U" + std::to_string(i + 1));
    const auto result = reimport(chart, nameless("translate(2 3)"));
    CHECK(told_as(result, "drawing-moved").size() == 1);
    REQUIRE(result->chart.parts.size() == 4);
    for (std::size_t i = 0; i < 4; ++i)
        check_at(result->chart.parts[i].placement.at, chart.parts[i].placement.at + geometry::Vec2{2, 3});
}

TEST_CASE("a pad that is gone neither turns nor enlarges a drawing that only moved") {
    const auto parts = [](const std::string& transform, const std::string& last_pad) {
        return traced(
            "<g transform=\"" + transform + "\">" + chip("R1", 3, 3) + chip("R2", 12, 3) + chip("R3", 5, 12) +
            "<g id=\"U1\"><g class=\"pads\"><rect id=\"U1-1\" x=\"20\" y=\"9\" width=\"0.8\" height=\"0.8\"/><rect "
            "id=\"U1-2\" x=\"23\" y=\"9\" width=\"0.8\" height=\"0.8\"/>" +
            last_pad + "</g></g></g>");
    };
    const std::string third = "<rect id=\"U1-3\" x=\"20\" y=\"12\" width=\"0.8\" height=\"0.8\"/>";
    const auto result = reimport(parts("translate(0 0)", third), parts("translate(2 0)", ""));
    CHECK(told_as(result, "scale-changed").empty());
    REQUIRE(told_as(result, "drawing-moved").size() == 1);
    CHECK(
        told_as(result, "drawing-moved")[0].starts_with("the whole drawing lies 2.00 mm to the right of where it lay"));
    CHECK(told_as(result, "part-changed") == std::vector<std::string>{"U1: pad 3 is gone"});
}

TEST_CASE("one part and the board's edge that moved alike are the whole drawing") {
    const auto one = [](const std::string& transform) {
        return traced("<g transform=\"" + transform + "\"><g id=\"outline\"><path d=\"M1 1h20v14h-20z\"/></g>" +
                      chip("R1", 3, 3) + "</g>");
    };
    CHECK(told_as(reimport(one("translate(0 0)"), one("translate(5 3)")), "drawing-moved").size() == 1);
}

TEST_CASE("nameless parts of one kind keep what was said of each where the drawing moved and one of them is gone") {
    const auto row = [](const std::string& transform, int without) {
        std::string shapes = "<g id=\"outline\"><path d=\"M1 1h24v16h-20l-4-4z\"/></g>";
        for (int i = 0; i < 5; ++i)
            if (i != without)
                shapes += "<g><g class=\"pads\"><rect x=\"" + std::to_string(3 + 4 * i) +
                          "\" y=\"6\" width=\"0.8\" height=\"0.8\"/><rect x=\"" + std::to_string(3 + 4 * i) +
                          "\" y=\"8\" width=\"0.8\" height=\"0.8\"/></g></g>";
        return traced("<g transform=\"" + transform + "\">" + shapes + "</g>");
    };
    document::Chart chart = row("translate(0 0)", -1);
    REQUIRE(chart.parts.size() == 5);
    for (std::size_t i = 0; i < 5; ++i)
        chart = *document::set_value(chart, chart.parts[i].id, std::to_string(i));
    const auto result = reimport(chart, row("translate(2 3)", 2));
    CHECK(told_as(result, "gone-from-trace").size() == 1);
    REQUIRE(result->chart.parts.size() == 5);
    for (std::size_t i = 0; i < 5; ++i) {
        CHECK(result->chart.parts[i].value == std::to_string(i));
        check_at(result->chart.parts[i].placement.at, chart.parts[i].placement.at + geometry::Vec2{2, 3});
    }
}

TEST_CASE("an uneven part drawn turned keeps the bearing of its record to a hair") {
    const auto with_uneven = [](const std::string& turn) {
        return traced(board(
            "", "<g id=\"U7\" transform=\"" + turn +
                    "\"><rect class=\"body\" x=\"18\" y=\"11\" width=\"3\" "
                    "height=\"2\"/><g class=\"pads\"><rect id=\"U7-1\" x=\"18\" y=\"10\" width=\"0.6\" height=\"1\"/>"
                    "<rect id=\"U7-2\" x=\"20\" y=\"10\" width=\"0.6\" height=\"1\"/><rect id=\"U7-3\" x=\"18\" "
                    "y=\"13\" width=\"0.6\" height=\"1\"/></g></g>"));
    };
    const document::Chart chart = recorded(with_uneven("rotate(0 19.5 12)"), 3);
    const auto result = reimport(chart, with_uneven("rotate(180 19.5 12)"));
    CHECK(told_as(result, "record-of-turned").size() == 1);
    CHECK(told_as(result, "mark-held").empty());
    CHECK(result->chart.parts[3].orientation == chart.parts[3].orientation);
}

TEST_CASE("one part that went its own way is told beside the whole that moved") {
    const auto result = reimport(with_things_said(), traced(board("translate(0 2)", chip("R4", 18, 10))));
    CHECK(told_as(result, "drawing-moved").size() == 1);
    CHECK(told_as(result, "part-changed") ==
          std::vector<std::string>{"R4: moved by 3.61 mm (-2.00 right, -3.00 down)"}); // 2 and 3
}

TEST_CASE("a hand's jitter is no motion of the whole") {
    const std::string jitter = "<g id=\"outline\"><path d=\"M1 1h24v16h-20l-4-4z\"/></g>" + chip("R1", 3.05, 3.02) +
                               chip("R2", 12.01, 2.96) + chip("R3", 4.96, 12.03) + chip("R4", 20.02, 13.04);
    const auto result = reimport(with_things_said(), traced(jitter));
    CHECK(told_as(result, "drawing-moved").empty());
    check_at(result->chart.notes[0].at, {15, 10});
}

TEST_CASE("two parts of one name keep apart when the whole drawing moved onto each other's places") {
    const auto twins = [](const std::string& transform) {
        return board(transform, "<g id=\"body\"><rect id=\"R4\" x=\"20\" y=\"9\" width=\"2\" height=\"1\"/><rect "
                                "id=\"R4\" x=\"20\" y=\"11\" width=\"2\" height=\"1\"/></g>");
    };
    document::Chart chart = traced(twins(""));
    REQUIRE(chart.parts.size() == 5);
    chart = *document::set_value(chart, chart.parts[3].id, "100k");
    const geometry::Vec2 lay = chart.parts[3].placement.at;
    const auto result = reimport(chart, traced(twins("translate(0 2)")));
    REQUIRE(result);
    const auto found = document::find_part(result->chart, chart.parts[3].id);
    REQUIRE(found);
    CHECK(result->chart.parts[*found].value == "100k");
    check_at(result->chart.parts[*found].placement.at, lay + geometry::Vec2{0, 2});
}

TEST_CASE("a row whose names moved along by one is no drawing that moved") {
    const auto row = [](int first) {
        std::string shapes;
        for (int i = 0; i < 5; ++i)
            shapes += chip("R" + std::to_string(first + i), 2 + 4 * i, 5);
        return traced(shapes);
    };
    const auto result = reimport(row(1), row(2));
    CHECK(told_as(result, "drawing-moved").empty());
    CHECK(told_as(result, "places-exchanged").size() == 1);
}

TEST_CASE("a row that lies further along by its own pitch is told as in doubt") {
    const auto row = [](double x) {
        std::string shapes;
        for (int i = 0; i < 5; ++i)
            shapes += chip("R" + std::to_string(i), x + 4 * i, 5);
        return traced(shapes);
    };
    const auto result = reimport(row(2), row(6));
    CHECK(told_as(result, "drawing-moved").empty());
    CHECK(told_as(result, "motion-in-doubt").size() == 1);
}

TEST_CASE("a mirror image of the drawing is a fault") {
    const auto result = reimport(with_things_said(), traced(board("translate(26 0) scale(-1 1)")));
    CHECK(told_as(result, "drawing-mirrored").size() == 1);
    CHECK(told_as(result, "places-exchanged").empty());
    CHECK(told_as(result, "drawing-moved").empty());
}

TEST_CASE("a keep-out is the same one when the drawing is put into one more group") {
    const auto result = reimport(with_things_said(), traced("<g>" + board("") + "</g>"));
    CHECK(told_as(result, "gone-from-trace").empty());
    CHECK(told_as(result, "new-in-trace").empty());
    CHECK(result->chart.keep_outs.size() == 1);
}

TEST_CASE("a part drawn turned keeps what a hand put on record, with a warning") {
    const document::Chart chart = recorded(with_things_said(), 3);
    const std::string swapped = "<g id=\"R4\"><g class=\"pads\"><rect id=\"R4-2\" x=\"20\" y=\"13\" width=\"0.8\" "
                                "height=\"0.8\"/><rect id=\"R4-1\" x=\"21.2\" y=\"13\" width=\"0.8\" height=\"0.8\"/>"
                                "</g></g>";
    const auto result = reimport(chart, traced(board("", swapped)));
    CHECK(told_as(result, "record-of-turned") ==
          std::vector<std::string>{"R4 is drawn turned by 180 degrees, or numbered from another pad: where its mark is "
                                   "on record stays as it was; check it on the board"});
    CHECK(told_as(result, "part-changed") ==
          std::vector<std::string>{"R4: turned by 180 degrees, or numbered from another pad"});
    CHECK(result->chart.parts[3].orientation == chart.parts[3].orientation);
}

/// A drawing in which half of the parts went their own ways besides.
std::string half_moved(const std::string& transform, const std::string& edge = "M1 1h24v16h-20l-4-4z") {
    return "<g transform=\"" + transform + "\"><g id=\"outline\"><path d=\"" + edge + "\"/></g>" + chip("R1", 3, 3) +
           chip("R2", 12, 3) + chip("R3", 5.7, 11) + chip("R4", 18, 12.2) + "</g>";
}

TEST_CASE("a drawing turned by an odd angle is known by the board's edge, though half of its few parts went besides") {
    const document::Chart chart = with_things_said();
    const auto result = reimport(chart, traced(half_moved("translate(9 -2) rotate(37)")));
    CHECK(told_as(result, "drawing-moved").size() == 1);
    CHECK(told_as(result, "motion-in-doubt").empty());
    CHECK(told_as(result, "part-changed").size() == 2); // R3 and R4
    const geometry::Affine motion =
        geometry::Affine::translation({9, -2}) * geometry::Affine::rotation(Angle::degrees(-37));
    CHECK(geometry::distance(result->chart.notes[0].at, motion({15, 10})) < 1e-3);
    CHECK(geometry::distance(result->chart.photos[0].points[1].at, motion({10, 9})) < 1e-3);
}

TEST_CASE("of the two ways in which a rectangle lies on itself the parts that follow tell which") {
    const std::string rectangle = "M1 1h24v16h-24z";
    const document::Chart chart = traced("<g><g id=\"outline\"><path d=\"" + rectangle + "\"/></g>" + chip("R1", 3, 3) +
                                         chip("R2", 12, 3) + chip("R3", 5, 12) + chip("R4", 20, 13) + "</g>");
    for (const std::string turn : {"37", "180", "217"}) {
        const auto result = reimport(chart, traced(half_moved("rotate(" + turn + " 13 9)", rectangle)));
        REQUIRE(told_as(result, "drawing-moved").size() == 1);
        const std::string turned = turn == "37"    ? "37 degrees clockwise"
                                   : turn == "180" ? "180 degrees"
                                                   : "143 degrees";
        CHECK(told_as(result, "drawing-moved")[0].starts_with("the whole drawing is turned by " + turned));
    }
}

TEST_CASE("a drawing that went who knows where is told once, and that photos, shields and notes stayed") {
    const document::Chart chart = with_things_said();
    const std::string scattered = "<g id=\"outline\"><path d=\"M4 2h22v17h-20l-4-4z\"/></g>" + chip("R1", 9, 4) +
                                  chip("R2", 6, 9) + chip("R3", 16, 7) + chip("R4", 21, 15.5) +
                                  "<g id=\"keep-out\"><rect id=\"K1\" x=\"8\" y=\"7\" width=\"3\" height=\"2\"/></g>";
    const auto result = reimport(chart, traced(scattered));
    CHECK(told_as(result, "motion-in-doubt") ==
          std::vector<std::string>{
              "most things are drawn elsewhere, and neither they nor a board's edge tell one way in which the whole "
              "drawing went: photos, shields and free notes stay where they are, what was said of a part went along "
              "with its name. Look at each"});
    CHECK(told_as(result, "part-changed").size() == 1);
    check_at(result->chart.notes[0].at, {15, 10});
}

/// Four chips that a half turn lays on each other's places, without a board's edge.
std::string even(const std::string& transform, bool with_numbers) {
    std::string shapes;
    int count = 0;
    for (const geometry::Vec2 at : {geometry::Vec2{3, 3}, {12, 3}, {3, 9}, {12, 9}}) {
        const std::string name = "R" + std::to_string(++count);
        const auto pad = [&](const char* number, double left) {
            return "<rect " + (with_numbers ? "id=\"" + name + number + "\" " : std::string()) + "x=\"" +
                   std::to_string(left) + "\" y=\"" + std::to_string(at.y) + "\" width=\"0.8\" height=\"0.8\"/>";
        };
        shapes += "<g id=\"" + name + "\"><g class=\"pads\">" + pad("-1", at.x) + pad("-2", at.x + 1.2) + "</g></g>";
    }
    return "<g transform=\"" + transform + "\">" + shapes + "</g>";
}

TEST_CASE("a board without an edge that a half turn lays on itself is told as turned where numbered pads went along") {
    const auto result = reimport(traced(even("", true)), traced(even("rotate(180 8.5 6.4)", true)));
    CHECK(told_as(result, "drawing-moved").size() == 1);
    CHECK(told_as(result, "part-changed").empty());
    CHECK(told_as(result, "places-exchanged").empty());
}

TEST_CASE("a board without an edge that a half turn lays on itself is told once as in doubt where no pads tell") {
    const auto result = reimport(traced(even("", false)), traced(even("rotate(180 8.5 6.4)", false)));
    CHECK(told_as(result, "motion-in-doubt").size() == 1);
    CHECK(told_as(result, "places-exchanged").empty());
    CHECK(told_as(result, "part-changed") ==
          std::vector<std::string>{"4 parts are drawn 10.82 mm from where they lay: R1, R2, R3 and R4"});
}

TEST_CASE("parts that moved one by one on a board that stayed cast no doubt on the whole") {
    const auto all = reimport(with_things_said(),
                              traced("<g id=\"outline\"><path d=\"M1 1h24v16h-20l-4-4z\"/></g>" + chip("R1", 9, 4) +
                                     chip("R2", 6, 9) + chip("R3", 16, 7) + chip("R4", 21, 15.5)));
    CHECK(told_as(all, "motion-in-doubt").empty());
    CHECK(told_as(all, "part-changed").size() == 4);
}

} // namespace
