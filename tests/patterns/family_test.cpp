#include "patterns/family.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <string>

#include "geometry/overlay.hpp"
#include "patterns/numbering.hpp"
#include "support.hpp"

using namespace padchart;
using namespace padchart::patterns;
using document::Footprint;
using document::Pad;
using geometry::Vec2;

TEST_CASE("there are at least forty families and every key is its own") {
    CHECK(families().size() >= 40);
    std::set<std::string_view> keys;
    for (const Family& family : families())
        CHECK_MESSAGE(keys.insert(family.key).second, "twice: " << family.key);
}

TEST_CASE("every family says where its numbers come from and what it is called") {
    for (const Family& family : families()) {
        CAPTURE(family.key);
        CHECK(!family.name.empty());
        CHECK(!family.group.empty());
        CHECK(!family.source.empty());
        const bool known =
            family.standing == "published" || family.standing == "from memory" || family.standing == "common practice";
        CHECK(known);
    }
}

TEST_CASE("every default lies within its own limits and every parameter is labelled") {
    for (const Family& family : families())
        for (const Parameter& parameter : family.parameters) {
            CAPTURE(family.key);
            CAPTURE(parameter.key);
            CHECK(!parameter.label.empty());
            CHECK(parameter.min < parameter.max);
            CHECK(parameter.step > 0.0);
            CHECK(parameter.default_value >= parameter.min);
            CHECK(parameter.default_value <= parameter.max);
            if (parameter.is_integer) CHECK(parameter.default_value == std::floor(parameter.default_value));
            if (!parameter.choices.empty()) CHECK(parameter.max == static_cast<double>(parameter.choices.size()) - 1.0);
        }
}

TEST_CASE("every family makes a pattern that a chart would take") {
    for (const Family& family : families()) {
        CAPTURE(family.key);
        const Result<Footprint> part = generate(family);
        if (!part) FAIL(describe(part.error()));
        CHECK(part->id.is_empty());
        CHECK(part->name.empty());
        CHECK(part->placement == document::Placement{});
        CHECK(part->family == family.key);
        CHECK(part->family_parameters == default_parameters(family));
        CHECK(part->part_class == family.part_class);
        REQUIRE(part->body.has_value());
        CHECK(part->body->at == Vec2{});
        CHECK(part->body->height_mm.has_value());
        CHECK(!part->pads.empty());
        for (const Pad& pad : part->pads)
            CHECK(std::abs(geometry::signed_area(outline_in_part(pad))) > 0.0);
    }
}

TEST_CASE("no two lands of any family lie over each other") {
    for (const Family& family : families()) {
        CAPTURE(family.key);
        const Footprint part = test::pattern(family.key);
        const std::size_t n = part.pads.size();
        if (n > 150) continue; // large ones are of the same layouts; every pair of every land would take seconds
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = i + 1; j < n; ++j) {
                const geometry::Region a{{outline_in_part(part.pads[i]), {}}};
                const geometry::Region b{{outline_in_part(part.pads[j]), {}}};
                if (!bounds(a).overlaps(bounds(b))) continue;
                CHECK(geometry::area(geometry::intersect(a, b)) < 1e-9);
            }
    }
}

TEST_CASE("numbered lands bear their number once") {
    for (const Family& family : families()) {
        CAPTURE(family.key);
        std::set<std::string> seen;
        for (const Pad& pad : test::pattern(family.key).pads)
            if (!pad.number.empty()) CHECK_MESSAGE(seen.insert(pad.number).second, "twice: " << pad.number);
    }
}

TEST_CASE("bodies are of a sensible size against their lands") {
    for (const Family& family : families()) {
        CAPTURE(family.key);
        const Footprint part = test::pattern(family.key);
        geometry::Box lands;
        for (const Pad& pad : part.pads)
            lands.add(geometry::bounds(outline_in_part(pad)));
        const geometry::Box body = geometry::bounds(outline_in_part(*part.body));
        CHECK(body.overlaps(lands));
        // Common practice, no source: no body is more than twice as long or wide as its lands' box and 5.5 mm (a can
        // stands on lands in its middle).
        CHECK(body.width() < 2.0 * lands.width() + 5.5);
        CHECK(body.height() < 2.0 * lands.height() + 5.5);
        CHECK(lands.width() < 3.5 * body.width());
        CHECK(lands.height() < 3.5 * body.height());
        CHECK(*part.body->height_mm <= 10.5); // tallest: aluminium can, from memory
    }
}

TEST_CASE("pin 1 is upper left or left as level A of IPC-7351 has it") {
    for (const Family& family : families()) {
        CAPTURE(family.key);
        const Footprint part = test::pattern(family.key);
        if (part.pads.size() < 2 || part.pads.front().number.empty()) continue;
        CHECK(part.pads.front().at.x <= 0.0);
        const std::set<std::string_view> kRings{"feedthrough-1608M", "feedthrough-2012M"};
        if (!kRings.contains(family.key)) CHECK(part.pads.front().at.y <= 1e-12);
    }
}

TEST_CASE("perimeter families run counter-clockwise as seen from above") {
    for (const Family& family : families()) {
        CAPTURE(family.key);
        const Footprint part = test::pattern(family.key);
        std::vector<Vec2> ring;
        for (const Pad& pad : part.pads)
            if (test::is_plain_number(pad.number) && !test::is_centre(part, pad)) ring.push_back(pad.at);
        if (ring.size() < 4 || !test::is_perimeter(family.key)) continue;
        CHECK(numbering_sense(ring) == NumberingSense::CounterClockwise);
    }
}

TEST_CASE("land counts are what the family's name says") {
    const auto count = [](std::string_view key) { return test::pattern(key).pads.size(); };
    CHECK(count("chip-1608M") == 2);
    CHECK(count("leadless-3-1006") == 3);
    CHECK(count("sot-23") == 3);
    CHECK(count("sot-143") == 4);
    CHECK(count("sot-23-5") == 5);
    CHECK(count("sot-23-6") == 6);
    CHECK(count("sot-89") == 3);
    CHECK(count("sot-223") == 4);
    CHECK(count("to-252") == 3); // two leads and the tab: the middle lead is cut off
    CHECK(count("to-263-5") == 6);
    CHECK(count("soic-8") == 8);
    CHECK(count("son-8-2020") == 9);
    CHECK(count("qfn-32-5050") == 33);
    CHECK(count("qfp-48") == 48);
    CHECK(count("qfn-two-ring-132") == 133);
    CHECK(count("bga-64-0.8") == 64);
    CHECK(count("bga-32-0.5") == 32);
    CHECK(count("wafer-level-2-1-2") == 5);
    CHECK(count("lga-6x6-ring") == 20);
    CHECK(count("array-4-2010M") == 8);
    CHECK(count("board-connector-0.4") == 24);
    CHECK(count("flat-cable-0.5") == 12);
    CHECK(count("card-socket-8") == 12);
    CHECK(count("microphone-3526") == 5);
    CHECK(count("resonator-3") == 3);
    CHECK(count("cell-holder-20") == 3);
    CHECK(count("test-point-1.0") == 1);
    CHECK(count("mounting-hole-3") == 1);
}

TEST_CASE("generation refuses what cannot be") {
    const auto error_with = [](std::string_view key, std::string_view parameter, double value) {
        const Family& family = *find_family(key);
        const Result<Footprint> part = generate(family, test::with(family, parameter, value));
        return part ? std::string{} : part.error().message;
    };
    CHECK(find_family("no-such-thing") == nullptr);
    CHECK(!generate("no-such-thing"));
    CHECK(!error_with("chip-1608M", "gap_mm", 3.0).empty());
    CHECK(!error_with("chip-1608M", "span_mm", -1.0).empty());
    CHECK(!error_with("chip-1608M", "span_mm", std::numeric_limits<double>::quiet_NaN()).empty());
    CHECK(!error_with("chip-1608M", "span_mm", std::numeric_limits<double>::infinity()).empty());
    CHECK(!error_with("soic-8", "pins", 7.0).empty());
    CHECK(!error_with("soic-8", "pins", 8.5).empty());
    CHECK(!error_with("soic-8", "pitch_mm", 0.5).empty()); // lands 0.6 wide would overlap
    CHECK(!error_with("qfn-16-3030", "side_pins", 12.0).empty());
    CHECK(!error_with("qfn-16-3030", "centre_width_mm", 0.0).empty());
    CHECK(!error_with("bga-64-0.8", "empty_columns", 2.0).empty()); // columns without rows
    CHECK(!error_with("sot-89", "leads", 4.0).empty());
    CHECK(!error_with("mounting-hole-3", "hole_mm", 7.0).empty());
    CHECK(!generate("chip-1608M", std::vector<double>(7, 1.0)));
    CHECK(error_with("soic-8", "pins", 7.0).find("even") != std::string::npos);
}

TEST_CASE("parameters not given take their defaults") {
    const Family& family = *find_family("chip-1608M");
    const Result<Footprint> part = generate(family, std::vector<double>{1.65});
    REQUIRE(part);
    CHECK(part->family_parameters.size() == family.parameters.size());
    CHECK(part->body->shape.width_mm == 1.65);
    CHECK(part->body->shape.height_mm == 0.8);
}

TEST_CASE("parts with three lands run counter-clockwise too") {
    for (const std::string key : {"sot-23", "sot-323", "sot-416", "sot-723", "leadless-3-1006", "to-252", "to-263"}) {
        CAPTURE(key);
        std::vector<Vec2> ring;
        for (const Pad& pad : test::pattern(key).pads)
            ring.push_back(pad.at);
        REQUIRE(ring.size() == 3);
        CHECK(numbering_sense(ring) == NumberingSense::CounterClockwise);
    }
}
