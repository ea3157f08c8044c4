#pragma once
// What the keyboard can do in the heat stage; part of the one table of actions.hpp.

#include <vector>

#include "app/actions.hpp"

namespace padchart::app {

void add_heat_actions(std::vector<Action>& list);

} // namespace padchart::app
