#pragma once
// What can be done in the survey stage; part of the one table of actions.hpp.

#include <vector>

#include "app/actions.hpp"

namespace padchart::app {

void add_survey_actions(std::vector<Action>& list);

} // namespace padchart::app
