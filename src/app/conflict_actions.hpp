#pragma once
// Settling the conflicts of a merge, for the table of actions.

#include <vector>

#include "app/actions.hpp"

namespace padchart::app {

void add_conflict_actions(std::vector<Action>& list);

} // namespace padchart::app
