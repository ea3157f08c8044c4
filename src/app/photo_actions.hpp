#pragma once
// What can be done with photos; part of the one table of actions.hpp.

#include <vector>

#include "app/actions.hpp"

namespace padchart::app {

void add_photo_actions(std::vector<Action>& list);

} // namespace padchart::app
