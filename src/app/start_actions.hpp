#pragma once
// Beginning, and coming back to what was begun.

#include <vector>

#include "app/actions.hpp"

namespace padchart::app {

void add_start_actions(std::vector<Action>& list);

} // namespace padchart::app
