#pragma once

#include <memory>

#include "app/tools/tool.hpp"

namespace padchart::app {

class ScaleDesk;

/// Requires: the desk outlives the tool.
[[nodiscard]] std::unique_ptr<Tool> make_scale_tool(ScaleDesk& desk);

} // namespace padchart::app
