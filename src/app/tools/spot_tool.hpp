#pragma once
// The next click says a place on the board; then the tool has done its work.

#include <functional>
#include <memory>
#include <string>

#include "app/tools/tool.hpp"

namespace padchart::app {

/// `take` gets the place in the board frame.
[[nodiscard]] std::unique_ptr<Tool> make_spot_tool(std::string hint, std::function<void(geometry::Vec2 board)> take);

} // namespace padchart::app
