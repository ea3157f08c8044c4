#pragma once
// The box round each part, worked out anew only for parts that another chart has not, or not like that: a hand changes
// few of thousands.

#include <memory>
#include <vector>

#include "document/chart.hpp"
#include "geometry/box.hpp"

namespace padchart::app {

/// Everything drawn on the board but parts: its outline and keep-outs, board mm.
[[nodiscard]] geometry::Box bounds_without_parts(const document::Chart& chart);

class PartBoxes {
public:
    /// As bounds_of(chart), board frame; empty where there is nothing.
    [[nodiscard]] geometry::Box bounds(const document::Chart& chart);

private:
    struct Known {
        std::shared_ptr<const document::Footprint> part; ///< kept, so that no other part gets its address
        geometry::Box box;
    };
    std::vector<Known> known_; ///< in the order of the last chart's parts
};

} // namespace padchart::app
