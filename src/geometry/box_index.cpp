#include "geometry/box_index.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

#include "geometry/geos_bridge.hpp"

namespace padchart::geometry {

namespace {

geos::Geometry envelope(const Box& box) {
    return geos::owned(GEOSGeom_createRectangle_r(geos::context(), box.min.x, box.min.y, box.max.x, box.max.y));
}

extern "C" void note_found(void* item, void* found) {
    static_cast<std::vector<std::size_t>*>(found)->push_back(*static_cast<std::size_t*>(item));
}

} // namespace

struct BoxIndex::State {
    std::vector<std::size_t> positions; ///< what the tree's items point to; never grows once the tree is filled
    geos::Owner<GEOSSTRtree> tree;
};

BoxIndex::BoxIndex(std::span<const Box> boxes) : state_(std::make_unique<State>()) {
    constexpr std::size_t kNodeCapacity = 10;
    state_->tree = geos::owned(GEOSSTRtree_create_r(geos::context(), kNodeCapacity));
    state_->positions.resize(boxes.size());
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        state_->positions[i] = i;
        if (boxes[i].is_empty()) continue;
        GEOSSTRtree_insert_r(geos::context(), state_->tree.get(), envelope(boxes[i]).get(), &state_->positions[i]);
    }
    // The first question builds the tree; asked here, so that later ones only read.
    std::ignore = touching(Box{{0, 0}, {0, 0}});
}

BoxIndex::BoxIndex(BoxIndex&&) noexcept = default;
BoxIndex& BoxIndex::operator=(BoxIndex&&) noexcept = default;
BoxIndex::~BoxIndex() = default;

std::vector<std::size_t> BoxIndex::touching(const Box& box) const {
    std::vector<std::size_t> found;
    if (box.is_empty()) return found;
    GEOSSTRtree_query_r(geos::context(), state_->tree.get(), envelope(box).get(), note_found, &found);
    std::sort(found.begin(), found.end());
    return found;
}

} // namespace padchart::geometry
