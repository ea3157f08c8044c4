#pragma once
// Where parts may be moved, turned and deleted: in Survey, whose job that is, and where they are seen. Elsewhere a key
// that was meant for something else must not make the chart differ from the board.

#include "app/actions.hpp"

namespace padchart::app {

/// Asks first whether the action may change the layout here, where it would; else leaves it as it is.
[[nodiscard]] Action held_where_it_must_not(Action action);
/// Parts may be moved in this stage.
[[nodiscard]] bool lays_out(scene::Stage stage);

} // namespace padchart::app
