#pragma once
// Freezing, the walk and the views of the inspect stage, for the table of actions.

#include <vector>

#include "app/actions.hpp"

namespace padchart::app {

/// Up and Down walk from part to part. True where they did.
bool inspect_key(Session& session, const Chord& chord);
void add_inspect_actions(std::vector<Action>& list);

} // namespace padchart::app
