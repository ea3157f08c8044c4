#pragma once
// Every change a hand can make to a chart, as a pure function: the chart given stays as it is, the answer is a new one
// that shares all that did not change, or an error that says what was wrong. Nothing here knows about undo.

#include <functional>
#include <optional>
#include <span>
#include <string>

#include "base/result.hpp"
#include "document/chart.hpp"

namespace padchart::document {

// Parts --------------------------------------------------------------------------------------------------------------

/// Errors: id malformed or taken; a size not above 0; a number not finite.
[[nodiscard]] Result<Chart> add_part(const Chart& chart, Footprint part);
/// Readings and notes that spoke of the part stay and lose their target; heat plans for it go with it.
[[nodiscard]] Result<Chart> remove_parts(const Chart& chart, std::span<const Id> ids);
[[nodiscard]] Result<Chart> move_parts(const Chart& chart, std::span<const Id> ids, geometry::Vec2 by_mm);
/// Counter-clockwise as seen from `seen_from`, about `about` (board frame); each part's placement and place turn alike.
[[nodiscard]] Result<Chart> turn_parts(const Chart& chart, std::span<const Id> ids, Angle by, geometry::Vec2 about,
                                       Side seen_from);
[[nodiscard]] Result<Chart> place_part(const Chart& chart, const Id& id, Placement placement);
/// To the other side, mirrored about the vertical through the part's place, as if lifted and laid over.
[[nodiscard]] Result<Chart> change_side(const Chart& chart, std::span<const Id> ids);

[[nodiscard]] Result<Chart> rename_part(const Chart& chart, const Id& id, std::string name);
[[nodiscard]] Result<Chart> set_value(const Chart& chart, const Id& id, std::string value);
/// Errors: count below 0 or above 10,000. Nothing: as many as are drawn.
[[nodiscard]] Result<Chart> set_stated_pad_count(const Chart& chart, const Id& id, std::optional<int> count);
/// New copper and body for the part, e.g. of another family; everything the technician said stays.
[[nodiscard]] Result<Chart> replace_pattern(const Chart& chart, const Id& id, const Footprint& pattern);
[[nodiscard]] Result<Chart> set_orientation(const Chart& chart, const Id& id, Orientation orientation);
/// Errors: limit below warn; not finite.
[[nodiscard]] Result<Chart> set_heat_sensitivity(const Chart& chart, const Id& id, std::optional<HeatSensitivity> heat);
[[nodiscard]] Result<Chart> set_condition(const Chart& chart, const Id& id, Condition condition);
[[nodiscard]] Result<Chart> set_pad_state(const Chart& chart, const Id& id, std::size_t pad, LandState land,
                                          JointState joint);
[[nodiscard]] Result<Chart> set_harmless_turns(const Chart& chart, const Id& id, std::vector<double> turns_deg);
[[nodiscard]] Result<Chart> set_locked(const Chart& chart, std::span<const Id> ids, bool locked);
/// For panels with many fields: `change` edits a copy of the part; its id must stay. Checked like add_part.
[[nodiscard]] Result<Chart> change_part(const Chart& chart, const Id& id,
                                        const std::function<void(Footprint&)>& change);
/// The same for many in one go, in their order.
[[nodiscard]] Result<Chart> change_parts(const Chart& chart, std::span<const Id> ids,
                                         const std::function<void(Footprint&)>& change);

// The rest -----------------------------------------------------------------------------------------------------------

[[nodiscard]] Result<Chart> set_title(const Chart& chart, Title title);
/// Errors: mm_per_unit not above 0, uncertainty negative.
[[nodiscard]] Result<Chart> set_scale(const Chart& chart, std::optional<Scale> scale);
/// Every length and place of the chart times `factor`, as when the scale turns out to have been another.
[[nodiscard]] Result<Chart> rescale(const Chart& chart, double factor, Scale scale);
[[nodiscard]] Result<Chart> set_outline(const Chart& chart, std::optional<geometry::Polygon> outline);
[[nodiscard]] Result<Chart> set_stack(const Chart& chart, Stack stack);
[[nodiscard]] Result<Chart> set_rules(const Chart& chart, Rules rules);

/// One set of three for every other kind of thing. Errors as for parts.
[[nodiscard]] Result<Chart> put(const Chart& chart, KeepOut thing); ///< adds, or replaces what bears its id
[[nodiscard]] Result<Chart> put(const Chart& chart, Shield thing);
[[nodiscard]] Result<Chart> put(const Chart& chart, Note thing);
[[nodiscard]] Result<Chart> put(const Chart& chart, Reading thing);
[[nodiscard]] Result<Chart> put(const Chart& chart, HeatPlan thing);
[[nodiscard]] Result<Chart> put(const Chart& chart, Photo thing);
[[nodiscard]] Result<Chart> put(const Chart& chart, CopperArea thing);
[[nodiscard]] Result<Chart> put(const Chart& chart, Station thing);
[[nodiscard]] Result<Chart> put(const Chart& chart, Tick thing);
[[nodiscard]] Result<Chart> put(const Chart& chart, RevisionNote thing);
/// Takes one off the chart's list of conflicts; what the chart holds stays. Errors: there are not as many.
[[nodiscard]] Result<Chart> settle_conflict(const Chart& chart, std::size_t index);
/// Removes things of every kind, parts too; what names one no longer does. Errors: an id nothing bears.
[[nodiscard]] Result<Chart> remove(const Chart& chart, std::span<const Id> ids);

/// Why this part may not stand in a chart, or nothing. What add_part and the file reader both ask.
[[nodiscard]] std::optional<std::string> fault_of(const Footprint& part);
/// Why this chart may not be, or nothing: every part's fault, ids malformed or twice, numbers not finite.
[[nodiscard]] std::optional<Error> fault_of(const Chart& chart);

} // namespace padchart::document
