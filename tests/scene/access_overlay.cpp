#include "scene/access_overlay.hpp"

#include <algorithm>
#include <cmath>

#include <doctest/doctest.h>

#include "analysis/fit.hpp"
#include "golden.hpp"
#include "scene/labels.hpp"
#include "support/sample_chart.hpp"

using namespace padchart;
using namespace padchart::scene;
using document::Chart;
using document::Side;
using geometry::Vec2;

namespace {

/// The sample chart with every height measured but that of the capacitor above the diode.
Chart measured_chart() {
    const Chart sample = test::sample_chart();
    Chart chart = sample;
    for (std::size_t i = 0; i < sample.parts.size(); ++i) {
        document::Footprint part = sample.parts[i];
        if (part.body && part.name != "C12") part.body->height_mm = part.name == "J2" ? 1.9 : 0.5;
        chart.parts.replace(i, part);
    }
    return chart;
}

analysis::AccessQuery query_for(const Chart& chart, const char* name) {
    analysis::AccessQuery query;
    query.target = chart.parts[*document::find_part_named(chart, name)].id;
    query.tool = *analysis::find_access_tool("tweezers-medium");
    return query;
}

ViewOptions access_stage(Side side = Side::Top) {
    ViewOptions options;
    options.stage = Stage::Access;
    options.seen_from = side;
    return options;
}

std::size_t count(const Scene& scene, Role role, Item::Kind kind) {
    return static_cast<std::size_t>(std::count_if(scene.items.begin(), scene.items.end(), [&](const Item& item) {
        return item.role == role && item.kind == kind;
    }));
}

/// In which direction from the place a fill of that role holds a point at a distance, by degrees.
bool is_filled(const Scene& scene, Role role, Vec2 point) {
    return std::any_of(scene.items.begin(), scene.items.end(), [&](const Item& item) {
        return item.kind == Item::Kind::Fill && item.role == role &&
               geometry::contains(scene.fills[item.index].area, point);
    });
}

} // namespace

TEST_CASE("the rose is blocked where the report is blocked and depends where it depends") {
    const Chart chart = measured_chart();
    const analysis::AccessReport report = analysis::access(chart, query_for(chart, "U4")).value();
    const Scene scene = access_scene(chart, {}, access_stage(), &report);
    // Half a ring's width beyond the part's farthest corner, 12 px and half of 16 px at 60 px/mm (own arithmetic).
    double far = 0.0;
    const document::Footprint& part = chart.parts[*document::find_part_named(chart, "U4")];
    for (const Vec2 p : document::extent_on_board(part))
        far = std::max(far, geometry::distance(p, report.at));
    const double radius = far + (12.0 + 8.0) / 60.0;
    for (const analysis::AccessSector& sector : report.sectors) {
        if (sector.bearings.width_deg < 3.0) continue;
        const Vec2 point = report.at + geometry::direction(Angle::degrees(sector.bearings.middle_deg())) * radius;
        CHECK(is_filled(scene, Role::NoAim, point) == (sector.passage == analysis::Passage::Blocked));
        CHECK(is_filled(scene, Role::Depends, point) == (sector.passage == analysis::Passage::Depends));
    }
}

TEST_CASE("from far away names beside their parts keep off the rose") {
    const Chart chart = measured_chart();
    const analysis::AccessReport report = analysis::access(chart, query_for(chart, "U4")).value();
    ViewOptions options = access_stage();
    options.px_per_mm = 20;
    const Scene scene = access_scene(chart, {}, options, &report);
    double far = 0.0;
    for (const Vec2 p : document::extent_on_board(chart.parts[*document::find_part_named(chart, "U4")]))
        far = std::max(far, geometry::distance(p, report.at));
    // The ring: 12 px off the part, 16 px wide.
    const double inner = far + 12.0 / 20.0, outer = inner + 16.0 / 20.0;
    int beside = 0;
    for (const Item& item : scene.items) {
        if (item.kind != Item::Kind::Text || item.role != Role::LabelPart || item.source < 0) continue;
        const auto part = document::find_part(chart, scene.sources[static_cast<std::size_t>(item.source)].id);
        if (!part) continue;
        const geometry::Box words = box_of(scene.texts[item.index], 20);
        if (words.overlaps(geometry::bounds(document::extent_on_board(chart.parts[*part])))) continue; // on it
        ++beside;
        CAPTURE(scene.texts[item.index].text);
        double near = 1e9, off = 0.0; // of the words from the middle of the rose
        for (int i = 0; i <= 20; ++i)
            for (const double y : {words.min.y, words.centre().y, words.max.y}) {
                const Vec2 p{words.min.x + words.width() * i / 20.0, y};
                near = std::min(near, geometry::distance(p, report.at));
                off = std::max(off, geometry::distance(p, report.at));
            }
        CHECK((near > outer || off < inner));
    }
    CHECK(beside > 3);
}

TEST_CASE("the access picture shows the way in and the slip and says what they are") {
    const Chart chart = measured_chart();
    const analysis::AccessReport report = analysis::access(chart, query_for(chart, "U4")).value();
    REQUIRE(report.best() != nullptr);
    const Scene scene = access_scene(chart, {}, access_stage(), &report);
    CHECK(count(scene, Role::Measure, Item::Kind::Fill) >= 1);    // the arrow's head
    CHECK(count(scene, Role::NozzleRing, Item::Kind::Line) == 2); // two arms
    CHECK(count(scene, Role::Marquee, Item::Kind::Fill) == 1);
    CHECK(count(scene, Role::BadgeWarning, Item::Kind::Symbol) >= report.do_not_touch.size() - 1);
    const std::vector<LegendEntry> legend = legend_of(scene);
    for (const LegendEntry& entry : legend)
        if (entry.role == Role::NoAim) CHECK(entry.text == "blocked: a part stands in the way");
    CHECK(std::any_of(legend.begin(), legend.end(),
                      [](const LegendEntry& entry) { return entry.text == "best way in"; }));
    CHECK(is_about_access(Role::NoAim));
    CHECK_FALSE(is_about_access(Role::PadCopper));
}

TEST_CASE("the arrow comes from where the report says as seen from either side") {
    Chart chart = measured_chart();
    const auto at = document::find_part_named(chart, "C61");
    for (const char* name : {"U4", "C61"}) {
        const analysis::AccessReport report = analysis::access(chart, query_for(chart, name)).value();
        REQUIRE(report.best() != nullptr);
        const Scene scene = access_scene(chart, {}, access_stage(report.side), &report);
        const Vec2 place = scene_from_board(report.at, report.side);
        bool found = false;
        for (const Item& item : scene.items) {
            if (item.kind != Item::Kind::Line || item.role != Role::Measure) continue;
            const Line& line = scene.lines[item.index];
            if (line.weight != Weight::Bold) continue;
            found = true;
            const double bearing = geometry::bearing(line.points[0] - place).degrees();
            CHECK(std::abs(analysis::turn_between(bearing, report.best()->bearing_deg)) < 1e-6);
        }
        CHECK(found);
    }
    CHECK(at);
}

TEST_CASE("every room is told with its unit and whose edge it ends at, clear of parts and of other words") {
    const Chart chart = measured_chart();
    const analysis::AccessReport report = analysis::access(chart, query_for(chart, "U4")).value();
    for (const double zoom : {20.0, 30.0, 60.0}) {
        ViewOptions options = access_stage();
        options.px_per_mm = zoom;
        const Scene scene = access_scene(chart, {}, options, &report);
        std::vector<geometry::Box> rooms;
        for (const Item& item : scene.items)
            if (item.kind == Item::Kind::Text && scene.texts[item.index].text.find(" mm to ") != std::string::npos)
                rooms.push_back(box_of(scene.texts[item.index], zoom));
        const auto told = std::count_if(report.approaches.begin(), report.approaches.end(), [](const auto& way) {
            return way.sector.works && way.sector.passage == analysis::Passage::Free && way.nearest &&
                   way.gap_mm < 4.9 && way.sector.can_be_held();
        });
        CHECK(static_cast<std::ptrdiff_t>(rooms.size()) == told);
        CHECK(told > 0);
        for (std::size_t i = 0; i < rooms.size(); ++i)
            for (std::size_t k = 0; k < i; ++k)
                CHECK_FALSE(rooms[i].overlaps(rooms[k]));
    }
}

TEST_CASE("the rose shows where 0 degrees point, east of the picture, however the board lies") {
    const Chart chart = measured_chart();
    for (const double turn : {0.0, 90.0}) {
        analysis::AccessQuery query = query_for(chart, "U4");
        query.board_turn_deg = turn;
        const analysis::AccessReport report = analysis::access(chart, query).value();
        const Scene scene = access_scene(chart, {}, access_stage(), &report);
        const auto zero =
            std::find_if(scene.texts.begin(), scene.texts.end(), [](const Text& text) { return text.text == "0°"; });
        REQUIRE(zero != scene.texts.end());
        // Words stand beside the tick, at most 40 degrees off it as seen from the part.
        const double bearing = geometry::bearing(zero->at - report.at).degrees();
        CHECK(std::abs(analysis::turn_between(bearing, 0.0)) < 40.0);
    }
}

TEST_CASE("no room is told under a sign of a part") {
    const Chart chart = measured_chart();
    const analysis::FitReport fit = analysis::fit(chart);
    for (const document::Footprint& part : chart.parts) {
        const auto answer = analysis::access(chart, query_for(chart, part.name.c_str()));
        if (!answer) continue;
        const analysis::AccessReport& report = *answer;
        for (double zoom = 8.0; zoom < 60.0; zoom *= 1.15) {
            ViewOptions options = access_stage(report.side);
            options.px_per_mm = zoom;
            const Scene scene = access_scene(chart, {.fit = &fit}, options, &report);
            for (const Item& item : scene.items) {
                if (item.kind != Item::Kind::Text || item.role != Role::LabelMeasure) continue;
                const geometry::Box words = box_of(scene.texts[item.index], zoom);
                for (const Item& other : scene.items) {
                    if (other.role != Role::BadgeUnknown || other.kind != Item::Kind::Symbol) continue;
                    const Symbol& sign = scene.symbols[other.index];
                    CAPTURE(part.name);
                    CAPTURE(zoom);
                    CHECK_FALSE(words.overlaps(geometry::Box{sign.at, sign.at}.grown(sign.radius_px / zoom)));
                }
            }
        }
    }
}

TEST_CASE("from behind only the place is marked and without a report nothing is") {
    const Chart chart = measured_chart();
    const analysis::AccessReport report = analysis::access(chart, query_for(chart, "U4")).value();
    const Scene behind = access_scene(chart, {}, access_stage(Side::Bottom), &report);
    CHECK(count(behind, Role::NoAim, Item::Kind::Fill) == 0);
    CHECK(count(behind, Role::Measure, Item::Kind::Fill) == 0);
    const Scene none = access_scene(chart, {}, access_stage(), nullptr);
    CHECK(to_text(none) == to_text(chart_scene(chart, {}, access_stage())));
    CHECK(count(none, Role::NoAim, Item::Kind::Fill) == 0);
}

TEST_CASE("where every bearing is blocked the whole ring is hatched, over whoever stands in the way") {
    Chart chart = measured_chart();
    const std::size_t near = *document::find_part_named(chart, "C12");
    document::Footprint part = chart.parts[near];
    part.placement.at = chart.parts[*document::find_part_named(chart, "U4")].placement.at;
    part.body->shape = {document::ShapeKind::Rectangle, 8.0, 8.0, {}};
    part.body->height_mm = 8.0;
    chart.parts.replace(near, part);
    const analysis::AccessReport report = analysis::access(chart, query_for(chart, "U4")).value();
    REQUIRE(report.best() == nullptr);
    const Scene scene = access_scene(chart, {}, access_stage(), &report);
    const auto ring = std::find_if(scene.items.begin(), scene.items.end(), [](const Item& item) {
        return item.role == Role::NoAim && item.kind == Item::Kind::Fill;
    });
    REQUIRE(ring != scene.items.end());
    const geometry::Polygon& area = scene.fills[ring->index].area;
    REQUIRE(area.holes.size() == 1);
    const double middle_mm = (geometry::bounds(area.outer).width() + geometry::bounds(area.holes[0]).width()) / 4.0;
    for (double bearing = 0.5; bearing < 360.0; bearing += 1.0)
        CHECK(is_filled(scene, Role::NoAim, report.at + geometry::direction(Angle::degrees(bearing)) * middle_mm));
    const auto last_body = std::find_if(scene.items.rbegin(), scene.items.rend(), [](const Item& item) {
        return item.role == Role::Body && item.kind == Item::Kind::Fill;
    });
    CHECK(&*ring > &*last_body); // drawn later
}

TEST_CASE("the pad that the iron works on is marked by a double outline, and without one none is") {
    const Chart chart = measured_chart();
    analysis::AccessQuery query = query_for(chart, "U4");
    const auto tweezers = analysis::access(chart, query);
    CHECK(count(access_scene(chart, {}, access_stage(), &*tweezers), Role::Selection, Item::Kind::Line) == 0);
    for (const analysis::AccessTool& tool : analysis::access_tools())
        if (tool.kind == analysis::ToolKind::Iron) query.tool = tool;
    query.target = chart.parts[*document::find_part_named(chart, "C12")].id;
    const document::Footprint& part = chart.parts[*document::find_part_named(chart, "C12")];
    query.pad = part.pads[1].number.empty() ? "#2" : part.pads[1].number;
    const auto report = analysis::access(chart, query);
    REQUIRE(report.has_value());
    const Scene scene = access_scene(chart, {}, access_stage(), &*report);
    CHECK(count(scene, Role::Selection, Item::Kind::Line) == 2);
    for (const Item& item : scene.items)
        if (item.role == Role::Selection && item.kind == Item::Kind::Line)
            CHECK(geometry::distance(geometry::bounds(scene.lines[item.index].points).centre(),
                                     document::board_from_part(part.placement)(part.pads[1].at)) < 1e-6);
}

TEST_CASE("the access picture of the sample chart is as it was when it was last looked at") {
    const Chart chart = measured_chart();
    const analysis::AccessReport report = analysis::access(chart, query_for(chart, "U4")).value();
    test::check_golden("access", to_text(access_scene(chart, {}, access_stage(), &report)));
}
