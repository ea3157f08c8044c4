#include "document/arrange.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>

#include "document/edits.hpp"
#include "document/part_finder.hpp"

namespace padchart::document {
namespace {

using geometry::Box;
using geometry::Vec2;

double Vec2::*coordinate(Axis axis) {
    return axis == Axis::X ? &Vec2::x : &Vec2::y;
}

Axis axis_of(Line line) {
    return line == Line::Left || line == Line::Centre || line == Line::Right ? Axis::X : Axis::Y;
}

double line_of(const Box& box, Line line) {
    const auto at = coordinate(axis_of(line));
    switch (line) {
    case Line::Left:
    case Line::Top: return box.min.*at;
    case Line::Right:
    case Line::Bottom: return box.max.*at;
    case Line::Centre:
    case Line::Middle: break;
    }
    return box.centre().*at;
}

/// Places end on whole thousandths of a micrometre, so that sums leave no noise in the file.
double clean(double mm) {
    constexpr double kPerMm = 1e6;
    return std::round(mm * kPerMm) / kPerMm;
}

struct Member {
    Id id;
    Box box;
    bool locked = false;
};

Result<std::vector<Member>> members(const Chart& chart, std::span<const Id> ids, Extent extent) {
    std::vector<Member> list;
    PartFinder finder(chart);
    for (const Id& id : ids) {
        const auto at = finder.find(id);
        if (!at) return Error{"nothing in this chart bears the id \"" + id.text + "\"", {}};
        const Footprint& part = chart.parts[*at];
        Box box = box_of(part, extent);
        if (box.is_empty()) box.add(part.placement.at);
        list.push_back({id, box, part.locked});
    }
    return list;
}

/// Each by its own length along the axis. Requires: one move for each id.
Result<Chart> moved(const Chart& chart, std::span<const Id> ids, Axis axis, const std::vector<double>& moves) {
    auto by = moves.begin();
    return change_parts(chart, ids, [&](Footprint& part) {
        double& where = part.placement.at.*coordinate(axis);
        where = clean(where + *by++);
    });
}

/// By how much each must move along the axis, in their order.
std::vector<double> even_moves(const std::vector<Member>& row, double Vec2::*at, Spread what) {
    const auto count = static_cast<double>(row.size());
    std::vector<double> moves(row.size(), 0.0);
    if (what == Spread::Centres) {
        const double first = row.front().box.centre().*at, last = row.back().box.centre().*at;
        for (std::size_t i = 0; i < row.size(); ++i)
            moves[i] = first + (last - first) * static_cast<double>(i) / (count - 1) - row[i].box.centre().*at;
        return moves;
    }
    const auto width = [at](const Member& member) { return member.box.max.*at - member.box.min.*at; };
    double room = row.back().box.max.*at - row.front().box.min.*at;
    for (const Member& member : row)
        room -= width(member);
    double edge = row.front().box.min.*at;
    for (std::size_t i = 0; i < row.size(); ++i) {
        moves[i] = edge - row[i].box.min.*at;
        edge += width(row[i]) + room / (count - 1);
    }
    return moves;
}

std::optional<Error> locked_error(const Chart& chart, std::span<const Id> ids, const char* what) {
    PartFinder finder(chart);
    for (const Id& id : ids) {
        const auto at = finder.find(id);
        if (!at || !chart.parts[*at].locked) continue;
        const std::string& name = chart.parts[*at].name;
        return Error{(name.empty() ? "One of the parts" : name) + " is locked; unlock it to " + what, {}};
    }
    return std::nullopt;
}

} // namespace

Box box_of(const Footprint& part, Extent extent) {
    Box pads;
    for (const Pad& pad : part.pads)
        pads.add(geometry::bounds(outline_on_board(part, pad)));
    const Box body = geometry::bounds(body_on_board(part));
    const Box& first = extent == Extent::Pads ? pads : body;
    return first.is_empty() ? (extent == Extent::Pads ? body : pads) : first;
}

Result<Chart> align(const Chart& chart, std::span<const Id> ids, Line line, Extent extent) {
    const Result<std::vector<Member>> list = members(chart, ids, extent);
    if (!list) return list.error();
    if (list->size() < 2) return Error{"it takes two parts to bring one in line with the other", {}};
    Box all, locked;
    for (const Member& member : *list)
        (member.locked ? locked : all).add(member.box);
    if (all.is_empty()) return Error{"all of them are locked; unlock one to move it", {}};
    const double target = line_of(locked.is_empty() ? all : locked, line);
    std::vector<Id> free;
    std::vector<double> moves;
    for (const Member& member : *list) {
        if (member.locked) continue;
        free.push_back(member.id);
        moves.push_back(target - line_of(member.box, line));
    }
    return moved(chart, free, axis_of(line), moves);
}

Result<Chart> spread(const Chart& chart, std::span<const Id> ids, Axis axis, Spread what, Extent extent) {
    Result<std::vector<Member>> list = members(chart, ids, extent);
    if (!list) return list.error();
    std::vector<Member>& row = *list;
    if (row.size() < 3) return Error{"it takes three parts: the outer two stay and the others come between them", {}};
    const auto at = coordinate(axis);
    std::stable_sort(row.begin(), row.end(),
                     [at](const Member& a, const Member& b) { return a.box.centre().*at < b.box.centre().*at; });
    const std::vector<double> moves = even_moves(row, at, what);
    std::vector<Id> between;
    for (std::size_t i = 1; i + 1 < row.size(); ++i)
        between.push_back(row[i].id);
    if (const auto fault = locked_error(chart, between, "spread it")) return *fault;
    return moved(chart, between, axis, {moves.begin() + 1, moves.end() - 1});
}

Result<Chart> fold_to_far_side(const Chart& chart, std::span<const Id> ids, FoldLine line) {
    if (const auto fault = locked_error(chart, ids, "turn it over")) return *fault;
    const auto at = coordinate(line.along == Axis::Y ? Axis::X : Axis::Y);
    return change_parts(chart, ids, [&](Footprint& part) {
        Placement& placement = part.placement;
        placement.at.*at = clean(2.0 * line.at_mm - placement.at.*at);
        placement.side = placement.side == Side::Top ? Side::Bottom : Side::Top;
        // Laid over about its own vertical a part keeps its turn as seen; about the horizontal it stands on its head.
        if (line.along == Axis::X) placement.turn = (placement.turn + Angle::degrees(180)).wrapped();
    });
}

std::vector<Id> movable(const Chart& chart, std::span<const Id> ids) {
    std::vector<Id> free;
    PartFinder finder(chart);
    for (const Id& id : ids)
        if (const auto at = finder.find(id); at && !chart.parts[*at].locked) free.push_back(id);
    return free;
}

} // namespace padchart::document
