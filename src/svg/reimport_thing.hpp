#pragma once
// What a thing of a trace is told by when it lies somewhere else: where its middle is, of what kind and how large it
// is. For svg/reimport alone.

#include <compare>
#include <cstddef>

#include "document/chart.hpp"

namespace padchart::svg {

[[nodiscard]] geometry::Vec2 middle(const geometry::Ring& ring);

/// Of the body where there is one: it stays where a pad more is drawn. What goes along when the part turns, as the
/// middle of a box does not.
[[nodiscard]] geometry::Vec2 middle_of(const document::Footprint& part);
[[nodiscard]] geometry::Vec2 middle_of(const document::KeepOut& thing);

struct ThingKind {
    document::Side side = document::Side::Top;
    std::size_t pads = 0;
    bool has_body = false;
    auto operator<=>(const ThingKind&) const = default;
};

[[nodiscard]] ThingKind kind_of(const document::Footprint& part);
[[nodiscard]] ThingKind kind_of(const document::KeepOut& thing);

/// The side of a square that is as large.
[[nodiscard]] double size_of(const geometry::Ring& ring);
[[nodiscard]] double size_of(const document::Footprint& part);
[[nodiscard]] double size_of(const document::KeepOut& thing);

} // namespace padchart::svg
