#pragma once
// What is taken out of a chart to be put down elsewhere: parts, keep-outs, shields and notes. Readings stay where they
// were taken: they are evidence of one place of one board. Board frame, mm.

#include <span>
#include <vector>

#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::document {

struct Fragment {
    std::vector<Footprint> parts;
    std::vector<KeepOut> keep_outs;
    std::vector<Shield> shields;
    std::vector<Note> notes;

    [[nodiscard]] std::size_t size() const { return parts.size() + keep_outs.size() + shields.size() + notes.size(); }
    [[nodiscard]] bool empty() const { return size() == 0; }

    bool operator==(const Fragment&) const = default;
};

/// In the order of the ids. What can lie in no fragment, such as a reading, is left out.
/// Errors: an id that nothing in the chart bears.
[[nodiscard]] Result<Fragment> fragment_of(const Chart& chart, std::span<const Id> ids);

[[nodiscard]] Fragment moved(Fragment fragment, geometry::Vec2 by_mm);

/// Everything in it lies on that side. False for an empty one.
[[nodiscard]] bool lies_on(const Fragment& fragment, Side side);
/// To the other side, each thing where it is over the line x = `about_x`.
[[nodiscard]] Fragment laid_over(Fragment fragment, double about_x);

/// Of bodies, pads, outlines and the places of notes. Empty for an empty one.
[[nodiscard]] geometry::Box bounds_of(const Fragment& fragment);

} // namespace padchart::document
