#pragma once
// Which thing of the scene lies under the pointer, and which lie in a marquee. Asks the drawn shapes themselves.

#include <optional>
#include <vector>

#include "scene/scene.hpp"

namespace padchart::scene {

/// Built once per scene, asked often.
class HitTest {
public:
    explicit HitTest(const Scene& scene);
    /// The topmost item with a source within `reach_mm` of the point; index into Scene::sources.
    [[nodiscard]] std::optional<std::int32_t> at(geometry::Vec2 point, double reach_mm) const;
    /// Ids of parts whose drawn shapes lie wholly inside the box (or touch it, when `touching`).
    [[nodiscard]] std::vector<document::Id> in(const geometry::Box& box, bool touching) const;

private:
    struct Entry {
        geometry::Box box;
        std::int32_t source = -1;
        std::uint32_t item = 0;
    };
    const Scene* scene_;
    std::vector<Entry> entries_;
};

} // namespace padchart::scene
