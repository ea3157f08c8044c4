#pragma once
// Everything the access stage can do, for the one table of actions.

#include <vector>

#include "app/actions.hpp"

namespace padchart::app {

void add_access_actions(std::vector<Action>& list);

} // namespace padchart::app
