#pragma once
// What the arranging actions will do: typed into the panel, used by the buttons, the keys and the list of actions
// alike.

#include <optional>
#include <vector>

#include "app/editor.hpp"
#include "document/arrange.hpp"
#include "document/copies.hpp"

namespace padchart::app {

/// The numbers an action works with.
enum class ArrangeForm { None, Move, Grid, Ring, Fold };

struct ArrangeDesk {
    document::Extent extent = document::Extent::Body;
    double right_mm = 1.0, down_mm = 0.0; ///< as seen
    int columns = 2, rows = 1;
    double column_step_mm = 2.0, row_step_mm = 2.0; ///< as seen
    int places = 4;
    double step_deg = 90.0;
    std::optional<double> about_x_mm, about_y_mm; ///< board frame; nothing: as ring_middle says
    bool turns = true;
    document::Axis fold_along = document::Axis::Y;
    std::optional<double> fold_at_mm; ///< nothing: through the middle of what is selected

    bool show_line = true, show_move = false, show_grid = false, show_ring = false, show_fold = false;

    bool is_refused = false;                 ///< what was typed last: nothing is done with the numbers that stay
    ArrangeForm pressed = ArrangeForm::None; ///< its button was pressed: the numbers were in sight
    ArrangeForm asked = ArrangeForm::None;   ///< its numbers have been shown for these things; once more does it
    std::vector<document::Id> asked_of;
    ArrangeForm wants_focus = ArrangeForm::None; ///< its first field should take the next letter
    ArrangeForm wants_view = ArrangeForm::None;  ///< and be scrolled to, now that it is folded out
};

/// What the ring will turn about: as typed, else where the copies find room (app/copy_places.hpp).
[[nodiscard]] geometry::Vec2 ring_about(const Editor& editor, const ArrangeDesk& desk);

} // namespace padchart::app
