#include "analysis/grouping.hpp"
#include "analysis/pad_numbers.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <set>
#include <string>

#include "analysis/grouping_shapes.hpp"
#include "document/edits.hpp"
#include "patterns/family.hpp"

using namespace padchart;
using analysis::Grouping;
using analysis::GroupKind;
using document::Chart;
using document::Footprint;
using geometry::Vec2;

namespace {

/// Lands of known parts thrown into one heap, as a trace without bodies and groups gives them. The parts themselves
/// are the truth to be found again.
struct Heap {
    Footprint loose;
    std::vector<std::vector<std::size_t>> truth;
    std::mt19937 random{20260401};
    double jitter_mm = 0.0;
    double size_jitter_mm = 0.0;

    void add(std::string_view family, Vec2 at, double turn_deg = 0.0) {
        const auto pattern = patterns::generate(family);
        REQUIRE_MESSAGE(pattern, family);
        const geometry::Affine map =
            geometry::Affine::translation(at) * geometry::Affine::rotation(Angle::degrees(turn_deg));
        std::uniform_real_distribution<double> off(-jitter_mm, jitter_mm);
        std::uniform_real_distribution<double> size_off(-size_jitter_mm, size_jitter_mm);
        std::vector<std::size_t> pads;
        for (document::Pad pad : pattern->pads) {
            pad.at = map(pad.at) + Vec2{off(random), off(random)};
            pad.turn = (pad.turn + Angle::degrees(turn_deg)).wrapped();
            pad.number.clear();
            if (size_jitter_mm > 0.0) {
                pad.shape.width_mm += size_off(random);
                pad.shape.height_mm += size_off(random);
            }
            pads.push_back(loose.pads.size());
            loose.pads.push_back(std::move(pad));
        }
        truth.push_back(std::move(pads));
    }

    [[nodiscard]] Chart chart(document::Side side = document::Side::Top) const {
        Chart chart;
        chart.scale = document::Scale{};
        Footprint part = loose;
        part.id = {"heap"};
        part.trace_key = "pads";
        part.placement.side = side;
        chart.parts.add(part);
        return chart;
    }

    /// The truth and the proposals as sets of sets: equal or not, in whatever order.
    void check_found(const Grouping& grouping) const {
        std::set<std::set<std::size_t>> expected, found;
        for (const auto& pads : truth)
            expected.insert({pads.begin(), pads.end()});
        for (const analysis::GroupProposal& proposal : grouping.proposals) {
            std::set<std::size_t> pads;
            for (const analysis::LoosePad from : proposal.pads)
                pads.insert(from.pad);
            found.insert(std::move(pads));
        }
        for (const auto& pads : expected) {
            CAPTURE(*pads.begin());
            CHECK(found.contains(pads));
        }
        CHECK(found.size() == expected.size());
    }
};

const analysis::GroupProposal& with_pad(const Grouping& grouping, std::size_t pad) {
    for (const analysis::GroupProposal& proposal : grouping.proposals)
        for (const analysis::LoosePad from : proposal.pads)
            if (from.pad == pad) return proposal;
    FAIL("no proposal holds the pad");
    return grouping.proposals.front();
}

} // namespace

TEST_CASE("two pads alone are proposed as a chip with both codes and the reason in words") {
    Heap heap;
    heap.add("chip-1005M", {5, 5});
    const Grouping grouping = analysis::propose_groups(heap.chart());
    REQUIRE(grouping.proposals.size() == 1);
    const auto& proposal = grouping.proposals[0];
    CHECK(proposal.kind == GroupKind::Pair);
    // 1005M is inch 0402: EIA and JEITA size codes.
    CHECK(proposal.like == "1005M (inch 0402)");
    CHECK(proposal.why.find("nothing else within 1 mm") != std::string::npos);
    CHECK(proposal.why.find("a two-terminal part like 1005M (inch 0402)") != std::string::npos);
    CHECK(std::set<std::string>(proposal.numbers.begin(), proposal.numbers.end()) == std::set<std::string>{"1", "2"});
}

TEST_CASE("chips of several sizes at several turns are told apart") {
    for (const double jitter : {0.0, 0.02}) {
        Heap heap;
        heap.jitter_mm = jitter;
        heap.add("chip-1005M", {5, 5});
        heap.add("chip-1005M", {5, 6.3});
        heap.add("chip-1005M", {8, 5}, 90);
        heap.add("chip-0603M", {10, 5}, 30);
        heap.add("chip-1608M", {5, 9}, 90);
        heap.add("chip-1608M", {7.2, 9}, 90);
        heap.add("chip-3216M", {12, 9});
        heap.check_found(analysis::propose_groups(heap.chart()));
    }
}

TEST_CASE("packages with rows are found among chips whichever way they lie") {
    for (const double turn : {0.0, 90.0, 27.0}) {
        for (const double jitter : {0.0, 0.015}) {
            CAPTURE(turn);
            CAPTURE(jitter);
            Heap heap;
            heap.jitter_mm = jitter;
            heap.add("soic-8", {10, 10}, turn);
            heap.add("qfn-24-4040", {25, 10}, turn);
            heap.add("chip-1005M", {16.5, 4});
            heap.add("chip-1608M", {18, 14}, 90);
            const Grouping grouping = analysis::propose_groups(heap.chart());
            heap.check_found(grouping);
            CHECK(with_pad(grouping, heap.truth[0][0]).kind == GroupKind::TwoRows);
            CHECK(with_pad(grouping, heap.truth[1][0]).kind == GroupKind::FourRows);
        }
    }
}

TEST_CASE("most packages come out as one part when they lie alone") {
    for (const char* family :
         {"soic-8",        "soic-16",       "soic-wide-28",  "ssop-20",     "tssop-8",          "tssop-20-ep",
          "small-3.0-10",  "son-8-2020",    "son-8-3030",    "qfn-12-3030", "qfn-16-3030",      "qfn-48-7070",
          "qfp-32",        "qfp-100",       "sot-23",        "sot-23-5",    "sot-23-6",         "sot-363",
          "sot-353",       "array-4-2010M", "array-4-3216M", "bga-36-0.5",  "wafer-level-4x4",  "bga-100-1.0",
          "chip-0402M",    "chip-6332M",    "sod-323",       "melf",        "tantalum-7343-31", "led-1608M",
          "crystal-2-3215"}) {
        for (const double turn : {0.0, 45.0}) {
            CAPTURE(std::string(family));
            CAPTURE(turn);
            Heap heap;
            heap.jitter_mm = 0.005;
            heap.add(family, {20, 20}, turn);
            std::vector<analysis::DrawnLand> lands;
            for (std::size_t i = 0; i < heap.loose.pads.size(); ++i)
                lands.push_back(analysis::land_of({0, i}, document::outline_in_part(heap.loose.pads[i])));
            CHECK(analysis::sets_of(lands).size() == 1);
        }
    }
}

TEST_CASE("small pads drawn by hand stay together however their errors fall") {
    // Corners off by up to 0.02 mm each: the middle and the sides of a pad of 0.25 x 0.8 mm by 0.02 and 0.04.
    for (unsigned start = 1; start <= 60; ++start) {
        CAPTURE(start);
        Heap heap;
        heap.random.seed(start);
        heap.jitter_mm = 0.02;
        heap.size_jitter_mm = 0.04;
        heap.add("qfn-16-3030", {10, 10});
        heap.add("soic-8", {20, 10}, 27);
        heap.add("tssop-20", {30, 10});
        heap.check_found(analysis::propose_groups(heap.chart()));
    }
}

TEST_CASE("a pad of another size in a gap of a row is taken in and named") {
    Heap heap;
    heap.add("qfn-24-4040", {10, 10});
    heap.loose.pads[3].shape.width_mm *= 1.3;
    heap.loose.pads[3].shape.height_mm *= 0.75;
    const Grouping grouping = analysis::propose_groups(heap.chart());
    heap.check_found(grouping);
    CHECK(with_pad(grouping, 3).why.find("1 of them of another size but in a gap") != std::string::npos);
}

TEST_CASE("past a place without a pad no pad is numbered, and it says so") {
    Heap heap;
    heap.add("qfn-24-4040", {10, 10});
    heap.loose.pads.erase(heap.loose.pads.begin() + 3);
    const Grouping grouping = analysis::propose_groups(heap.chart());
    const auto& proposal = with_pad(grouping, 0);
    CHECK(proposal.pads.size() == heap.loose.pads.size());
    CHECK(proposal.why.find("1 place of its rows empty") != std::string::npos);
    for (const std::string& number : proposal.numbers)
        CHECK(number.empty());
}

TEST_CASE("a family is named only where it has as many pads of its own") {
    Heap heap;
    for (int i = 0; i < 4; ++i) // four chips side by side, nearer to each other than their pads
        for (const double y : {20.0, 21.6}) {
            document::Pad pad;
            pad.at = {5.0 + 1.2 * i, y};
            pad.shape = {document::ShapeKind::Rectangle, 0.8, 0.8, {}};
            heap.loose.pads.push_back(pad);
        }
    const Grouping grouping = analysis::propose_groups(heap.chart());
    REQUIRE(grouping.proposals.size() == 1);
    CHECK(grouping.proposals[0].like == "");
    CHECK(grouping.proposals[0].why.find("or 4 two-terminal parts side by side") != std::string::npos);
}

TEST_CASE("three leads and the tab across from them are one part") {
    for (const double turn : {0.0, 90.0, 27.0}) {
        Heap heap;
        heap.add("sot-223", {10, 10}, turn);
        heap.add("chip-1608M", {20, 10});
        const Grouping grouping = analysis::propose_groups(heap.chart());
        heap.check_found(grouping);
        CHECK(with_pad(grouping, 0).kind == GroupKind::Tab);
        CHECK(with_pad(grouping, 0).like == "SOT-223");
    }
}

TEST_CASE("pads of a part that was grouped before get no numbers by rule") {
    Heap heap;
    heap.add("qfn-16-3030", {10, 10});
    const Chart chart = heap.chart();
    const auto grouped = analysis::accept_groups(chart, analysis::propose_groups(chart).proposals);
    REQUIRE(grouped);
    CHECK_FALSE(grouped->parts[0].pads[0].number.empty());
    heap.add("soic-8", {20, 10});
    const auto again = analysis::grouped_as_before(*grouped, heap.chart());
    REQUIRE(again);
    REQUIRE(again->parts.size() == 2);
    for (const document::Pad& pad : again->parts[0].pads)
        CHECK(pad.number.empty());
    for (const document::Pad& pad : again->parts[1].pads)
        CHECK_FALSE(pad.number.empty());
}

TEST_CASE("a part's pads are numbered anew as loose ones would be") {
    Footprint part = *patterns::generate("soic-8");
    std::vector<std::string> rule;
    for (document::Pad& pad : part.pads) {
        rule.push_back(pad.number);
        pad.number = "7";
    }
    CHECK(analysis::numbers_by_rule(part) == rule);
    part.pads.erase(part.pads.begin() + 1);
    CHECK(analysis::numbers_by_rule(part) == std::vector<std::string>(7));
}

TEST_CASE("small outlines with three and five leads stay whole") {
    Heap heap;
    heap.add("sot-23", {5, 5});
    heap.add("sot-23-5", {12, 5});
    heap.add("chip-1005M", {8.5, 9});
    const Grouping grouping = analysis::propose_groups(heap.chart());
    heap.check_found(grouping);
    CHECK(with_pad(grouping, 0).kind == GroupKind::Three);
}

TEST_CASE("pins are numbered as the family numbers them") {
    Heap heap;
    heap.add("soic-8", {10, 10});
    Chart chart = heap.chart();
    const Grouping grouping = analysis::propose_groups(chart);
    REQUIRE(grouping.proposals.size() == 1);
    const auto accepted = analysis::accept_groups(chart, grouping.proposals);
    REQUIRE(accepted);
    REQUIRE(accepted->parts.size() == 1);
    const Footprint& part = accepted->parts[0];
    const auto pattern = patterns::generate("soic-8");
    for (const document::Pad& pad : part.pads) {
        const auto twin = std::find_if(pattern->pads.begin(), pattern->pads.end(),
                                       [&](const document::Pad& other) { return other.number == pad.number; });
        REQUIRE(twin != pattern->pads.end());
        const Vec2 on_board = document::board_from_part(part.placement)(pad.at);
        CHECK(geometry::distance(on_board, twin->at + Vec2{10, 10}) < 1e-6);
    }
    CHECK(analysis::mirrored_numbering(*accepted).empty());
}

TEST_CASE("a grid of balls is one part and its places are named by row and column") {
    Heap heap;
    for (int row = 0; row < 4; ++row)
        for (int column = 0; column < 5; ++column) {
            if (row == 1 && column == 2) continue; // a place left empty
            document::Pad pad;
            pad.at = {10 + 0.5 * column, 10 + 0.5 * row};
            pad.shape = {document::ShapeKind::Round, 0.25, 0.25, {}};
            heap.loose.pads.push_back(pad);
        }
    heap.truth.emplace_back();
    for (std::size_t i = 0; i < heap.loose.pads.size(); ++i)
        heap.truth[0].push_back(i);
    heap.add("chip-1005M", {15, 10});
    const Grouping grouping = analysis::propose_groups(heap.chart());
    heap.check_found(grouping);
    const auto& grid = with_pad(grouping, 0);
    CHECK(grid.kind == GroupKind::Grid);
    CHECK(grid.why.find("4 x 5 places, 0.50 mm apart") != std::string::npos);
    // Row letters run down, columns to the right: IPC-7351 clause 14.2.5.
    CHECK(std::set<std::string>(grid.numbers.begin(), grid.numbers.end()).contains("D5"));
    CHECK_FALSE(std::set<std::string>(grid.numbers.begin(), grid.numbers.end()).contains("B3"));
}

namespace {

/// Equal lands of 1 mm, `pitch_mm` apart both ways.
Heap lattice_of(int rows, int columns, double pitch_mm, document::ShapeKind kind) {
    Heap heap;
    heap.truth.emplace_back();
    for (int row = 0; row < rows; ++row)
        for (int column = 0; column < columns; ++column) {
            document::Pad pad;
            pad.at = {pitch_mm * column, pitch_mm * row};
            pad.shape = {.kind = kind, .width_mm = 1.0, .height_mm = 1.0, .points = {}};
            heap.truth[0].push_back(heap.loose.pads.size());
            heap.loose.pads.push_back(pad);
        }
    return heap;
}

} // namespace

TEST_CASE("round pads in two rows of three are a connector or an array, not three chips") {
    for (const double pitch : {1.27, 2.0, 2.54}) {
        CAPTURE(pitch);
        const Heap heap = lattice_of(2, 3, pitch, document::ShapeKind::Round);
        const Grouping grouping = analysis::propose_groups(heap.chart());
        heap.check_found(grouping);
        REQUIRE(grouping.proposals.size() == 1);
        CHECK(grouping.proposals[0].kind == GroupKind::Grid);
        CHECK(grouping.proposals[0].why.starts_with("6 equal round pads 1 x 1 mm on a lattice of "));
        CHECK(grouping.proposals[0].why.find("a chip's pads are not round") != std::string::npos);
        CHECK(
            std::set<std::string>(grouping.proposals[0].numbers.begin(), grouping.proposals[0].numbers.end()).size() ==
            6);
    }
}

TEST_CASE("round pads are a pair only where no third lies as near") {
    const auto kinds = [](const Heap& heap) {
        std::multiset<GroupKind> all;
        for (const analysis::GroupProposal& proposal : analysis::propose_groups(heap.chart()).proposals)
            all.insert(proposal.kind);
        return all;
    };
    CHECK(kinds(lattice_of(1, 2, 2.0, document::ShapeKind::Round)) == std::multiset{GroupKind::Pair});
    CHECK_FALSE(kinds(lattice_of(2, 2, 2.0, document::ShapeKind::Round)).contains(GroupKind::Pair));
    CHECK(kinds(lattice_of(2, 2, 2.0, document::ShapeKind::Rectangle)).contains(GroupKind::Pair));
}

TEST_CASE("accepting keeps every land where it is on either side of the board") {
    for (const document::Side side : {document::Side::Top, document::Side::Bottom}) {
        Heap heap;
        heap.add("chip-1005M", {5, 5}, 30);
        heap.add("sot-23", {10, 5});
        heap.loose.pads[0].land = document::LandState::Lifted;
        const Chart chart = heap.chart(side);
        const Grouping grouping = analysis::propose_groups(chart);
        const auto accepted = analysis::accept_groups(chart, grouping.proposals);
        REQUIRE(accepted);
        REQUIRE(accepted->parts.size() == 2);
        const auto boxes = [](const Chart& of) {
            std::vector<std::array<double, 4>> all;
            for (const Footprint& part : of.parts)
                for (const document::Pad& pad : part.pads) {
                    const auto box = geometry::bounds(document::outline_on_board(part, pad));
                    all.push_back({box.min.x, box.min.y, box.max.x, box.max.y});
                }
            std::sort(all.begin(), all.end());
            return all;
        };
        const auto before = boxes(chart);
        const auto after = boxes(*accepted);
        REQUIRE(before.size() == after.size());
        for (std::size_t i = 0; i < before.size(); ++i)
            for (std::size_t k = 0; k < 4; ++k)
                CHECK(before[i][k] == doctest::Approx(after[i][k]));
        CHECK(accepted->parts[0].pads[0].land == document::LandState::Lifted);
        CHECK_FALSE(document::fault_of(*accepted));
    }
}

TEST_CASE("numbers that were traced are kept") {
    Heap heap;
    heap.add("chip-1005M", {5, 5});
    heap.loose.pads[0].number = "7";
    heap.loose.pads[1].number = "9";
    const Grouping grouping = analysis::propose_groups(heap.chart());
    CHECK(grouping.proposals[0].numbers == std::vector<std::string>{"7", "9"});
}

TEST_CASE("nothing is proposed without a scale and nothing that has a name is touched") {
    Heap heap;
    heap.add("chip-1005M", {5, 5});
    Chart chart = heap.chart();
    chart.scale.reset();
    const Grouping none = analysis::propose_groups(chart);
    CHECK(none.proposals.empty());
    REQUIRE(none.findings.size() == 1);
    CHECK(none.findings[0].code == "no-scale");
    Chart named = *document::rename_part(heap.chart(), {"heap"}, "R1");
    CHECK(analysis::propose_groups(named).proposals.empty());
}

TEST_CASE("pads drawn on one another are told apart from the one they hide") {
    Heap heap;
    heap.add("chip-1005M", {5, 5});
    const document::Pad twice = heap.loose.pads[0];
    for (int i = 0; i < 5; ++i)
        heap.loose.pads.push_back(twice);
    const Grouping grouping = analysis::propose_groups(heap.chart());
    REQUIRE(grouping.proposals.size() == 6);
    CHECK(grouping.proposals[0].kind == GroupKind::Pair);
    CHECK(grouping.proposals[0].pads.size() == 2);
    for (std::size_t i = 1; i < 6; ++i)
        CHECK(grouping.proposals[i].why.find("drawn on its like") != std::string::npos);
}

TEST_CASE("grouping that is told to stop accepts nothing and leaves the rest undone") {
    Heap heap;
    for (int i = 0; i < 20; ++i)
        heap.add("soic-8", {10.0 + 12.0 * i, 5});
    const Chart chart = heap.chart();
    std::stop_source stop;
    const Grouping whole = analysis::propose_groups(chart, stop.get_token());
    CHECK(whole.proposals.size() == 20);
    CHECK(analysis::accept_groups(chart, whole.proposals, stop.get_token()));
    stop.request_stop();
    CHECK(analysis::propose_groups(chart, stop.get_token()).proposals.empty());
    CHECK_FALSE(analysis::accept_groups(chart, whole.proposals, stop.get_token()));
    CHECK(analysis::size_suggestions(chart, 0.1, stop.get_token()).empty());
}

namespace {

Heap two_chips() {
    Heap heap;
    heap.add("chip-1005M", {5, 5});
    heap.add("chip-1005M", {15, 9});
    return heap;
}

/// The pads of the other chip stay loose.
Chart with_first_accepted(const Chart& chart) {
    const Grouping grouping = analysis::propose_groups(chart);
    REQUIRE(grouping.proposals.size() == 2);
    const auto accepted = analysis::accept_groups(chart, {grouping.proposals.front()});
    REQUIRE(accepted);
    return *accepted;
}

} // namespace

TEST_CASE("pads that were left loose stay loose when their trace is drawn again, and new ones are put together") {
    Heap heap = two_chips();
    const Chart chart = heap.chart();
    const Chart accepted = with_first_accepted(chart);
    heap.add("chip-1608M", {25, 9});
    const auto again = analysis::grouped_as_before(accepted, heap.chart());
    REQUIRE(again);
    REQUIRE(again->parts.size() == 3); // loose, the chip as before, the new one
    CHECK(again->parts[0].pads.size() == 2);
    CHECK(geometry::distance(again->parts[0].placement.at, {15, 9}) < 1e-9);
}

TEST_CASE("pads that are left over lie in their own middle, where they lay") {
    Heap heap = two_chips();
    const Chart chart = heap.chart();
    const Chart accepted = with_first_accepted(chart);
    REQUIRE(accepted.parts.size() == 2);
    const Footprint& left = accepted.parts[0]; // the loose ones came first
    CHECK(left.id == chart.parts[0].id);
    CHECK(geometry::distance(left.placement.at, {15, 9}) < 1e-9);
    CHECK(geometry::distance(document::centre_in_part(left), {0, 0}) < 1e-9);
    for (const document::Pad& pad : left.pads)
        CHECK(document::board_from_part(left.placement)(pad.at).y == doctest::Approx(9.0));
}

TEST_CASE("a pad in two proposals is refused") {
    Heap heap;
    heap.add("chip-1005M", {5, 5});
    const Chart chart = heap.chart();
    Grouping grouping = analysis::propose_groups(chart);
    grouping.proposals.push_back(grouping.proposals.front());
    CHECK_FALSE(analysis::accept_groups(chart, grouping.proposals));
}

TEST_CASE("a measured body suggests its chip in inch and metric") {
    Chart chart;
    chart.scale = document::Scale{};
    Footprint part = *patterns::generate("chip-1608M");
    part.id = {"r1"};
    part.name = "R1";
    part.family.clear();
    part.body->shape.width_mm = 1.66;
    part.body->shape.height_mm = 0.77;
    chart.parts.add(part);
    const Diagnostics findings = analysis::size_suggestions(chart, 0.1);
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].message == "R1 measures 1.66 x 0.77 mm: 1608M (inch 0603) by size, within 0.1 mm");
}
