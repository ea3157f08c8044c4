#pragma once
// A part of a drawing in document order, and what the walk through it leaves for the next: where it begins and ends is
// told by the ways from the outermost element down, so that a part may begin in the middle of a group.

#include <array>
#include <cstdint>
#include <vector>

#include <pugixml.hpp>

#include "svg/drawing.hpp"

namespace padchart::svg {

struct WalkPart {
    /// From the outermost element down to the first element of the part, and to the first after it. Empty: from the
    /// very beginning, to the very end. All but the last are containers that parts on both sides have a share in.
    std::vector<pugi::xml_node> begin;
    std::vector<pugi::xml_node> end;
};

/// Counts what has no id within one container, for keys that last.
struct Counters {
    std::array<std::uint32_t, 16> of{};
};

/// A container that was not left when the part ended.
struct OpenContainer {
    Counters counters;       ///< of what this part counted in it
    Group group;             ///< as it stands in the list, or would if anything had been drawn in it
    std::int32_t index = -1; ///< in the list of groups; -1: nothing was drawn in it
};

/// How near a walk came to the limits that hold for the whole drawing.
struct WalkEffort {
    std::size_t visits = 0;
    std::size_t most_shapes = 0; ///< at any time, what was only measured included
    std::size_t most_points = 0;
    std::int64_t looks = 0; ///< of StyleBudget
    bool stopped = false;   ///< at one of them, or called off
    bool called_off = false;
};

struct WalkedPart {
    Drawing drawing;
    std::size_t begun_before = 0;    ///< so many of the first groups were begun by an earlier part
    std::vector<OpenContainer> open; ///< along `WalkPart::end`, from the outermost element
    std::size_t open_all_along = 0;  ///< so many of the first of them were open when the part began
    WalkEffort effort;
};

} // namespace padchart::svg
