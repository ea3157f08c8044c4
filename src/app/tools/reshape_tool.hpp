#pragma once

#include <memory>
#include <optional>

#include "app/shape_edit.hpp"
#include "app/tools/tool.hpp"

namespace padchart::app {

struct TraceDesk;

/// The outline in hand; kept while the tool comes and goes.
struct ReshapeDesk {
    std::optional<OutlineRef> chosen;
};

/// Moves, adds and removes vertices, each gesture one step of history. Snaps as the tracing tool does.
/// Requires: the desks outlive the tool.
[[nodiscard]] std::unique_ptr<Tool> make_reshape_tool(ReshapeDesk& desk, const TraceDesk& how);

} // namespace padchart::app
