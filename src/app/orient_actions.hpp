#pragma once
// What can be done in the orient stage; part of the one table of actions.hpp.

#include <vector>

#include "app/actions.hpp"

namespace padchart::app {

void add_orient_actions(std::vector<Action>& list);

} // namespace padchart::app
