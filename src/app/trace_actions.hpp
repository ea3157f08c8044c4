#pragma once
// Scale, tracing by hand, proposals, a corrected trace.

#include <vector>

#include "app/actions.hpp"

namespace padchart::app {

void add_trace_actions(std::vector<Action>& list);

} // namespace padchart::app
