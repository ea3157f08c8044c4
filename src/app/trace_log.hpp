#pragma once
// One line for each accepted edit and click in the file that the environment variable PADCHART_TRACE names; nothing
// without it. For tests that drive the real window.

#include <string_view>

namespace padchart::app {

void trace(std::string_view what, std::string_view detail);

} // namespace padchart::app
