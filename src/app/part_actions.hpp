#pragma once
// What can be done with one part beyond moving it: comparing, patterns, donor, card; part of the one table of
// actions.hpp.

#include <vector>

#include "app/actions.hpp"

namespace padchart::app {

void add_one_part_actions(std::vector<Action>& list);

} // namespace padchart::app
