#pragma once

#include <memory>

#include "app/tools/tool.hpp"

namespace padchart::app {

class ImportDesk;

/// Points at shapes of the trace being brought in. Requires: the desk outlives the tool.
[[nodiscard]] std::unique_ptr<Tool> make_import_tool(ImportDesk& desk);

/// Dashed what nothing is known of, bold what is chosen and what a corrected trace draws differently: drawn while the
/// import panel is open, whatever tool is in hand.
void add_found_shapes(const ImportDesk& desk, const ToolContext& context, scene::Scene& out);

} // namespace padchart::app
