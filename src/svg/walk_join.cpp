#include "svg/walk_join.hpp"

#include <iterator>

#include "svg/elements.hpp"

namespace padchart::svg {
namespace {

std::int32_t placed(std::int32_t group, const std::vector<std::int32_t>& places) {
    return group < 0 ? -1 : places[static_cast<std::size_t>(group)];
}

std::size_t counter_of(const Group& group) {
    return static_cast<std::size_t>(element_named(group.element));
}

void add_to(Counters& sum, const Counters& more) {
    for (std::size_t i = 0; i < sum.of.size(); ++i)
        sum.of[i] += more.of[i];
}

} // namespace

void PartJoin::add(WalkedPart part) {
    if (std::exchange(is_first_, false)) {
        drawing_ = std::move(part.drawing);
        open_ = std::move(part.open);
        return;
    }
    const Places places = add_groups(part);
    add_shapes(part, places);
    open_for_next(part, places);
}

const Counters* PartJoin::counted_before(const WalkedPart& part, std::int32_t group) const {
    const std::size_t level = static_cast<std::size_t>(group) + 1; // -1, the outermost element, is no group
    return level <= part.begun_before ? &open_[level].counters : nullptr;
}

PartJoin::Places PartJoin::add_groups(WalkedPart& part) {
    Places places;
    places.reserve(part.drawing.groups.size());
    const auto append = [&](Group group) {
        group.parent = placed(group.parent, places);
        drawing_.groups.push_back(std::move(group));
        return static_cast<std::int32_t>(drawing_.groups.size()) - 1;
    };
    for (std::size_t i = 0; i < part.drawing.groups.size(); ++i) {
        Group& group = part.drawing.groups[i];
        if (i < part.begun_before) {
            OpenContainer& begun = open_[i + 1];
            group.ordinal = begun.group.ordinal;
            if (begun.index < 0) begun.index = append(std::move(group));
            places.push_back(begun.index);
            continue;
        }
        if (const Counters* before = counted_before(part, group.parent); before != nullptr && group.id.empty())
            group.ordinal += before->of[counter_of(group)];
        places.push_back(append(std::move(group)));
    }
    return places;
}

void PartJoin::add_shapes(WalkedPart& part, const Places& places) {
    const std::size_t points_before = drawing_.points.size();
    const std::size_t subpaths_before = drawing_.subpaths.size();
    drawing_.points.insert(drawing_.points.end(), part.drawing.points.begin(), part.drawing.points.end());
    for (const Subpath& subpath : part.drawing.subpaths)
        drawing_.subpaths.push_back({subpath.first + points_before, subpath.count, subpath.closed});
    for (DrawnShape& shape : part.drawing.shapes) {
        if (const Counters* before = counted_before(part, shape.group); before != nullptr && shape.id.empty())
            shape.ordinal += before->of[static_cast<std::size_t>(shape.kind)];
        shape.group = placed(shape.group, places);
        shape.first_subpath += subpaths_before;
        drawing_.shapes.push_back(std::move(shape));
    }
}

void PartJoin::open_for_next(WalkedPart& part, const Places& places) {
    for (std::size_t level = 0; level < part.open.size(); ++level) {
        OpenContainer& now = part.open[level];
        if (level < part.open_all_along) {
            const OpenContainer& before = open_[level];
            add_to(now.counters, before.counters);
            now.group = before.group;
            now.index = before.index;
            continue;
        }
        now.index = placed(now.index, places);
        const bool is_counted = level > 0 && level == part.open_all_along && now.group.id.empty();
        if (is_counted && !now.group.element.empty())
            now.group.ordinal += open_[level - 1].counters.of[counter_of(now.group)];
    }
    open_ = std::move(part.open);
}

} // namespace padchart::svg
