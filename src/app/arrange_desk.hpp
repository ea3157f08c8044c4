#pragma once
// What the arranging actions will do: typed into the panel, used by the buttons, the keys and the list of actions
// alike.

#include <optional>

#include "document/arrange.hpp"
#include "document/copies.hpp"

namespace padchart::app {

struct ArrangeDesk {
    document::Extent extent = document::Extent::Body;
    double right_mm = 1.0, down_mm = 0.0; ///< as seen
    int columns = 2, rows = 1;
    double column_step_mm = 2.0, row_step_mm = 2.0; ///< as seen
    int places = 4;
    double step_deg = 90.0;
    double about_x_mm = 0.0, about_y_mm = 0.0; ///< board frame
    bool turns = true;
    document::Axis fold_along = document::Axis::Y;
    std::optional<double> fold_at_mm; ///< nothing: through the middle of what is selected

    bool show_line = true, show_move = false, show_grid = false, show_ring = false, show_fold = false;
};

} // namespace padchart::app
