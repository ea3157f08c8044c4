// What an error of measuring could change: the lands are really moved and the answer asked for again.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>
#include <set>

#include "analysis/fit.hpp"
#include "fit_patterns.hpp"
#include "support/random_shapes.hpp"

using namespace padchart;
using analysis::fit_of;
using document::Footprint;
using geometry::Vec2;

namespace {

using Turns = std::set<long>; ///< in thousandths of a degree

Turns turns_of(const std::vector<double>& turns) {
    Turns result;
    for (const double turn : turns)
        result.insert(std::lround(1000.0 * turn));
    return result;
}

Turns seating(const Footprint& part) {
    return turns_of(fit_of(part, 0.0).seating_turns);
}

/// Every land moved by up to `most` in x and in y; every other time by just that much.
Footprint moved_about(testing::Random& random, Footprint part, double most, bool is_extreme) {
    for (document::Pad& pad : part.pads) {
        const Vec2 by = random.point(1.0);
        pad.at += is_extreme ? Vec2{std::copysign(most, by.x), std::copysign(most, by.y)} : by * most;
    }
    return part;
}

/// Turns whose seating answer was another one in some of the rounds.
Turns changed(testing::Random& random, const Footprint& part, double most, int rounds) {
    const Turns before = seating(part);
    Turns changed;
    for (int round = 0; round < rounds; ++round) {
        const Turns now = seating(moved_about(random, part, most, round % 2 == 0));
        std::set_symmetric_difference(before.begin(), before.end(), now.begin(), now.end(),
                                      std::inserter(changed, changed.end()));
    }
    return changed;
}

/// Round lands on a ring, drawn by a hand that is up to `off` beside it.
Footprint traced_ring(testing::Random& random, std::size_t lands, double radius, double off) {
    std::vector<test::LandSpec> specs;
    for (std::size_t i = 0; i < lands; ++i) {
        const double angle = 2.0 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(lands);
        const Vec2 at = Vec2{std::cos(angle), std::sin(angle)} * radius + random.point(off);
        specs.push_back({at.x, at.y, 0.5, 0.5});
    }
    return test::lands(specs, document::ShapeKind::Round);
}

} // namespace

TEST_CASE("A turn whose answer changes when the lands move within the measuring uncertainty is listed as near") {
    testing::Random random(41);
    std::size_t found = 0;
    for (const test::TableRow& row : test::turn_table()) {
        if (row.part.pads.size() > 17) continue;
        for (const double uncertainty : {0.02, 0.05, 0.1}) {
            CAPTURE(row.name);
            CAPTURE(uncertainty);
            const Turns near = turns_of(fit_of(row.part, uncertainty).nearly_turns);
            const Turns really = changed(random, row.part, uncertainty, 40);
            CHECK(std::includes(near.begin(), near.end(), really.begin(), really.end()));
            found += really.size();
        }
    }
    CHECK(found > 20);
}

TEST_CASE("Lands far from every limit have no near turn") {
    for (const char* name : {"4 SOT-23-6", "8 SOIC", "12 QFN", "29 aluminium", "31 LGA", "34 sense"}) {
        CAPTURE(name);
        CHECK(test::written(fit_of(test::pattern_named(name), 0.02).nearly_turns) == "");
    }
}

TEST_CASE("A ring that is not traced quite round keeps its turns") {
    testing::Random random(42);
    for (const std::size_t lands : {5U, 6U, 8U, 12U}) {
        for (int round = 0; round < 20; ++round) {
            CAPTURE(lands);
            CAPTURE(round);
            const Footprint part = traced_ring(random, lands, 0.25 * static_cast<double>(lands), 0.05);
            CHECK(fit_of(part, 0.02).seating_turns.size() >= lands);
        }
    }
}

TEST_CASE("The three lands of a small transistor are no ring") {
    // Their corners miss an even triangle by 0.17 mm only (own arithmetic).
    CHECK(test::written(fit_of(test::pattern_named("2 SOT-23"), 0.02).seating_turns) == "0");
}
