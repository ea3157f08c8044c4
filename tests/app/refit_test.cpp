#include "support.hpp"

#include "app/refit.hpp"
#include "patterns/pad_count.hpp"

namespace padchart::app {
namespace {

using document::Footprint;
using document::Id;
using geometry::Vec2;

/// As a trace gives it: lands at their places on the board, no family, turned 90 degrees, one land found lifted.
document::Chart traced_gull_wing() {
    const Footprint made = patterns::generate("soic-8").value();
    Footprint part;
    part.id = Id{"u3"};
    part.name = "U3";
    part.value = "level switch";
    part.comment = "runs warm";
    const geometry::Affine turn = geometry::Affine::rotation(Angle::degrees(90));
    for (document::Pad pad : made.pads) {
        pad.at = turn(pad.at) + Vec2{20, 10};
        pad.turn = pad.turn + Angle::degrees(90);
        pad.number.clear();
        part.pads.push_back(pad);
    }
    part.pads[2].land = document::LandState::Lifted;
    part.orientation.state = document::RecordState::Recorded;
    part.orientation.mark = document::MarkKind::Dot;
    part.orientation.bearing = Angle::degrees(225);
    return document::add_part(new_chart(), part).value();
}

std::vector<Vec2> pads_on_board(const Footprint& part) {
    std::vector<Vec2> all;
    for (const document::Pad& pad : part.pads)
        all.push_back(document::board_from_part(part.placement)(pad.at));
    return all;
}

/// The farthest that a place of one list lies from the nearest of the other.
double apart(const std::vector<Vec2>& a, const std::vector<Vec2>& b) {
    double worst = 0;
    for (const Vec2 p : a) {
        double nearest = 1e9;
        for (const Vec2 q : b)
            nearest = std::min(nearest, geometry::distance(p, q));
        worst = std::max(worst, nearest);
    }
    return worst;
}

double mark_on_board(const Footprint& part) {
    return (part.orientation.bearing + part.placement.turn).wrapped().degrees();
}

TEST_CASE("refitting lays the family on the traced pads and keeps what was said") {
    Editor editor;
    editor.start_new(traced_gull_wing());
    const Footprint before = part_named(editor.chart(), "U3");
    const auto fits = patterns::suggest_families(before.pads);
    REQUIRE_FALSE(fits.empty());
    REQUIRE(editor.commit(refitted(editor.chart(), before.id, fits.front()), "Refit U3"));
    const Footprint& now = part_named(editor.chart(), "U3");
    CHECK(now.family == fits.front().family);
    CHECK(apart(pads_on_board(before), pads_on_board(now)) < 0.01);
    CHECK(now.body);
    CHECK(now.value == "level switch");
    CHECK(now.comment == "runs warm");
    CHECK(mark_on_board(now) == doctest::Approx(mark_on_board(before)));
    for (const document::Pad& pad : now.pads) {
        const Vec2 place = document::board_from_part(now.placement)(pad.at);
        const bool was_lifted = geometry::distance(place, pads_on_board(before)[2]) < 0.01;
        CHECK((pad.land == document::LandState::Lifted) == was_lifted);
    }
    editor.undo();
    CHECK(part_named(editor.chart(), "U3") == before);
}

TEST_CASE("numbers the technician gave to every pad outlive a refit") {
    document::Chart chart = traced_gull_wing();
    chart = document::change_part(chart, Id{"u3"}, [](Footprint& part) {
                for (std::size_t i = 0; i < part.pads.size(); ++i)
                    part.pads[i].number = "T" + std::to_string(i);
            }).value();
    const Footprint before = part_named(chart, "U3");
    const Footprint now =
        part_named(refitted(chart, before.id, patterns::suggest_families(before.pads).front()).value(), "U3");
    for (std::size_t i = 0; i < before.pads.size(); ++i) {
        const auto same = std::find_if(now.pads.begin(), now.pads.end(),
                                       [&](const auto& pad) { return pad.number == before.pads[i].number; });
        REQUIRE(same != now.pads.end());
        CHECK(geometry::distance(document::board_from_part(now.placement)(same->at), pads_on_board(before)[i]) < 0.01);
    }
}

TEST_CASE("a fit of other pads is refused") {
    const document::Chart chart = row_of_chips();
    const auto fits = patterns::suggest_families(traced_gull_wing().parts[0].pads);
    REQUIRE_FALSE(fits.empty());
    CHECK_FALSE(refitted(chart, Id{"r1"}, fits.front()));
}

TEST_CASE("a family that the pads do not fit comes with its usual measures in the same place") {
    document::Chart chart = row_of_chips();
    chart = document::change_part(chart, Id{"r2"}, [](Footprint& part) {
                part.value = "10k";
                part.pads[1].joint = document::JointState::Cold;
            }).value();
    const document::Chart changed = with_family(chart, Id{"r2"}, "soic-8").value();
    const Footprint& now = part_named(changed, "R2");
    CHECK(now.family == "soic-8");
    CHECK(now.pads.size() == 8);
    CHECK(now.value == "10k");
    CHECK(now.part_class == part_named(chart, "R2").part_class);
    CHECK(now.pads[1].joint == document::JointState::Cold); // the pad of the same number
    CHECK(geometry::distance(document::board_from_part(now.placement)(document::centre_in_part(now)), {5, 0}) < 1e-9);
    CHECK_FALSE(with_family(chart, Id{"r2"}, "no such family"));
}

TEST_CASE("no family leaves the pads where they are") {
    const document::Chart chart = with_family(row_of_chips(), Id{"r2"}, "").value();
    CHECK(part_named(chart, "R2").family.empty());
    CHECK(part_named(chart, "R2").pads == part_named(row_of_chips(), "R2").pads);
}

TEST_CASE("another pad count goes through the family where it has one") {
    const document::Chart board = document::add_part(new_chart(), part_of("soic-8", "U3", {5, 5})).value();
    const document::Chart longer = with_pad_count(board, Id{"u3"}, 14).value();
    const Footprint& now = part_named(longer, "U3");
    CHECK(now.pads.size() == 14);
    CHECK_FALSE(now.stated_pad_count);
    CHECK(now.placement == part_named(board, "U3").placement);
    // Seven pads a side at 1.27 mm: three more steps than four pads have (own arithmetic).
    const auto length = [](const Footprint& part) {
        geometry::Box box;
        for (const document::Pad& pad : part.pads)
            box.add(pad.at);
        return std::max(box.width(), box.height());
    };
    CHECK(now.body->shape.height_mm - part_named(board, "U3").body->shape.height_mm ==
          doctest::Approx(3 * 1.27).epsilon(0.001));
    CHECK(length(now) > length(part_named(board, "U3")));
    CHECK(part_named(with_pad_count(longer, Id{"u3"}, 8).value(), "U3").pads == part_named(board, "U3").pads);
}

TEST_CASE("a count the drawing cannot have is put down as stated") {
    const document::Chart chip = with_pad_count(row_of_chips(), Id{"r1"}, 3).value();
    CHECK(part_named(chip, "R1").pads.size() == 2);
    CHECK(part_named(chip, "R1").stated_pad_count == 3);
    CHECK_FALSE(part_named(with_pad_count(chip, Id{"r1"}, 2).value(), "R1").stated_pad_count);
    const document::Chart traced = with_pad_count(traced_gull_wing(), Id{"u3"}, 10).value();
    CHECK(part_named(traced, "U3").stated_pad_count == 10);
    CHECK_FALSE(with_pad_count(traced, Id{"u3"}, -1));
}

} // namespace
} // namespace padchart::app
