#include "svg/reimport_names.hpp"

#include <algorithm>
#include <map>
#include <string>

#include "geometry/box_index.hpp"
#include "svg/reimport_match.hpp"
#include "svg/reimport_numbers.hpp"

namespace padchart::svg {
namespace {

using document::Footprint;
using geometry::Vec2;

using Lands = std::map<std::string, Vec2>; ///< on the board, by number

Lands lands_of(const Footprint& part) {
    Lands lands;
    const geometry::Affine to_board = document::board_from_part(part.placement);
    for (const auto& [number, at] : pads_by_number(part.pads))
        lands.emplace(number, to_board(part.pads[at].at));
    return lands;
}

geometry::Box box_of(const Lands& lands) {
    geometry::Box box;
    for (const auto& [number, at] : lands)
        box.add(at);
    return box;
}

bool lie_alike(const Lands& a, const Lands& b, double off) {
    return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(), [&](const auto& one, const auto& other) {
               return one.first == other.first && geometry::distance(one.second, other.second) <= off;
           });
}

} // namespace

NamesMoved names_moved(const document::Chart& current, const document::Chart& fresh, double off) {
    std::vector<Lands> lay;
    std::vector<geometry::Box> boxes;
    for (const Footprint& part : current.parts) {
        lay.push_back(lands_of(part));
        boxes.push_back(box_of(lay.back()));
    }
    const geometry::BoxIndex index(boxes);
    std::size_t yes = 0, no = 0;
    for (const Footprint& part : fresh.parts) {
        const Lands lands = lands_of(part);
        if (lands.size() < 2 || lasting_key(part.trace_key).empty()) continue;
        const auto near = index.touching(box_of(lands).grown(off));
        const bool is_explained =
            std::any_of(near.begin(), near.end(), [&](std::size_t i) { return lie_alike(lay[i], lands, off); });
        ++(is_explained ? yes : no);
    }
    if (yes == no) return NamesMoved::Unknown;
    return yes > no ? NamesMoved::Yes : NamesMoved::No;
}

} // namespace padchart::svg
