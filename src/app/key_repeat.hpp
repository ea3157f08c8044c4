#pragma once
// Which actions a key that is held down does over and over. Moving, turning, zooming and walking do; whatever says
// something about a part does not: a slow finger must not call three parts good instead of one.

#include <string_view>

namespace padchart::app {

[[nodiscard]] bool may_repeat(std::string_view action_id);

} // namespace padchart::app
