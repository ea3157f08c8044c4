// What the comparison tells, as shapes and words on the board.

#include <algorithm>

#include <doctest/doctest.h>

#include "analysis/compare.hpp"
#include "analysis/sweep.hpp"
#include "document/edits.hpp"
#include "patterns/family.hpp"
#include "scene/inspect_overlay.hpp"
#include "scene/labels.hpp"

using namespace padchart;
using namespace padchart::document;
using namespace padchart::scene;

namespace {

Footprint chip(const char* name, geometry::Vec2 at, Side side = Side::Top) {
    Footprint part = patterns::generate("chip-1608M").value();
    part.id = Id{name};
    part.name = name;
    part.placement = {at, Angle(), side};
    return part;
}

Chart six_chips() {
    Chart chart;
    chart.scale = Scale{};
    chart.board.outline = geometry::Polygon{{{0, 0}, {30, 0}, {30, 18}, {0, 20}}, {}};
    for (const auto& [name, at] : {std::pair<const char*, geometry::Vec2>{"R1", {4, 4}},
                                   {"R2", {10, 4}},
                                   {"R3", {16, 5}},
                                   {"R4", {4, 12}},
                                   {"R5", {10, 13}},
                                   {"R6", {20, 14}}})
        chart.parts.add(chip(name, at));
    return chart;
}

template <class Change>
Chart with(const Chart& chart, const char* name, Change change) {
    return change_part(chart, Id{name}, change).value();
}

std::vector<std::string> words(const Scene& scene, Role role) {
    std::vector<std::string> out;
    for (const Item& item : scene.items)
        if (item.role == role && item.kind == Item::Kind::Text) out.push_back(scene.texts[item.index].text);
    std::sort(out.begin(), out.end());
    return out;
}

std::ptrdiff_t count(const Scene& scene, Role role) {
    return std::count_if(scene.items.begin(), scene.items.end(), [&](const Item& item) { return item.role == role; });
}

Scene changes_of(const Chart& before, const Chart& after, Side side = Side::Top) {
    const auto report = analysis::compare(before, after);
    Scene scene;
    ViewOptions options;
    options.stage = Stage::Inspect;
    options.seen_from = side;
    options.px_per_mm = 40;
    add_changes(scene, {before, after, report}, options);
    return scene;
}

/// Everything one chart's picture has of a role, as boxes.
geometry::Box box_of(const Scene& scene, Role role) {
    geometry::Box box;
    for (const Item& item : scene.items)
        if (item.role == role && item.kind == Item::Kind::Line)
            for (const geometry::Vec2 point : scene.lines[item.index].points)
                box.add(point);
    return box;
}

} // namespace

TEST_CASE("every kind of change has words of its own on the board") {
    const Chart before = six_chips();
    Chart after = with(before, "R1", [](Footprint& part) { part.placement.at.x += 0.5; });
    after = with(after, "R2", [](Footprint& part) {
        part.placement.turn = Angle::degrees(90);
        part.part_class = PartClass::Diode;
    });
    after = with(after, "R3", [](Footprint& part) { part.condition.joint = JointState::Bridged; });
    after.parts.erase(3);
    after.parts.add(chip("X9", {25, 5}));
    const Scene scene = changes_of(before, after);
    CHECK(words(scene, Role::LabelDanger) == std::vector<std::string>{"R4 missing", "joint bridged", "moved 0.50 mm",
                                                                      "new", "other class",
                                                                      "turned 90° counter-clockwise"});
    CHECK(count(scene, Role::Measure) == 4); // arrow and bow, each with its head
    CHECK(count(scene, Role::Stale) == 3);   // moved, turned, missing
}

TEST_CASE("a turn is told on the board by the way that the sentence of the comparison tells") {
    const auto told = [](double turn_deg) {
        const Chart before = six_chips();
        const Chart after = with(before, "R2", [&](Footprint& part) {
            part.placement.turn = part.placement.turn + Angle::degrees(turn_deg);
            part.part_class = PartClass::Diode;
        });
        return words(changes_of(before, after), Role::LabelDanger);
    };
    CHECK(told(-90).back() == "turned 90° clockwise");
    CHECK(told(180).back() == "turned 180°");
}

TEST_CASE("lands and a body drawn in another size are told apart") {
    const Chart before = six_chips();
    const Chart after = with(with(before, "R1", [](Footprint& part) { part.body->shape.width_mm += 0.5; }), "R5",
                             [](Footprint& part) { part.pads[0].shape.width_mm += 0.4; });
    CHECK(words(changes_of(before, after), Role::LabelDanger) == std::vector<std::string>{"other body", "other lands"});
}

TEST_CASE("where nothing differs nothing is drawn and the far side stays out") {
    const Chart before = six_chips();
    CHECK(changes_of(before, before).items.empty());
    const Chart after = with(before, "R1", [](Footprint& part) { part.placement.at.x += 0.5; });
    CHECK(changes_of(before, after, Side::Bottom).items.empty());
}

TEST_CASE("an arrow leads from where the part was to where it is on both sides of the board") {
    for (const Side side : {Side::Top, Side::Bottom}) {
        Chart before = six_chips();
        before = with(before, "R5", [&](Footprint& part) { part.placement.side = side; });
        const Chart after = with(before, "R5", [](Footprint& part) { part.placement.at = {13, 13}; });
        const Scene scene = changes_of(before, after, side);
        const geometry::Box arrow = box_of(scene, Role::Measure);
        const double way = side == Side::Top ? 1.0 : -1.0; // mirrored from below
        const auto line = std::find_if(scene.items.begin(), scene.items.end(), [](const Item& item) {
            return item.role == Role::Measure && item.kind == Item::Kind::Line;
        });
        REQUIRE(line != scene.items.end());
        const auto& points = scene.lines[line->index].points;
        CHECK((points.back().x - points.front().x) * way > 2.0);
        CHECK(arrow.height() == doctest::Approx(0.0));
    }
}

TEST_CASE("a turn is drawn counter-clockwise as seen from the side looked at") {
    const Chart before = with(six_chips(), "R1", [](Footprint& part) { part.part_class = PartClass::Diode; });
    for (const double turn_deg : {90.0, -90.0}) {
        const Chart after =
            with(before, "R1", [&](Footprint& part) { part.placement.turn = Angle::degrees(turn_deg); });
        const Scene scene = changes_of(before, after);
        const auto bow = std::find_if(scene.items.begin(), scene.items.end(), [](const Item& item) {
            return item.role == Role::Measure && item.kind == Item::Kind::Line;
        });
        REQUIRE(bow != scene.items.end());
        const auto& points = scene.lines[bow->index].points;
        // On a page with y down, counter-clockwise over the top goes to the left.
        CHECK((points.back().x < points.front().x) == (turn_deg > 0));
    }
}

TEST_CASE("what a person said of a part shows as a tick or a cross") {
    Chart chart = six_chips();
    chart.ticks.add({{"t1"}, std::string(analysis::kSameAsBefore), {"R1"}, true, {}, {}, {}, {}});
    chart.ticks.add({{"t2"}, std::string(analysis::kSameAsBefore), {"R2"}, false, {}, {}, {}, {}});
    const Scene scene = changes_of(chart, chart);
    REQUIRE(scene.symbols.size() == 2);
    CHECK(scene.symbols[0].sign == Sign::Tick);
    CHECK(scene.symbols[1].sign == Sign::Cross);
}

TEST_CASE("the picture from before lies where the chart lies now whatever way the first was drawn") {
    const Chart after = six_chips();
    for (const bool from_other_side : {false, true}) {
        // The first chart drawn elsewhere: turned, shifted, and seen from the other side.
        const geometry::Affine flip = from_other_side ? geometry::Affine::scaling(-1, 1) : geometry::Affine{};
        const geometry::Affine map =
            geometry::Affine::translation({50, -20}) * geometry::Affine::rotation(Angle::degrees(30)) * flip;
        Chart before = after;
        before.board.outline = geometry::transformed(*after.board.outline, map);
        for (std::size_t i = 0; i < before.parts.size(); ++i) {
            Footprint part = before.parts[i];
            part.placement.at = map(part.placement.at);
            part.placement.side = from_other_side ? Side::Bottom : Side::Top;
            part.placement.turn = part.placement.turn + Angle::degrees(from_other_side ? -30 : 30);
            before.parts.replace(i, part);
        }
        const auto report = analysis::compare(before, after);
        REQUIRE(report.changes.empty());
        const BeforeAfter pair{before, after, report};
        ViewOptions options;
        options.stage = Stage::Inspect;
        const Scene was = before_scene(pair, options);
        const Scene is = chart_scene(after, {}, options);
        for (const Role role : {Role::BoardEdge, Role::BodyEdge, Role::PadEdge}) {
            const geometry::Box a = box_of(was, role), b = box_of(is, role);
            CHECK(geometry::distance(a.min, b.min) < 1e-6);
            CHECK(geometry::distance(a.max, b.max) < 1e-6);
        }
        const Scene both = difference_scene(pair, options);
        CHECK(count(both, Role::Stale) == count(both, Role::BodyEdge));
        CHECK(geometry::distance(box_of(both, Role::Stale).max, box_of(both, Role::BodyEdge).max) < 1e-6);
    }
}

TEST_CASE("keep-outs and shields that ask for a look are shown on their side") {
    const auto area = [](double x) { return geometry::Polygon{{{x, 8}, {x + 3, 8}, {x + 3, 10}, {x, 10}}, {}}; };
    Chart before = six_chips();
    const auto keep_out = [&](const char* id, double x, Measure measure, Side side = Side::Top) {
        KeepOut thing;
        thing.id = {id};
        thing.name = id;
        thing.outline = area(x);
        thing.side = side;
        thing.measure = measure;
        return thing;
    };
    before.keep_outs.add(keep_out("cell", 1, Measure::Shielded));
    before.keep_outs.add(keep_out("foam", 6, Measure::Removed));
    before.keep_outs.add(keep_out("label", 12, Measure::Shielded));
    before.keep_outs.add(keep_out("below", 18, Measure::Shielded, Side::Bottom));
    Chart after = before;
    after.keep_outs.replace(0, keep_out("cell", 1, Measure::None));
    after.keep_outs.erase(2);
    after.keep_outs.add(keep_out("new one", 22, Measure::None));
    Shield foil;
    foil.id = {"foil"};
    foil.outline = area(25);
    after.shields.add(foil);
    CHECK(words(changes_of(before, after), Role::LabelDanger) ==
          std::vector<std::string>{"gone back?", "label gone", "new keep-out", "shield or tape off?",
                                   "was shielded, now bare"});
    CHECK(words(changes_of(before, after, Side::Bottom), Role::LabelDanger) ==
          std::vector<std::string>{"shield or tape off?"});
    const auto report = analysis::compare(before, after);
    const Scene overlaid = difference_scene({before, after, report}, {});
    CHECK(count(overlaid, Role::Stale) == 1 + 6 * 3 + 3);    // board; chips of three outlines; keep-outs
    CHECK(count(overlaid, Role::BodyEdge) == 1 + 6 * 3 + 4); // and the shield
}

TEST_CASE("words that find no room are broken or stand as the number of their row, and none leaves the room") {
    const Chart before = six_chips();
    Chart after = with(before, "R4", [](Footprint& part) { part.condition.joint = JointState::Bridged; });
    after = with(after, "R6", [](Footprint& part) { part.condition.presence = Presence::Missing; });
    const auto report = analysis::compare(before, after);
    REQUIRE(report.changes.size() == 2);
    ViewOptions options;
    options.stage = Stage::Inspect;
    options.px_per_mm = 1.5;
    const geometry::Box board{{0, 0}, {30, 20}};
    const auto words_within = [&](double reach_mm) {
        Scene scene;
        add_changes(scene, {before, after, report}, options, board.grown(reach_mm));
        for (const Text& text : scene.texts) {
            const geometry::Box box = padchart::scene::box_of(text, options.px_per_mm);
            CAPTURE(text.text);
            CHECK((board.grown(reach_mm).contains(box.min) && board.grown(reach_mm).contains(box.max)));
        }
        std::string all;
        for (const std::string& one : words(scene, Role::LabelDanger))
            all += (all.empty() ? "" : ", ") + one;
        return all;
    };
    CHECK(words_within(40) == "joint bridged, missing");
    CHECK(words_within(17) == "bridged, joint, missing");
    CHECK(words_within(5) == "1, 2");
    CHECK(number_of_left(report, 0) == 3);
}

TEST_CASE("the sign of a change hides no name") {
    const Chart before = six_chips();
    const Chart after = with(before, "R6", [](Footprint& part) { part.condition.presence = Presence::Missing; });
    const auto report = analysis::compare(before, after);
    ViewOptions options;
    options.stage = Stage::Inspect;
    options.px_per_mm = 40;
    const auto sign_of = [&](const std::optional<geometry::Vec2>& name_at) {
        Scene scene;
        if (name_at) scene.add(Role::LabelPart, Text{.at = *name_at, .text = "R6", .height_px = 11});
        add_changes(scene, {before, after, report}, options);
        for (const Item& item : scene.items)
            if (item.role == Role::BadgeWarning && item.kind == Item::Kind::Symbol) return scene.symbols[item.index].at;
        FAIL("no sign");
        return geometry::Vec2{};
    };
    const geometry::Vec2 usual = sign_of(std::nullopt);
    const geometry::Vec2 beside = sign_of(usual);
    CHECK(geometry::distance(usual, beside) > 10.0 / options.px_per_mm);
}
