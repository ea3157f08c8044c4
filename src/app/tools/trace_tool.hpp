#pragma once

#include <memory>

#include "app/tools/tool.hpp"
#include "app/traced_shape.hpp"

namespace padchart::app {

/// What is drawn next and how; kept while the tool comes and goes.
struct TraceDesk {
    TraceWhat what = TraceWhat::Pad;
    TraceHow how = TraceHow::Rectangle;
    bool snaps = true;
    double grid = 0.05; ///< 0: none
};

/// Draws shape after shape, each one step of history. Requires: the desk outlives the tool.
[[nodiscard]] std::unique_ptr<Tool> make_trace_tool(TraceDesk& desk);

} // namespace padchart::app
