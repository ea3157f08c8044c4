// The answers are the pattern's own: they do not change with how the part is placed, traced or numbered.

#include <doctest/doctest.h>

#include <algorithm>

#include "analysis/fit.hpp"
#include "fit_patterns.hpp"
#include "support/random_shapes.hpp"

using namespace padchart;
using analysis::fit_of;
using analysis::PartFit;
using document::Footprint;
using geometry::Vec2;

namespace {

std::string answers(const PartFit& fit) {
    return "exact " + test::written(fit.exact_turns) + "; seats " + test::written(fit.seating_turns) + "; unshifted " +
           test::written(fit.seating_turns_unshifted) + "; nearly " + test::written(fit.nearly_turns) +
           (fit.mirrored_seats ? "; mirrored" : "");
}

std::string answers(const Footprint& part) {
    return answers(fit_of(part, 0.03));
}

Footprint askew(Footprint part, Angle by) {
    const geometry::Affine turn = geometry::Affine::rotation(by);
    for (document::Pad& pad : part.pads) {
        pad.at = turn(pad.at);
        pad.turn = pad.turn + by;
    }
    if (part.body) {
        part.body->at = turn(part.body->at);
        part.body->turn = part.body->turn + by;
    }
    return part;
}

/// As an outline traced by hand comes in: free points, in the part's frame, no turn.
Footprint as_outlines(Footprint part) {
    for (document::Pad& pad : part.pads) {
        geometry::Ring ring = document::outline_in_part(pad);
        for (Vec2& p : ring)
            p = p - pad.at;
        pad.turn = Angle{};
        pad.shape = {document::ShapeKind::Polygon, 0.0, 0.0, ring};
    }
    return part;
}

/// Traced with many points, none of which is quite on the line.
Footprint shakily(testing::Random& random, Footprint part) {
    constexpr double kShake_mm = 0.008;
    for (document::Pad& pad : part.pads) {
        const geometry::Ring corners = document::outline_in_part(pad);
        geometry::Ring ring;
        for (std::size_t i = 0; i < corners.size(); ++i)
            for (int step = 0; step < 6; ++step)
                ring.push_back(lerp(corners[i], corners[(i + 1) % corners.size()], step / 6.0) - pad.at +
                               random.point(kShake_mm));
        pad.turn = Angle{};
        pad.shape = {document::ShapeKind::Polygon, 0.0, 0.0, ring};
    }
    return part;
}

void shuffle(testing::Random& random, std::vector<document::Pad>& pads) {
    for (std::size_t i = pads.size(); i > 1; --i)
        std::swap(pads[i - 1], pads[random.below(i)]);
}

} // namespace

TEST_CASE("Fit does not change with the part's placement, side or name") {
    for (test::TableRow& row : test::turn_table()) {
        CAPTURE(row.name);
        const std::string before = answers(row.part);
        row.part.placement = {{31.7, -4.2}, Angle::degrees(33.3), document::Side::Bottom};
        row.part.name = "U9";
        CHECK(answers(row.part) == before);
    }
}

TEST_CASE("Fit does not change with the order of the pads") {
    testing::Random random(31);
    for (test::TableRow& row : test::turn_table()) {
        CAPTURE(row.name);
        const std::string before = answers(row.part);
        shuffle(random, row.part.pads);
        CHECK(answers(row.part) == before);
    }
}

TEST_CASE("Fit does not change when all pads are moved in the part's frame") {
    for (test::TableRow& row : test::turn_table()) {
        CAPTURE(row.name);
        const std::string before = answers(row.part);
        for (document::Pad& pad : row.part.pads)
            pad.at += Vec2{12.34, -5.67};
        CHECK(answers(row.part) == before);
    }
}

TEST_CASE("Fit does not change when the whole pattern lies askew in the part's frame") {
    for (const test::TableRow& row : test::turn_table()) {
        const std::string before = answers(row.part);
        for (const double skew : {45.0, 30.0, -17.3, 90.0, 211.9}) {
            CAPTURE(row.name);
            CAPTURE(skew);
            CHECK(answers(askew(row.part, Angle::degrees(skew))) == before);
        }
    }
}

TEST_CASE("Fit does not change when round lands lie askew and nothing but their places says so") {
    for (const char* name : {"16 BGA", "17 BGA", "18 BGA", "19 BGA", "20 wafer", "21 wafer", "22 wafer"}) {
        const Footprint part = test::pattern_named(name);
        const std::string before = answers(part);
        for (const double skew : {45.0, 30.0, -17.3}) {
            CAPTURE(name);
            CAPTURE(skew);
            Footprint traced = askew(part, Angle::degrees(skew));
            for (document::Pad& pad : traced.pads)
                pad.turn = Angle{};
            CHECK(answers(traced) == before);
        }
    }
}

TEST_CASE("Fit does not change when rectangles come as free outlines, askew or straight") {
    for (const test::TableRow& row : test::turn_table()) {
        if (row.part.pads.front().shape.kind != document::ShapeKind::Rectangle) continue;
        CAPTURE(row.name);
        const std::string before = answers(row.part);
        CHECK(answers(as_outlines(row.part)) == before);
        CHECK(answers(as_outlines(askew(row.part, Angle::degrees(38.0)))) == before);
    }
}

TEST_CASE("A part traced by a shaky hand and askew seats where the true one does") {
    testing::Random random(32);
    for (const char* name : {"4 SOT-23-6", "8 SOIC", "12 QFN", "23 crystal", "34 sense"}) {
        const Footprint part = test::pattern_named(name);
        for (const double skew : {0.0, 20.0, 45.0}) {
            CAPTURE(name);
            CAPTURE(skew);
            const Footprint traced = shakily(random, askew(part, Angle::degrees(skew)));
            CHECK(test::written(fit_of(traced, 0.02).seating_turns) == test::written(fit_of(part, 0.02).seating_turns));
        }
    }
}

TEST_CASE("The named shift is in the part's own frame, wherever that frame points") {
    const PartFit straight = fit_of(test::pattern_named("5 SOT-143"), 0.02);
    const PartFit turned = fit_of(askew(test::pattern_named("5 SOT-143"), Angle::degrees(30.0)), 0.02);
    REQUIRE(straight.needs_shift.size() == 2);
    REQUIRE(turned.needs_shift.size() == 2);
    for (std::size_t i = 0; i < 2; ++i) {
        const Vec2 expected = geometry::Affine::rotation(Angle::degrees(30.0))(straight.needs_shift[i].shift_mm);
        CHECK(distance(turned.needs_shift[i].shift_mm, expected) < 1e-6);
    }
}

TEST_CASE("A chart gives every part the answers it has alone, in the chart's order") {
    document::Chart chart;
    chart.scale = document::Scale{};
    int number = 0;
    for (int copies = 0; copies < 2; ++copies) {
        for (const test::TableRow& row : test::turn_table()) {
            Footprint part = row.part;
            part.id.text = "p-" + std::to_string(++number);
            part.part_class = copies == 0 ? document::PartClass::Resistor : document::PartClass::Diode;
            chart.parts.add(part);
        }
    }
    const analysis::FitReport report = analysis::fit(chart);
    REQUIRE(report.parts.size() == chart.parts.size());
    CHECK(report.has_scale);
    for (std::size_t i = 0; i < chart.parts.size(); ++i) {
        const PartFit alone = fit_of(chart.parts[i], report.uncertainty_mm);
        CHECK(report.parts[i].part == chart.parts[i].id);
        CHECK(answers(report.parts[i]) == answers(alone));
        CHECK(report.parts[i].risky_turns == alone.risky_turns);
        CHECK(report.parts[i].consequence == alone.consequence);
    }
}
