#include "app/copy_places.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_set>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "document/part_finder.hpp"
#include "geometry/convex.hpp"
#include "geometry/overlay.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::Footprint;
using document::Id;
using geometry::Box;
using geometry::Ring;
using geometry::Vec2;

constexpr double kGap_mm = 0.5;            // between neighbours on a ring that nobody has measured out
constexpr double kLeastOverlap_mm2 = 1e-6; // edges that only touch are no overlap
constexpr double kStep_mm = 0.01;
constexpr std::size_t kMostNamed = 3;

struct Body {
    const Footprint* part = nullptr;
    Ring ring;
    Box box;
};

Body body_of(const Footprint& part) {
    Body body{&part, document::extent_on_board(part), {}};
    body.box = geometry::bounds(body.ring);
    return body;
}

/// Those that are spoken of and all the rest, in the chart's order.
std::pair<std::vector<Body>, std::vector<Body>> bodies_and_others(const Chart& chart, std::span<const Id> ids) {
    std::unordered_set<std::string> spoken_of;
    for (const Id& id : ids)
        spoken_of.insert(id.text);
    std::pair<std::vector<Body>, std::vector<Body>> both;
    for (const Footprint& part : chart.parts)
        (spoken_of.contains(part.id.text) ? both.first : both.second).push_back(body_of(part));
    return both;
}

bool is_off(const Chart& chart, const Body& body) {
    return chart.board.outline && std::any_of(body.ring.begin(), body.ring.end(), [&](Vec2 corner) {
               return !geometry::contains(*chart.board.outline, corner);
           });
}

bool lie_on_each_other(const Body& a, const Body& b) {
    if (a.part->placement.side != b.part->placement.side || !a.box.overlaps(b.box)) return false;
    return geometry::convex_overlap_area(geometry::convex_hull(a.ring), geometry::convex_hull(b.ring)) >
           kLeastOverlap_mm2;
}

std::string name_of(const Body& body) {
    return body.part->name.empty() ? "a part without a name" : body.part->name;
}

/// A copy and whom it lies on.
struct Over {
    const Body* copy = nullptr;
    std::vector<const Body*> under;
};

std::vector<Over> overlaps(const std::vector<Body>& copies, const std::vector<Body>& others) {
    std::vector<Over> found;
    for (std::size_t i = 0; i < copies.size(); ++i) {
        Over over{&copies[i], {}};
        for (const Body& other : others)
            if (lie_on_each_other(copies[i], other)) over.under.push_back(&other);
        for (std::size_t k = 0; k < i; ++k)
            if (lie_on_each_other(copies[i], copies[k])) over.under.push_back(&copies[k]);
        if (!over.under.empty()) found.push_back(std::move(over));
    }
    return found;
}

/// "Q1, R4 and R5", of more than are named "Q1 and 3 more".
std::string list_of(const std::vector<const Body*>& under) {
    if (under.size() > kMostNamed) return fmt::format("{} and {} more", name_of(*under.front()), under.size() - 1);
    std::string words = name_of(*under.front());
    for (std::size_t i = 1; i < under.size(); ++i)
        words += (i + 1 < under.size() ? ", " : " and ") + name_of(*under[i]);
    return words;
}

/// All of `bodies` that have part in it, where they lie on nobody else and each on one of the rest of them: one pile,
/// of which nobody can say who lies on whom. Empty where it is none.
std::vector<const Body*> pile_of(const std::vector<Over>& found, const std::vector<Body>& bodies) {
    if (found.size() < 2) return {};
    std::vector<const Body*> pile{found.front().copy};
    const auto is_in = [&](const Body* body) { return std::find(pile.begin(), pile.end(), body) != pile.end(); };
    for (bool grows = true; grows;) {
        grows = false;
        for (const Over& over : found)
            for (const Body* under : over.under)
                if (is_in(over.copy) != is_in(under)) {
                    pile.push_back(is_in(under) ? over.copy : under);
                    grows = true;
                }
    }
    if (!std::all_of(found.begin(), found.end(), [&](const Over& over) { return is_in(over.copy); })) return {};
    std::vector<const Body*> in_order;
    for (const Body& body : bodies)
        if (is_in(&body)) in_order.push_back(&body);
    return in_order.size() == pile.size() ? in_order : std::vector<const Body*>{};
}

/// To be put behind what was said `before` it. `bodies`: that were moved or made.
std::string words_of(const std::vector<Over>& found, const std::vector<Body>& bodies, const std::string& before) {
    if (found.empty()) return "";
    if (const std::vector<const Body*> pile = pile_of(found, bodies); !pile.empty())
        return fmt::format("{}{} lie on each other.", before.empty() ? "" : " ", list_of(pile));
    return fmt::format("{}{} lies on {}{}", before.empty() ? "" : " ", name_of(*found.front().copy),
                       list_of(found.front().under),
                       found.size() == 1 ? "." : fmt::format(", and {} more on other parts.", found.size() - 1));
}

} // namespace

Vec2 ring_middle(const Box& things, Angle step, const Box& board) {
    const double across = std::hypot(things.width(), things.height()) + kGap_mm;
    // A chord of the ring: the step lies between two neighbours.
    const double half_step = std::abs(std::sin(step.signed_turn().radians() / 2.0));
    const double radius = half_step > 0.0 ? across / (2.0 * half_step) : across;
    const Vec2 from = things.centre();
    Vec2 way = board.is_empty() ? Vec2{} : board.centre() - from;
    const double far = geometry::length(way);
    way = far > kStep_mm ? way / far : Vec2{0.0, 1.0};
    const Vec2 middle = from + way * radius;
    return {std::round(middle.x / kStep_mm) * kStep_mm, std::round(middle.y / kStep_mm) * kStep_mm};
}

std::string remarks_on_copies(const Chart& chart, std::span<const Id> copies) {
    const auto [bodies, others] = bodies_and_others(chart, copies);
    const auto off = std::count_if(bodies.begin(), bodies.end(), [&](const Body& body) { return is_off(chart, body); });
    std::string words;
    if (off > 0)
        words = bodies.size() == 1 ? "The copy lies off the board."
                                   : fmt::format("{} of {} copies lie off the board.", off, bodies.size());
    return words + words_of(overlaps(bodies, others), bodies, words);
}

std::string remarks_on_moved(const Chart& before, const Chart& chart, std::span<const Id> moved) {
    document::PartFinder then(before);
    auto [bodies, others] = bodies_and_others(chart, moved);
    const auto then_of = [&](const Body& body) {
        const auto at = then.find(body.part->id);
        return at ? body_of(before.parts[*at]) : body;
    };
    std::vector<const Body*> off;
    for (const Body& body : bodies)
        if (is_off(chart, body) && !is_off(before, then_of(body))) off.push_back(&body);
    std::vector<Over> found = overlaps(bodies, others);
    for (Over& over : found)
        std::erase_if(over.under,
                      [&](const Body* under) { return lie_on_each_other(then_of(*over.copy), then_of(*under)); });
    std::erase_if(found, [](const Over& over) { return over.under.empty(); });
    std::string words;
    if (off.size() == 1) words = name_of(*off.front()) + " lies off the board.";
    if (off.size() > 1) words = fmt::format("{} parts lie off the board.", off.size());
    return words + words_of(found, bodies, words);
}

} // namespace padchart::app
