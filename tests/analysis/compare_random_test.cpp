// Many charts with changes that are known: all are found, nothing is made up, wherever the second chart lies.

#include <doctest/doctest.h>

#include <set>
#include <tuple>

#include "analysis/compare_register.hpp"
#include "analysis/compare_scene.hpp"
#include "support/chart_generator.hpp"
#include "support/random_shapes.hpp"

using namespace padchart;
using namespace padchart::analysis;
using namespace padchart::document;
using padchart::testing::moved_chart;
using padchart::testing::Random;

namespace {

using Told = std::multiset<std::tuple<ChangeKind, std::string, std::string>>;

Told told_by(const CompareReport& report) {
    Told told;
    for (const Change& change : report.changes) {
        const Id& id = change.before_id.is_empty() ? change.after_id : change.before_id;
        told.emplace(change.kind, id.text, change.field);
    }
    return told;
}

geometry::Vec2 step(Random& random, double low_mm, double high_mm) {
    return geometry::direction(random.turn()) * random.between(low_mm, high_mm);
}

/// A chart on which a bench has already looked at things.
Chart looked_at(Random& random) {
    Chart chart = testing::make_chart(6 + random.below(40), 2 + random.below(7), random.below(1'000'000));
    for (std::size_t i = 0; i < chart.parts.size(); ++i) {
        Footprint part = chart.parts[i];
        part.condition.joint = random.chance(0.7) ? JointState::Good : JointState::NotChecked;
        chart.parts.replace(i, part);
        if (!random.chance(0.2)) continue;
        Reading reading;
        reading.id = {"reading-" + std::to_string(i)};
        reading.target = part.id;
        reading.value = random.between(0.3, 0.7);
        reading.unit = "V";
        reading.meter = "bench meter 3";
        chart.readings.add(reading);
    }
    return chart;
}

KeepOut keep_out(Random& random, const std::string& id) {
    KeepOut thing;
    thing.id = {id};
    thing.name = "keep-out " + id;
    const geometry::Vec2 at = random.point(10);
    thing.outline = {{at, at + geometry::Vec2{3, 0}, at + geometry::Vec2{3, 2}, at + geometry::Vec2{0, 2}}, {}};
    thing.measure = random.chance(0.5) ? Measure::Shielded : Measure::Watched;
    return thing;
}

void change_keep_outs(Random& random, Chart& chart, Told& expected) {
    for (std::size_t i = chart.keep_outs.size(); i-- > 0;) {
        KeepOut thing = chart.keep_outs[i];
        const std::string id = thing.id.text;
        if (random.chance(0.2)) {
            chart.keep_outs.erase(i);
            expected.emplace(ChangeKind::KeepOut, id, "");
        } else if (random.chance(0.3)) {
            thing.measure = thing.measure == Measure::None ? Measure::Removed : Measure::None;
            chart.keep_outs.replace(i, thing);
            expected.emplace(ChangeKind::KeepOut, id, "measure");
        }
    }
    if (!random.chance(0.1)) return;
    chart.keep_outs.add(keep_out(random, "k-new"));
    expected.emplace(ChangeKind::KeepOut, "k-new", "");
}

/// One change of the part, and how it must be told.
void change_part(Random& random, Footprint& part, Told& expected) {
    const std::string id = part.id.text;
    switch (random.below(10)) {
    case 0:
        part.placement.at += step(random, 0.2, 6.0);
        expected.emplace(ChangeKind::Moved, id, "");
        return;
    case 1:
        testing::turn_in_place(part, 90.0 * static_cast<double>(1 + random.below(3)) + random.between(-20, 20));
        expected.emplace(ChangeKind::Turned, id, "");
        return;
    case 9:
        part.name += "x";
        if (random.chance(0.5)) part.id.text += "-traced-anew"; // found again by its lands
        expected.emplace(ChangeKind::Name, id, "name");
        return;
    case 2:
        part.value += "x";
        expected.emplace(ChangeKind::Value, id, "value");
        return;
    case 3:
        part.role += "x";
        expected.emplace(ChangeKind::Role, id, "role");
        return;
    case 4:
        part.part_class = PartClass::Sensor;
        expected.emplace(ChangeKind::Class, id, "class");
        return;
    case 5:
        part.condition.land = LandState::Lifted;
        expected.emplace(ChangeKind::State, id, "land");
        return;
    case 6:
        part.pads.back().joint = JointState::Bridged;
        expected.emplace(ChangeKind::PadState, id, "pad " + part.pads.back().number + " joint");
        return;
    case 7:
        if (part.condition.joint == JointState::NotChecked) return;
        part.condition.joint = JointState::NotChecked;
        expected.emplace(ChangeKind::NotCheckedAgain, id, "joint");
        return;
    default:
        part.orientation.state = RecordState::NoMark;
        expected.emplace(ChangeKind::Orientation, id, "orientation");
        return;
    }
}

/// Nothing to be told: smaller than any tolerance.
void nudge(Random& random, Footprint& part) {
    testing::turn_in_place(part, random.between(-3, 3));
    part.placement.at += step(random, 0.0, 0.04);
}

Chart changed_parts(Random& random, const Chart& before, Told& expected) {
    Chart after = before;
    std::vector<std::size_t> gone;
    for (std::size_t i = 0; i < after.parts.size(); ++i) {
        Footprint part = after.parts[i];
        if (random.chance(0.15))
            change_part(random, part, expected);
        else if (random.chance(0.1))
            nudge(random, part);
        else if (random.chance(0.04))
            gone.push_back(i);
        after.parts.replace(i, std::move(part));
    }
    for (auto at = gone.rbegin(); at != gone.rend(); ++at) {
        const std::string id = after.parts[*at].id.text;
        expected.emplace(ChangeKind::Missing, id, "");
        after.parts.erase(*at);
        // Its readings stay and speak of a part that is not there: as when somebody takes it off the chart by hand.
    }
    if (random.chance(0.3)) {
        Footprint part = testing::two_lands("X9", {1.5, 2.5}, PartClass::Resistor);
        expected.emplace(ChangeKind::Added, part.id.text, "");
        after.parts.add(std::move(part));
    }
    return after;
}

void change_readings(Random& random, Chart& chart, Told& expected) {
    for (std::size_t i = 0; i < chart.readings.size(); ++i) {
        if (!random.chance(0.3)) continue;
        Reading reading = chart.readings[i];
        if (random.chance(0.5))
            reading.value = SpecialValue::OverLimit;
        else
            reading.value = std::get<double>(reading.value) * 1.2;
        expected.emplace(ChangeKind::Reading, reading.id.text, "diode-drop to GND");
        chart.readings.replace(i, reading);
    }
}

} // namespace

TEST_CASE("of five hundred pairs of charts every change is found and none is made up wherever the second lies") {
    Random random(20310402);
    std::size_t changes = 0;
    for (int round = 0; round < 500; ++round) {
        CAPTURE(round);
        Chart before = looked_at(random);
        for (std::size_t i = 0; i < random.below(4); ++i)
            before.keep_outs.add(keep_out(random, "k-" + std::to_string(i)));
        Told expected;
        Chart after = changed_parts(random, before, expected);
        change_readings(random, after, expected);
        change_keep_outs(random, after, expected);
        const bool from_other_side = random.chance(0.3);
        const Angle turn = random.turn();
        const geometry::Vec2 by = random.point(80);
        const CompareReport as_it_lies = compare(before, after);
        CHECK(told_by(as_it_lies) == expected);
        const CompareReport elsewhere = compare(before, moved_chart(after, turn, by, from_other_side));
        CHECK(told_by(elsewhere) == expected);
        CHECK(elsewhere.registration.mirrored == from_other_side);
        CHECK(elsewhere.registration.is_sure);
        changes += expected.size();
    }
    CHECK(changes > 1000); // else the test says little
}

TEST_CASE("the motion of a chart is found from its points though a third of them moved") {
    Random random(7);
    for (int round = 0; round < 100; ++round) {
        CAPTURE(round);
        const bool mirrored = random.chance(0.5);
        const geometry::Affine truth = geometry::Affine::translation(random.point(50)) *
                                       geometry::Affine::rotation(random.turn()) *
                                       (mirrored ? geometry::Affine::scaling(-1, 1) : geometry::Affine{});
        std::vector<PointPair> pairs;
        const std::size_t count = 9 + random.below(120);
        for (std::size_t i = 0; i < count; ++i) {
            const geometry::Vec2 after = random.point(30);
            const geometry::Vec2 off = i % 3 == 0 ? step(random, 0.5, 20.0) : geometry::Vec2{};
            pairs.push_back({truth(after) + off, after, 1.0});
        }
        const Motion motion = robust_motion(pairs, {0.2, 0.0, mirrored});
        CHECK(motion.mirrored == mirrored);
        for (const PointPair& pair : pairs)
            CHECK(geometry::distance(motion.before_from_after(pair.after), truth(pair.after)) < 1e-6);
    }
}

TEST_CASE("least squares gives the motion that no small change makes better") {
    Random random(11);
    std::vector<PointPair> pairs;
    for (int i = 0; i < 12; ++i)
        pairs.push_back({random.point(10), random.point(10), random.between(0.5, 2.0)});
    const auto cost = [&](const geometry::Affine& map) {
        double sum = 0;
        for (const PointPair& pair : pairs) {
            const geometry::Vec2 d = map(pair.after) - pair.before;
            sum += pair.weight * geometry::dot(d, d);
        }
        return sum;
    };
    for (const bool mirrored : {false, true}) {
        const geometry::Affine best = least_squares_motion(pairs, mirrored, 0.0).before_from_after;
        CHECK(best.mirrors() == mirrored);
        for (int i = 0; i < 200; ++i) {
            const geometry::Affine other = geometry::Affine::translation(random.point(0.1)) *
                                           geometry::Affine::rotation(Angle::degrees(random.between(-2, 2))) * best;
            CHECK(cost(other) >= cost(best) - 1e-9);
        }
    }
}

TEST_CASE("a chart of five thousand parts is compared with one that lies elsewhere") {
    const Chart before = testing::make_chart(5000, 10, 5);
    Chart after = before;
    Footprint part = after.parts[1234];
    part.placement.at.x += 0.8;
    after.parts.replace(1234, part);
    const CompareReport report = compare(before, moved_chart(after, Angle::degrees(12), {3, 400}, true));
    REQUIRE(report.changes.size() == 1);
    CHECK(report.changes[0].before_id == part.id);
    CHECK(report.parts_compared == 5000);
}
