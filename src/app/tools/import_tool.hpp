#pragma once

#include <memory>

#include "app/tools/tool.hpp"

namespace padchart::app {

class ImportDesk;

/// Points at shapes of the trace being brought in. Requires: the desk outlives the tool.
[[nodiscard]] std::unique_ptr<Tool> make_import_tool(ImportDesk& desk);

} // namespace padchart::app
