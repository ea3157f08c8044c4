#pragma once
// The pieces of the heat panel, from the top down.

#include "app/heat_edits.hpp"
#include "app/session.hpp"
#include "app/ui.hpp"

namespace padchart::app {

/// Sliders of the air, the preheater and the dwell.
void heat_sliders(Ui& ui, Session& session);
/// Joints, shields, aim, name: what is set once.
void heat_setup(Ui& ui, Session& session);
/// Bands of the joints and of those near them that matter, who may float.
void heat_bands(Ui& ui, Session& session, const analysis::HeatReport& report);
/// Temperature over time, with the handle that sets the time of the lines on the board.
void heat_curve(Ui& ui, Session& session, const analysis::HeatReport& report);
/// The no-aim map: shown or not, steady or at the end of the dwell, how far it is.
void heat_map(Ui& ui, Session& session);
/// The chart's plans: save, open, compare, delete.
void heat_plans(Ui& ui, Session& session);
void heat_advice_section(Ui& ui, Session& session);
void heat_calibration_section(Ui& ui, Session& session);
/// What else the report says, and what can hurt.
void heat_words(Ui& ui, Session& session, const analysis::HeatReport& report);

} // namespace padchart::app
