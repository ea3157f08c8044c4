#include "support.hpp"

#include "app/evidence_photo.hpp"
#include "app/orient_desk.hpp"

namespace padchart::app {
namespace {

using geometry::Box;
using geometry::Vec2;

/// 20 px to the mm, the board's origin at pixel 100, 200 (own arithmetic).
document::Photo placed_photo() {
    document::Photo photo;
    photo.id = document::Id{"top"};
    photo.path = "photos/board-top.jpg";
    photo.board_from_pixel = {0.05, 0, -5, 0, 0.05, -10, 0, 0, 1};
    return photo;
}

TEST_CASE("the crop begins as the part's surroundings on the photo") {
    document::Footprint part = part_of("chip-1608M", "R1", {10, 5});
    part.pads.clear();
    part.body.emplace();
    part.body->shape = {document::ShapeKind::Rectangle, 2.0, 1.0, {}};
    const auto box = surroundings_on(placed_photo(), part);
    REQUIRE(box);
    // 9 to 11 mm is 280 to 320 px, 4.5 to 5.5 mm is 290 to 310 px; the longer side again on each side.
    CHECK(box->min.x == doctest::Approx(240).epsilon(0.01));
    CHECK(box->max.x == doctest::Approx(360).epsilon(0.01));
    CHECK(box->min.y == doctest::Approx(250).epsilon(0.01));
    CHECK(box->max.y == doctest::Approx(350).epsilon(0.01));
    document::Photo loose = placed_photo();
    loose.board_from_pixel.clear();
    CHECK_FALSE(surroundings_on(loose, part));
}

TEST_CASE("a crop is kept as left and top and width and height") {
    CHECK(crop_of({{3, 4}, {13, 24}}) == std::vector<double>{3, 4, 10, 20});
    REQUIRE(box_of({3, 4, 10, 20}));
    CHECK(*box_of({3, 4, 10, 20}) == Box{{3, 4}, {13, 24}});
    CHECK_FALSE(box_of({}));
    const Box closer = zoomed({{0, 0}, {100, 50}}, 0.8);
    CHECK(closer.centre() == Vec2{50, 25});
    CHECK(closer.width() == 80);
    CHECK(zoomed({{0, 0}, {8, 8}}, 0.5).width() >= 8); // never nothing
}

TEST_CASE("a photo chosen for the record goes with it onto the chart") {
    Session s;
    document::Footprint part = part_of("chip-1608M", "C1", {10, 5});
    part.part_class = document::PartClass::TantalumCapacitor;
    part.orientation = {};
    document::Chart chart = document::add_part(new_chart(), part).value();
    chart.photos.add(placed_photo());
    s.editor.start_new(chart);
    s.background.update(s.editor.snapshot());
    s.show_stage(scene::Stage::Orient);
    s.go_to(document::Id{"c1"});
    choose_evidence_photo(s, *s.editor.selected_part(), document::Id{"top"});
    draft_place(s, *s.editor.selected_part(), 7);
    REQUIRE(record_mark(s));
    const document::Evidence& evidence = part_named(s.editor.chart(), "C1").orientation.evidence;
    CHECK(evidence.kind == document::EvidenceKind::Photo);
    CHECK(evidence.photo == document::Id{"top"});
    CHECK(evidence.crop_px.size() == 4);
    CHECK(photo_label(s.editor.chart(), document::Id{"top"}) == "board-top.jpg");
}

TEST_CASE("a photo off which nothing may be read is doubtful where it is chosen and where its record is") {
    Session s;
    document::Footprint part = part_of("chip-1608M", "C1", {10, 5});
    part.part_class = document::PartClass::TantalumCapacitor;
    part.orientation = {};
    document::Chart chart = document::add_part(new_chart(), part).value();
    document::Photo photo = placed_photo();
    // 30 mm apart, and 1.2 mm off at one end (own arithmetic).
    photo.points = {{{100, 200}, {0, 0}, {}}, {{700, 200}, {31.2, 0}, {}}};
    photo.board = document::WhichBoard::Donor;
    chart.photos.add(photo);
    s.editor.start_new(chart);
    s.background.update(s.editor.snapshot());
    s.show_stage(scene::Stage::Orient);
    s.go_to(document::Id{"c1"});
    CHECK(photo_choice_words(s, photo) == "board-top.jpg (doubtful)");
    CHECK(evidence_doubt(s, document::Id{}).empty());
    choose_evidence_photo(s, *s.editor.selected_part(), photo.id);
    CHECK(evidence_doubt(s, photo.id).find("nothing may be read off it") != std::string::npos);
    draft_place(s, *s.editor.selected_part(), 7);
    REQUIRE(record_mark(s));
    REQUIRE(s.editor.notice());
    CHECK(s.editor.notice()->severity == Severity::Warning);
    CHECK(s.editor.notice()->text.find("The record of C1 rests on a doubtful photo") == 0);
    CHECK_FALSE(record_doubt(s, part_named(s.editor.chart(), "C1")).empty());
    // It counts as recorded, but not among those that can be relied on.
    RecordRows& rows = s.desks.get<OrientDesk>().rows;
    const auto list = rows.of(s.background.latest());
    REQUIRE(list.size() == 1);
    CHECK(list[0].is_doubtful);
    CHECK(rows.doubtful() == 1);
    CHECK(rows.words() == "1 of 1 recorded, off a doubtful photo");
}

} // namespace
} // namespace padchart::app
