#include "scene/chart_scene.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <random>
#include <set>

#include <doctest/doctest.h>

#include "golden.hpp"
#include "scene/labels.hpp"
#include "scene/text_width.hpp"
#include "support/chart_generator.hpp"
#include "support/sample_chart.hpp"

using namespace padchart;
using namespace padchart::scene;
using document::Chart;
using document::Footprint;
using document::Side;
using geometry::Box;
using geometry::Vec2;

namespace {

/// The sample with its keep-out still in force: in the sample itself what it stands for has been taken off.
document::Chart watched_sample() {
    document::Chart chart = test::sample_chart();
    document::KeepOut keep_out = chart.keep_outs[0];
    keep_out.measure = document::Measure::Watched;
    chart.keep_outs.replace(0, keep_out);
    return chart;
}

Chart chart_of(Footprint part) {
    Chart chart;
    chart.parts.add(std::move(part));
    return chart;
}

Footprint diode() {
    Footprint part = test::chip("D1", document::PartClass::Diode, {10, 5}, {1.0, 0.5});
    part.id = document::Id{"d1"};
    return part;
}

Scene picture(const Chart& chart, ViewOptions options = {}, const analysis::FitReport* fit = nullptr) {
    return chart_scene(chart, {nullptr, fit}, options);
}

std::size_t count(const Scene& scene, Role role) {
    return static_cast<std::size_t>(
        std::count_if(scene.items.begin(), scene.items.end(), [role](const Item& item) { return item.role == role; }));
}

Box box_of_role(const Scene& scene, Role role) {
    Box box;
    for (const Item& item : scene.items) {
        if (item.role != role) continue;
        if (item.kind == Item::Kind::Fill) box.add(geometry::bounds(scene.fills[item.index].area));
        if (item.kind == Item::Kind::Line) box.add(geometry::bounds(scene.lines[item.index].points));
    }
    return box;
}

analysis::FitReport fit_saying(const document::Id& id, bool needs, bool has) {
    analysis::FitReport report;
    report.parts.emplace_back();
    report.parts.back().part = id;
    report.parts.back().needs_record = needs;
    report.parts.back().has_record = has;
    return report;
}

const Text* label(const Scene& scene, std::string_view text) {
    const auto found =
        std::find_if(scene.texts.begin(), scene.texts.end(), [text](const Text& t) { return t.text == text; });
    return found == scene.texts.end() ? nullptr : &*found;
}

} // namespace

TEST_CASE("a diode with its band reads as text") {
    Footprint part = diode();
    test::record(part, document::MarkKind::Band, Angle::degrees(180), document::Meaning::Cathode);
    test::check_golden("diode", to_text(picture(chart_of(part))));
}

TEST_CASE("a missing part with a torn land reads as text") {
    Footprint part = diode();
    part.condition.presence = document::Presence::Missing;
    part.pads[1].land = document::LandState::Missing;
    test::check_golden("missing_part", to_text(picture(chart_of(part))));
}

TEST_CASE("a sensitive part of the bottom seen from the bottom reads as text") {
    Footprint part = test::part_named("MK1", document::PartClass::Microphone, {10, 5}, test::box_shape(2, 1.5));
    part.id = document::Id{"mk1"};
    part.placement.side = Side::Bottom;
    part.placement.turn = Angle::degrees(90);
    part.heat = document::HeatSensitivity{};
    part.heat->limit_c = 160;
    Chart chart = chart_of(part);
    chart.board.outline = test::box_polygon({0, 0}, {20, 10});
    ViewOptions options;
    options.seen_from = Side::Bottom;
    options.selection = {part.id};
    test::check_golden("bottom_microphone", to_text(picture(chart, options)));
}

TEST_CASE("things lie in the order of the map from the ground up") {
    const Chart chart = watched_sample();
    analysis::ClearanceReport clearance;
    clearance.top_zones = {test::box_polygon({1, 1}, {5, 5})};
    ViewOptions options;
    options.stage = Stage::Heat;
    options.selection = {chart.parts[0].id, chart.shields[0].id}; // only the shield is to be taken hold of here
    const Scene scene = chart_scene(chart, {&clearance, nullptr}, options);
    const auto first = [&](Role role) {
        const auto found = std::find_if(scene.items.begin(), scene.items.end(), [role](const Item& item) {
            return item.role == role && item.kind != Item::Kind::Text;
        });
        REQUIRE_MESSAGE(found != scene.items.end(), std::string(to_text(role)));
        return found - scene.items.begin();
    };
    const std::vector<Role> order{Role::Board,     Role::NoAim,       Role::KeepOut,   Role::Shield,
                                  Role::BoardEdge, Role::FarSideEdge, Role::PadCopper, Role::Body,
                                  Role::Mark,      Role::NozzleRing,  Role::Selection, Role::SelectionHandle};
    for (std::size_t i = 1; i < order.size(); ++i) {
        CAPTURE(std::string(to_text(order[i])));
        CHECK(first(order[i - 1]) < first(order[i]));
    }
}

TEST_CASE("seen from the bottom the picture is mirrored and the text is not") {
    Chart chart = watched_sample();
    ViewOptions options;
    options.show_labels = false;
    const Scene top = picture(chart, options);
    options.seen_from = Side::Bottom;
    const Scene bottom = picture(chart, options);
    const Box from_top = box_of_role(top, Role::Board);
    const Box from_bottom = box_of_role(bottom, Role::Board);
    CHECK(from_bottom.min.x == -from_top.max.x);
    CHECK(from_bottom.max.x == -from_top.min.x);
    CHECK(from_bottom.min.y == from_top.min.y);
    options.show_labels = true;
    const Scene labelled = picture(chart, options);
    REQUIRE(label(labelled, "C61") != nullptr);
    CHECK(label(labelled, "C61")->at.x == doctest::Approx(-6.2));
    CHECK(label(labelled, "U1") == nullptr);
}

TEST_CASE("zoomed far out only the names stand that find room in their parts, and that of what is selected") {
    const Chart chart = watched_sample();
    ViewOptions options;
    options.only_names_that_fit = true;
    const auto names = [&](const Scene& scene) {
        std::set<std::string> found;
        for (const document::Footprint& part : chart.parts)
            if (const Text* text = label(scene, part.name)) found.insert(text->text);
        return found;
    };
    const std::set<std::string> inside = names(picture(chart, options));
    options.only_names_that_fit = false;
    const std::set<std::string> all = names(picture(chart, options));
    REQUIRE(!inside.empty());
    REQUIRE(inside.size() < all.size());
    CHECK(std::includes(all.begin(), all.end(), inside.begin(), inside.end()));
    const auto left_out = std::find_if(chart.parts.begin(), chart.parts.end(), [&](const document::Footprint& part) {
        return all.contains(part.name) && !inside.contains(part.name);
    });
    options.only_names_that_fit = true;
    options.selection = {left_out->id};
    CHECK(label(picture(chart, options), left_out->name) != nullptr);
}

TEST_CASE("a part of the bottom seen from there lies as in its own frame") {
    Footprint part = diode();
    part.placement.side = Side::Bottom;
    ViewOptions options;
    options.seen_from = Side::Bottom;
    const Scene scene = picture(chart_of(part), options);
    // Pad 1 is left of pad 2 in the part's frame and on the picture alike; turned by 90 degrees counter-clockwise as
    // seen from that side it comes to lie below (own arithmetic).
    CHECK(geometry::bounds(scene.fills[0].area).centre().x < geometry::bounds(scene.fills[1].area).centre().x);
    part.placement.turn = Angle::degrees(90);
    const Scene turned = picture(chart_of(part), options);
    CHECK(geometry::bounds(turned.fills[0].area).centre().y > geometry::bounds(turned.fills[1].area).centre().y + 0.5);
}

TEST_CASE("what could go back wrong and is not recorded is dashed and bears a query in every stage") {
    const Chart chart = chart_of(diode());
    const analysis::FitReport unknown = fit_saying(chart.parts[0].id, true, false);
    for (const Stage stage :
         {Stage::Survey, Stage::Orient, Stage::Heat, Stage::Access, Stage::Inspect, Stage::HandOver}) {
        ViewOptions options;
        options.stage = stage;
        const Scene scene = picture(chart, options, &unknown);
        CHECK(count(scene, Role::UnknownEdge) == 1);
        CHECK(count(scene, Role::BadgeUnknown) == 1);
        CHECK(count(scene, Role::BodyEdge) == 0);
    }
    const analysis::FitReport recorded = fit_saying(chart.parts[0].id, true, true);
    ViewOptions orient;
    orient.stage = Stage::Orient;
    CHECK(count(picture(chart, orient, &recorded), Role::BadgeDone) == 1);
    CHECK(count(picture(chart, {}, &recorded), Role::BadgeDone) == 0);
    CHECK(count(picture(chart, orient, &recorded), Role::BadgeUnknown) == 0);
}

TEST_CASE("a record that rests on a photo that lies far off bears no tick") {
    document::Footprint part = diode();
    part.orientation.state = document::RecordState::Recorded;
    part.orientation.evidence.photo = {"ph"};
    Chart chart = chart_of(part);
    document::Photo photo;
    photo.id = {"ph"};
    photo.board_from_pixel = {0.1, 0, 0, 0, 0.1, 0, 0, 0, 1};
    photo.points = {{{0, 0}, {0, 0}, {}}, {{300, 0}, {33, 0}, {}}};
    chart.photos.add(photo);
    const analysis::FitReport recorded = fit_saying(chart.parts[0].id, true, true);
    ViewOptions orient;
    orient.stage = Stage::Orient;
    const Scene scene = picture(chart, orient, &recorded);
    CHECK(count(scene, Role::BadgeDone) == 0);
    CHECK(count(scene, Role::BadgeUnknown) == 1);
}

TEST_CASE("the sign of a part that is hardly larger than it stands outside the part, and smaller") {
    const Chart chart = test::sample_chart();
    const document::Footprint& part = chart.parts[*document::find_part_named(chart, "U4")];
    const analysis::FitReport fit = fit_saying(part.id, true, false);
    const Box body = geometry::bounds(document::extent_on_board(part));
    const auto sign_at = [&](double zoom) {
        ViewOptions options;
        options.stage = Stage::Orient;
        options.px_per_mm = zoom;
        const Scene scene = picture(chart, options, &fit);
        for (const Item& item : scene.items)
            if (item.role == Role::BadgeUnknown) return scene.symbols[item.index];
        return Symbol{};
    };
    const double small_zoom = 24.0 / std::min(body.width(), body.height()); // the part is 24 px
    const Symbol far = sign_at(small_zoom), near = sign_at(4 * small_zoom);
    CHECK(near.radius_px == doctest::Approx(9.0));
    CHECK(body.contains(near.at)); // at its corner
    CHECK(far.radius_px < near.radius_px);
    CHECK_FALSE(body.contains(far.at));
    // Of a sign whose middle is 0.8 radii outside a corner either way, no point lies in the body but near that corner.
    CHECK(far.at.x > body.max.x);
    CHECK(far.at.y < body.min.y);
}

TEST_CASE("the sign of a selected part keeps clear of the handle at its corner") {
    const Chart chart = test::sample_chart();
    const document::Footprint& part = chart.parts[*document::find_part_named(chart, "U4")];
    const analysis::FitReport fit = fit_saying(part.id, true, false);
    for (const double zoom : {5.0, 20.0, 60.0}) {
        CAPTURE(zoom);
        ViewOptions options;
        options.px_per_mm = zoom;
        options.selection = {part.id};
        const Scene scene = picture(chart, options, &fit);
        std::vector<Symbol> handles;
        std::optional<Symbol> sign;
        for (const Item& item : scene.items) {
            if (item.role == Role::SelectionHandle) handles.push_back(scene.symbols[item.index]);
            if (item.role == Role::BadgeUnknown) sign = scene.symbols[item.index];
        }
        REQUIRE(sign);
        REQUIRE(handles.size() == 4);
        for (const Symbol& handle : handles) {
            const Box box = Box{handle.at, handle.at}.grown(handle.radius_px / zoom);
            CHECK_FALSE(box.overlaps(Box{sign->at, sign->at}.grown(sign->radius_px / zoom)));
        }
    }
}

TEST_CASE("the signs of parts that lie close stand clear of each other") {
    Chart chart;
    for (int i = 0; i < 6; ++i) {
        Footprint part = diode();
        part.id = document::Id{"d" + std::to_string(i)};
        part.name = "D" + std::to_string(i);
        part.placement.at = {10 + 1.2 * (i % 3), 5 + 0.8 * (i / 3)};
        part.condition.joint = document::JointState::Bridged;
        chart.parts.add(std::move(part));
    }
    for (const double zoom : {6.0, 9.0, 12.0, 60.0}) {
        CAPTURE(zoom);
        ViewOptions options;
        options.px_per_mm = zoom;
        const Scene scene = picture(chart, options);
        std::vector<Box> signs;
        for (const Item& item : scene.items) {
            if (item.role != Role::BadgeWarning) continue;
            const Symbol& sign = scene.symbols[item.index];
            const Box box = Box{sign.at, sign.at}.grown(sign.radius_px / zoom);
            for (const Box& other : signs)
                CHECK_FALSE(box.overlaps(other));
            signs.push_back(box);
        }
        CHECK(signs.size() == 6);
    }
}

TEST_CASE("a land at fault is crossed out where it lies, and the sign stands beside it") {
    Footprint part = diode();
    part.condition.presence = document::Presence::Present;
    CHECK(count(picture(chart_of(part)), Role::PadFault) == 0);
    for (const document::LandState land : {document::LandState::Lifted, document::LandState::Missing}) {
        for (std::size_t i = 0; i < part.pads.size(); ++i) {
            Footprint at_fault = part;
            at_fault.pads[i].land = land;
            const Scene scene = picture(chart_of(at_fault));
            CHECK(count(scene, Role::PadFault) == 2);
            const geometry::Affine map = scene_from_board(Side::Top) * document::board_from_part(part.placement);
            const Vec2 here = map(part.pads[i].at), other = map(part.pads[1 - i].at);
            const Box cross = box_of_role(scene, Role::PadFault), body = box_of_role(scene, Role::Body);
            CHECK(geometry::bounds(geometry::transformed(document::outline_in_part(part.pads[i]), map))
                      .contains(cross.centre()));
            CHECK_FALSE(cross.grown(-1e-6).overlaps(body)); // where the body hides nothing of it
            for (const Item& item : scene.items) {
                if (item.role != Role::BadgeWarning) continue;
                const Vec2 sign = scene.symbols[item.index].at;
                CHECK(geometry::distance(sign, here) < geometry::distance(sign, other));
            }
        }
    }
}

TEST_CASE("a missing part has no body and keeps its lands and its mark") {
    Footprint part = diode();
    test::record(part, document::MarkKind::Band, Angle::degrees(180), document::Meaning::Cathode);
    part.condition.presence = document::Presence::Lost;
    const Scene scene = picture(chart_of(part));
    CHECK(count(scene, Role::Body) == 0);
    CHECK(count(scene, Role::MissingEdge) == 1);
    CHECK(count(scene, Role::PadCopper) == 2);
    CHECK(count(scene, Role::Mark) == 1);
}

TEST_CASE("a sensitive part has two outlines one inside the other") {
    const Chart chart = watched_sample();
    for (const Footprint& part : chart.parts) {
        if (part.name != "J2" && part.name != "MK1") continue;
        const Scene scene = picture(chart_of(part));
        std::vector<Box> outlines;
        for (const Item& item : scene.items)
            if (item.role == Role::SensitiveEdge) outlines.push_back(geometry::bounds(scene.lines[item.index].points));
        REQUIRE(outlines.size() == 2);
        // 0.1 mm further in on every side; a round one is a polygon, off by less than a hundredth.
        CHECK(outlines[0].min.x - outlines[1].min.x == doctest::Approx(0.1).epsilon(0.1));
        CHECK(outlines[1].max.y - outlines[0].max.y == doctest::Approx(0.1).epsilon(0.1));
        CHECK(count(scene, Role::LabelDanger) == 1);
    }
}

TEST_CASE("zones are drawn where the stage speaks of the nozzle and for the side that is looked at") {
    const Chart chart = watched_sample();
    analysis::ClearanceReport clearance;
    clearance.top_zones = {test::box_polygon({1, 1}, {5, 5}), test::box_polygon({7, 7}, {8, 8})};
    clearance.bottom_zones = {test::box_polygon({2, 1}, {6, 5})};
    ViewOptions options;
    options.stage = Stage::Heat;
    CHECK(count(chart_scene(chart, {&clearance, nullptr}, options), Role::NoAim) == 2);
    options.seen_from = Side::Bottom;
    const Scene bottom = chart_scene(chart, {&clearance, nullptr}, options);
    CHECK(count(bottom, Role::NoAim) == 1);
    CHECK(box_of_role(bottom, Role::NoAim) == Box{{-6, 1}, {-2, 5}});
    options.show_zones = false;
    CHECK(count(chart_scene(chart, {&clearance, nullptr}, options), Role::NoAim) == 0);
    options.show_zones = true;
    options.stage = Stage::Orient;
    CHECK(count(chart_scene(chart, {&clearance, nullptr}, options), Role::NoAim) == 0);
}

TEST_CASE("a keep-out through the board shows on both sides and another on its own only") {
    const Chart chart = watched_sample();
    ViewOptions options;
    CHECK(count(picture(chart, options), Role::KeepOut) == 1);
    options.seen_from = Side::Bottom;
    CHECK(count(picture(chart, options), Role::KeepOut) == 2);
}

TEST_CASE("the mark stands on the side of the body its bearing points to") {
    struct Case {
        double bearing, turn;
        Side side;
        Vec2 towards; // on the board seen from the top
    };
    // Counter-clockwise from own +x; the part's turn adds to it as seen from its side; the bottom is mirrored.
    const Case cases[] = {{0, 0, Side::Top, {1, 0}},      {90, 0, Side::Top, {0, -1}},
                          {180, 90, Side::Top, {0, 1}},   {0, 90, Side::Top, {0, -1}},
                          {0, 0, Side::Bottom, {-1, 0}},  {90, 0, Side::Bottom, {0, -1}},
                          {0, 90, Side::Bottom, {0, -1}}, {45, 180, Side::Bottom, {1, 1}}};
    for (const Case& c : cases)
        for (const document::MarkKind kind :
             {document::MarkKind::Dot, document::MarkKind::Notch, document::MarkKind::Arrow, document::MarkKind::Plus,
              document::MarkKind::Chamfer, document::MarkKind::Key, document::MarkKind::Port}) {
            Footprint part =
                test::part_named("U1", document::PartClass::IntegratedCircuit, {3, 4}, test::box_shape(2, 2));
            part.placement.turn = Angle::degrees(c.turn);
            part.placement.side = c.side;
            test::record(part, kind, Angle::degrees(c.bearing), document::Meaning::Pin1);
            ViewOptions options;
            options.seen_from = c.side;
            const Box mark = box_of_role(picture(chart_of(part), options), Role::Mark);
            REQUIRE_FALSE(mark.is_empty());
            const Vec2 on_board = scene_from_board(mark.centre(), c.side) - Vec2{3, 4};
            CAPTURE(c.bearing);
            CAPTURE(c.turn);
            CHECK(geometry::dot(on_board, c.towards) > 0.3);
            const bool snaps = kind == document::MarkKind::Chamfer || kind == document::MarkKind::Notch ||
                               kind == document::MarkKind::Key; // to a corner or to the middle of an end
            if (!snaps) CHECK(std::abs(geometry::cross(on_board, c.towards)) < 0.15);
        }
}

TEST_CASE("every kind of mark draws something near the body") {
    for (const document::Word<document::MarkKind>& word : document::words<document::MarkKind>()) {
        Footprint part = test::part_named("U1", document::PartClass::IntegratedCircuit, {0, 0}, test::box_shape(3, 2));
        test::record(part, word.value, Angle::degrees(30), document::Meaning::Pin1);
        const Scene scene = picture(chart_of(part));
        CAPTURE(std::string(word.text));
        CHECK(count(scene, Role::Mark) > 0);
        const Box box = box_of_role(scene, Role::Mark);
        const Box around = Box{{-1.5, -1}, {1.5, 1}}.grown(0.6);
        if (!box.is_empty()) CHECK((around.contains(box.min) && around.contains(box.max)));
    }
}

TEST_CASE("names do not cover each other at any usual scale") {
    const Chart chart = watched_sample();
    for (const double px_per_mm : {25.0, 40.0, 60.0, 120.0})
        for (const Side side : {Side::Top, Side::Bottom}) {
            ViewOptions options;
            options.px_per_mm = px_per_mm;
            options.seen_from = side;
            const Scene scene = picture(chart, options);
            std::vector<std::pair<Box, std::string>> boxes;
            for (const Text& text : scene.texts) {
                const LabelBlock block{.lines = {{text.text, Role::LabelPart, text.height_px, text.strong}},
                                       .px_per_mm = px_per_mm};
                boxes.emplace_back(block.box_at(text.at), text.text);
            }
            for (std::size_t i = 0; i < boxes.size(); ++i)
                for (std::size_t k = i + 1; k < boxes.size(); ++k) {
                    CAPTURE(px_per_mm);
                    CAPTURE(boxes[i].second);
                    CAPTURE(boxes[k].second);
                    // Lines of one block may share an edge.
                    CHECK_FALSE(boxes[i].first.grown(-0.02).overlaps(boxes[k].first.grown(-0.02)));
                }
        }
}

TEST_CASE("names make way for the handle by which a selection is turned") {
    Footprint upper = test::chip("C2", document::PartClass::CeramicCapacitor, {10, 2.75}, {1.0, 0.5});
    upper.id = document::Id{"c2"};
    Footprint above = test::chip("C3", document::PartClass::CeramicCapacitor, {10, 2.15}, {1.0, 0.5});
    above.id = document::Id{"c3"};
    Chart chart = chart_of(diode());
    chart.parts.add(upper);
    chart.parts.add(above);
    const auto name_box = [&](const std::vector<document::Id>& selection) {
        ViewOptions options;
        options.selection = selection;
        options.px_per_mm = 25;
        const Scene scene = picture(chart, options);
        const auto text =
            std::find_if(scene.texts.begin(), scene.texts.end(), [](const Text& t) { return t.text == "C2"; });
        REQUIRE(text != scene.texts.end());
        return box_of(*text, options.px_per_mm);
    };
    // 28 px above the diode's upper edge at y = 4.75 mm, 25 px a mm.
    const Vec2 handle{10, 4.75 - 28.0 / 25.0};
    const Box disc = Box{handle, handle}.grown(5.5 / 25.0);
    CHECK(name_box({}).overlaps(disc));
    CHECK_FALSE(name_box({document::Id{"d1"}}).overlaps(disc));
}

TEST_CASE("the name of a shield can never stands on a part below it, also where nobody has said that it is one") {
    Footprint coil = test::chip("L1", document::PartClass::Inductor, {10, 5}, {3.0, 3.0});
    coil.id = document::Id{"l1"};
    const auto can_name = [](const Chart& chart) {
        const Scene scene = picture(chart);
        const auto text =
            std::find_if(scene.texts.begin(), scene.texts.end(), [](const Text& t) { return t.text == "SH1"; });
        REQUIRE(text != scene.texts.end());
        return box_of(*text, ViewOptions{}.px_per_mm);
    };
    const Box middle{{8.5, 3.5}, {11.5, 6.5}};
    for (const auto part_class : {document::PartClass::ShieldCan, document::PartClass::Unknown}) {
        Footprint can = test::chip("SH1", part_class, {10, 5}, {6.0, 5.0});
        can.id = document::Id{"sh1"};
        can.pads.clear();
        Chart chart = chart_of(can);
        CHECK(can_name(chart).overlaps(middle)); // alone it has it in its middle
        chart.parts.add(coil);
        CHECK_FALSE(can_name(chart).overlaps(middle));
    }
}

TEST_CASE("words do not cover each other on any chart, at any zoom, in any stage") {
    std::mt19937 random(20);
    std::uniform_real_distribution<double> zoom(12, 160);
    const Stage stages[] = {Stage::Survey, Stage::Orient, Stage::Heat, Stage::Access, Stage::Inspect, Stage::HandOver};
    for (std::uint64_t variant = 1; variant <= 60; ++variant) {
        Chart chart = testing::make_chart(12 + variant, 2 + variant % 9, variant);
        for (int i = 0; i < 12; ++i) { // pins where nobody has made room for them
            document::Note note;
            note.id = {"note-" + std::to_string(i)};
            note.at = {std::fmod(7.3 * i, 12.0), std::fmod(3.1 * i, 12.0)};
            chart.notes.add(note);
        }
        ViewOptions options;
        options.stage = stages[variant % std::size(stages)];
        options.px_per_mm = zoom(random);
        options.seen_from = variant % 2 == 0 ? Side::Top : Side::Bottom;
        const Scene scene = picture(chart, options);
        CHECK_FALSE(scene.texts.empty());
        for (std::size_t i = 0; i < scene.texts.size(); ++i)
            for (std::size_t k = i + 1; k < scene.texts.size(); ++k) {
                const Box a = box_of(scene.texts[i], options.px_per_mm), b = box_of(scene.texts[k], options.px_per_mm);
                CAPTURE(variant);
                CAPTURE(scene.texts[i].text);
                CAPTURE(scene.texts[k].text);
                if (a.grown(-0.02).overlaps(b.grown(-0.02))) CHECK_FALSE("words over words");
            }
    }
}

TEST_CASE("the box of a text is where its capitals stand") {
    const Text centred{.at = {10, 5}, .text = "H", .height_px = 20};
    const Box box = box_of(centred, 10);
    CHECK(box.centre() == Vec2{10, 5});
    CHECK(box.height() == doctest::Approx(2 * kCapHeight_em));
    Text left = centred;
    left.align = Align::Left;
    CHECK(box_of(left, 10).min.x == doctest::Approx(10.0));
    Text on_scene = centred;
    on_scene.height_mm = 3;
    CHECK(box_of(on_scene, 10).height() == box_of(on_scene, 70).height());
}

TEST_CASE("every named part of the near side has its name on the map once") {
    const Chart chart = watched_sample();
    const Scene scene = picture(chart);
    for (const Footprint& part : chart.parts) {
        const auto times = std::count_if(scene.texts.begin(), scene.texts.end(),
                                         [&](const Text& text) { return text.text == part.name; });
        CAPTURE(part.name);
        if (part.placement.side == Side::Top)
            CHECK(times == 1);
        else
            CHECK(times <= 1); // a sensitive one of the far side is named faintly
    }
}

TEST_CASE("a part without a name says so") {
    Footprint part = diode();
    part.name.clear();
    CHECK(label(picture(chart_of(part)), "no name") != nullptr);
    part.body.reset();
    CHECK(label(picture(chart_of(part)), "loose pads") != nullptr);
}

TEST_CASE("selection follows the part's own axes and has four handles") {
    Footprint part = diode();
    part.placement.turn = Angle::degrees(30);
    ViewOptions options;
    options.selection = {part.id};
    const Scene scene = picture(chart_of(part), options);
    CHECK(count(scene, Role::SelectionHandle) == 4);
    const auto frame = std::find_if(scene.items.begin(), scene.items.end(), [](const Item& item) {
        return item.role == Role::Selection && item.kind == Item::Kind::Line;
    });
    REQUIRE(frame != scene.items.end());
    const Vec2 along = scene.lines[frame->index].points[1] - scene.lines[frame->index].points[0];
    CHECK(geometry::bearing(along).degrees() == doctest::Approx(30.0));
}

TEST_CASE("the legend explains what is shown and nothing else") {
    const auto roles = [](const Scene& scene) {
        std::set<Role> set;
        for (const LegendEntry& entry : legend_of(scene)) {
            CHECK_FALSE(entry.text.empty());
            set.insert(entry.role);
        }
        return set;
    };
    CHECK(roles(Scene{}).empty());
    const Chart plain = chart_of(test::chip("R1", document::PartClass::Resistor, {0, 0}, {1, 0.5}));
    CHECK(roles(picture(plain)) == std::set<Role>{Role::Body, Role::PadCopper});
    const analysis::FitReport unknown = fit_saying(plain.parts[0].id, true, false);
    const std::vector<LegendEntry> entries = legend_of(picture(plain, {}, &unknown));
    // Edge and badge say the same: one entry for both.
    CHECK(std::count_if(entries.begin(), entries.end(),
                        [](const LegendEntry& e) { return e.text.find("not recorded") != std::string::npos; }) == 1);
    const std::set<Role> all = roles(picture(watched_sample()));
    for (const Role role : {Role::SensitiveBody, Role::Mark, Role::MissingEdge, Role::FarSideEdge, Role::KeepOut,
                            Role::Shield, Role::BadgeNote, Role::BadgeWarning})
        CHECK(all.count(role) == 1);
    CHECK(all.count(Role::NoAim) == 0);
}

TEST_CASE("a keep-out that was removed is an empty outline that says so") {
    Chart chart = watched_sample();
    document::KeepOut keep_out = chart.keep_outs[0];
    keep_out.measure = document::Measure::Removed;
    keep_out.limit_c = 60.0;
    const std::size_t hatched = count(picture(chart), Role::KeepOut);
    REQUIRE(hatched >= 1);
    const std::size_t missing = count(picture(chart), Role::MissingEdge);
    chart.keep_outs.replace(0, keep_out);
    const Scene scene = picture(chart);
    CHECK(count(scene, Role::KeepOut) == hatched - 1);
    CHECK(count(scene, Role::MissingEdge) == missing + 1);
    CHECK(std::any_of(scene.texts.begin(), scene.texts.end(), [](const Text& text) { return text.text == "removed"; }));
}

TEST_CASE("a measured gap points at both ends and states its length") {
    Scene scene;
    add_gap(scene, {2.0, {1, 1}, {3, 1}}, Side::Bottom, 60);
    REQUIRE(scene.texts.size() == 1);
    CHECK(scene.texts[0].text == "2.0 mm");
    CHECK(scene.texts[0].at == Vec2{-2, 1});
    CHECK(scene.fills.size() == 2);
    add_gap(scene, {0.0, {1, 1}, {1, 1}}, Side::Top, 60); // touching: no arrow can be drawn
    CHECK(scene.fills.size() == 2);
}

TEST_CASE("a selected part has handles only in the stage that may move it") {
    const Chart chart = chart_of(diode());
    ViewOptions options;
    options.selection = {document::Id{"d1"}};
    for (const Stage stage : {Stage::Orient, Stage::Heat, Stage::Access, Stage::Inspect, Stage::HandOver}) {
        options.stage = stage;
        const Scene scene = picture(chart, options);
        CHECK(count(scene, Role::SelectionHandle) == 0);
        CHECK(count(scene, Role::Selection) >= 1); // but its frame
    }
}

TEST_CASE("what is selected on the other side is dashed and named and has no handles") {
    Chart chart = chart_of(diode());
    ViewOptions options;
    options.selection = {document::Id{"d1"}};
    const Scene near = picture(chart, options);
    CHECK(count(near, Role::SelectionHandle) == 4);
    CHECK(count(near, Role::Marquee) == 0);
    options.seen_from = Side::Bottom;
    const Scene far = picture(chart, options);
    CHECK(count(far, Role::SelectionHandle) == 0);
    CHECK(count(far, Role::Marquee) == 1);
    CHECK(std::any_of(far.texts.begin(), far.texts.end(),
                      [](const Text& text) { return text.text == "D1, other side"; }));
    const std::vector<LegendEntry> legend = legend_of(far);
    CHECK(std::any_of(legend.begin(), legend.end(),
                      [](const LegendEntry& entry) { return entry.text == "selected, on the other side"; }));
}

TEST_CASE("a larger body lies below the smaller ones on it whatever the order in the file and whatever it is called") {
    Footprint large = test::chip("X1", document::PartClass::Unknown, {10, 5}, {6.0, 5.0});
    Footprint middle = test::chip("X2", document::PartClass::Unknown, {10, 5}, {3.0, 3.0});
    Footprint small = test::chip("C1", document::PartClass::CeramicCapacitor, {10, 5}, {1.0, 0.5});
    large.id = document::Id{"large"};
    middle.id = document::Id{"middle"};
    small.id = document::Id{"small"};
    std::vector<Footprint> parts{large, middle, small};
    do {
        Chart chart;
        for (const Footprint& part : parts)
            chart.parts.add(part);
        const Scene scene = picture(chart);
        std::vector<std::string> drawn; // whose areas, from the bottom up
        for (const Item& item : scene.items)
            if (item.kind == Item::Kind::Fill && item.source >= 0) {
                const std::string& id = scene.sources[static_cast<std::size_t>(item.source)].id.text;
                if (drawn.empty() || drawn.back() != id) drawn.push_back(id);
            }
        CHECK(drawn == std::vector<std::string>{"large", "middle", "small"});
    } while (std::next_permutation(parts.begin(), parts.end(),
                                   [](const Footprint& a, const Footprint& b) { return a.id.text < b.id.text; }) &&
             parts.front().id.text != "large");
}

TEST_CASE("names of what is selected on the other side lie neither on each other nor on names of parts") {
    Chart chart;
    for (int i = 0; i < 4; ++i) {
        Footprint far =
            test::chip("R" + std::to_string(i + 1), document::PartClass::Resistor, {10.0 + 0.7 * i, 5}, {0.6, 0.3});
        far.id = document::Id{"far" + std::to_string(i)};
        chart.parts.add(far);
        Footprint near =
            test::chip("R" + std::to_string(i + 30), document::PartClass::Resistor, {10.0 + 0.7 * i, 4.4}, {0.6, 0.3});
        near.id = document::Id{"near" + std::to_string(i)};
        near.placement.side = Side::Bottom;
        chart.parts.add(near);
    }
    ViewOptions options;
    options.seen_from = Side::Bottom;
    for (int i = 0; i < 4; ++i)
        options.selection.push_back(document::Id{"far" + std::to_string(i)});
    const Scene scene = picture(chart, options);
    CHECK(std::count_if(scene.texts.begin(), scene.texts.end(),
                        [](const Text& text) { return text.text.ends_with(", other side"); }) == 4);
    for (std::size_t i = 0; i < scene.texts.size(); ++i)
        for (std::size_t k = 0; k < i; ++k) {
            CAPTURE(scene.texts[i].text);
            CAPTURE(scene.texts[k].text);
            CHECK_FALSE(box_of(scene.texts[i], options.px_per_mm).overlaps(box_of(scene.texts[k], options.px_per_mm)));
        }
}

TEST_CASE("the legend's word for the sign of a fault holds for a part that sits askew too") {
    Footprint part = diode();
    part.condition.seating = document::Seating::Skewed;
    const std::vector<LegendEntry> legend = legend_of(picture(chart_of(part)));
    CHECK(std::any_of(legend.begin(), legend.end(),
                      [](const LegendEntry& entry) { return entry.text == "damage, poor joint or seat seen"; }));
}
