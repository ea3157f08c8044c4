#pragma once
// Measures what lies under the pointer; see app/measures.hpp. What was measured stays on the desk until it is
// dismissed.

#include <memory>

#include "app/measures.hpp"
#include "app/tools/tool.hpp"

namespace padchart::app {

/// Requires: the desk outlives the tool.
[[nodiscard]] std::unique_ptr<Tool> make_measure_tool(MeasureDesk& desk, MeasureKind kind);

/// What lies under the pointer: the topmost pad, part, keep-out or shield of the side looked at, else the board's edge.
[[nodiscard]] MeasuredShape shape_at(const ToolContext& context, const Pointer& pointer);

} // namespace padchart::app
