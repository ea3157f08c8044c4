#pragma once
// Actions that arrange, copy, lock and hide parts, measure, and show what was done.

#include <vector>

#include "app/actions.hpp"

namespace padchart::app {

void add_edit_actions(std::vector<Action>& list);

} // namespace padchart::app
