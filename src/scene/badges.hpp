#pragma once
// Where the signs of parts stand. Private to the scene module.

#include <vector>

#include "scene/canvas.hpp"
#include "scene/labels.hpp"

namespace padchart::scene {

struct Badge {
    Role role = Role::BadgeUnknown;
    Symbol symbol;

    [[nodiscard]] geometry::Box box(const Canvas& canvas) const {
        return geometry::Box{symbol.at, symbol.at}.grown(canvas.mm(symbol.radius_px));
    }
};

/// Where damage and poor joints are told; elsewhere other signs have the say.
[[nodiscard]] bool tells_faults(Stage stage);

/// At corners of the body; outside it, and smaller, where they would cover what they speak of.
[[nodiscard]] std::vector<Badge> badges_of(const PartView& view, const Canvas& canvas);

/// A sign that would lie on one of these steps aside by as little as it takes, never farther than to the next place
/// beside it; where all are taken it stays.
void step_aside(Badge& badge, const Occupied& signs, const Canvas& canvas);

} // namespace padchart::scene
