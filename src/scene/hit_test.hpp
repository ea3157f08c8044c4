#pragma once
// Which thing of the scene lies under the pointer, and which lie in a marquee. Asks the drawn shapes themselves: areas,
// lines and the places of signs. Texts are no target, since their size depends on the zoom.

#include <cstdint>
#include <optional>
#include <unordered_map>
#include <vector>

#include "scene/scene.hpp"

namespace padchart::scene {

/// Built once per scene, asked often. Requires: the scene outlives it and does not change.
class HitTest {
public:
    explicit HitTest(const Scene& scene);
    /// The topmost item with a source within `reach_mm` of the point; index into Scene::sources.
    [[nodiscard]] std::optional<std::int32_t> at(geometry::Vec2 point, double reach_mm) const;
    /// Ids of things whose drawn shapes lie wholly inside the box (or touch it, when `touching`), in scene order.
    [[nodiscard]] std::vector<document::Id> in(const geometry::Box& box, bool touching) const;

private:
    struct Entry {
        geometry::Box box;
        std::int32_t source = -1;
        std::uint32_t item = 0;
    };
    [[nodiscard]] bool touches(const Entry& entry, geometry::Vec2 point, double reach_mm) const;

    const Scene* scene_;
    std::vector<Entry> entries_; ///< in painting order
    /// Entries by the cell of a coarse grid they touch, so that moving the pointer over 50,000 pads stays cheap.
    std::unordered_map<std::uint64_t, std::vector<std::uint32_t>> cells_;
    std::vector<std::uint32_t> large_; ///< what spans too many cells
    double cell_mm_ = 1.0;
};

} // namespace padchart::scene
