#pragma once
// Freezing, the walk and the views of the inspect stage, for the table of actions.

#include <vector>

#include "app/actions.hpp"

namespace padchart::app {

void add_inspect_actions(std::vector<Action>& list);

} // namespace padchart::app
