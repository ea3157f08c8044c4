#pragma once
// The right side of the window: one panel a stage, and those that take its place for a while.

#include "app/layout.hpp"
#include "app/session.hpp"
#include "app/ui.hpp"

namespace padchart::app {

/// A key that no text field wants. True where the panel shown has a meaning for it.
bool panel_key(Session& session, const Chord& chord);
/// Up and Down walk through what needs attention, Enter goes to what a line speaks of.
bool findings_key(Session& session, const Chord& chord);
/// Draws the panel that session.panel and session.stage ask for.
void side_panel(Ui& ui, Session& session, const Layout& layout);

void survey_panel(Ui& ui, Session& session);
void orient_panel(Ui& ui, Session& session);
void heat_panel(Ui& ui, Session& session);
void inspect_panel(Ui& ui, Session& session);
void hand_over_panel(Ui& ui, Session& session);
void add_part_panel(Ui& ui, Session& session);
void findings_panel(Ui& ui, Session& session);
void conflicts_panel(Ui& ui, Session& session);
void donor_panel(Ui& ui, Session& session);
void start_panel(Ui& ui, Session& session);

/// The first family of the list; once more puts it on the board.
void take_first_family(Session& session);

// Pieces of them --------------------------------------------------------------------------------

/// Sorted and filtered; a click selects.
void part_list(Ui& ui, Session& session);
/// All fields of one part.
void part_form(Ui& ui, Session& session, const document::Footprint& part);
/// The families that fit its pads, once asked for.
void refit_section(Ui& ui, Session& session, const document::Footprint& part);
/// Asks for them, for the selected part.
void compare_with_families(Session& session);

/// How a part is drawn in a panel.
struct Drawing {
    Angle turn;         ///< counter-clockwise
    bool ghost = false; ///< dashed and pale: where it could also sit
    bool show_mark = true;
    bool show_numbers = false;
};
/// In the box given in screen px, as large as fits, as it sits on its own side (placement turn included).
void draw_part(const Ui& ui, const document::Footprint& part, const geometry::Box& box_px, const Drawing& how);

} // namespace padchart::app
