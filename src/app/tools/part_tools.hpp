#pragma once
// Tools that move parts and let them meet what lies near: see app/part_snap.hpp. Requires of all: the desk outlives the
// tool.

#include <memory>
#include <string_view>

#include "app/part_snap.hpp"
#include "app/tools/tool.hpp"
#include "document/fragment.hpp"

namespace padchart::app {

/// Told where a part is dragged in a stage that lays none out.
inline constexpr std::string_view kPartsStay = "Parts keep their place here: go to Survey to move them.";

/// Selects, moves, turns.
[[nodiscard]] std::unique_ptr<Tool> make_select_tool(const SnapDesk& desk);
/// As that where parts keep their place: a drag of one says so.
[[nodiscard]] std::unique_ptr<Tool> make_look_tool(const SnapDesk& desk);
/// Puts the pattern where the pointer clicks.
[[nodiscard]] std::unique_ptr<Tool> make_place_tool(document::Footprint pattern, const SnapDesk& desk);
/// Things from elsewhere hang on the pointer by their middle until they are put down, on the side looked at where all
/// of them are of one side. Requires: the fragment is not empty.
[[nodiscard]] std::unique_ptr<Tool> make_paste_tool(document::Fragment things, const SnapDesk& desk);

} // namespace padchart::app
