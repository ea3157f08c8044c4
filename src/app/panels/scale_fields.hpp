#pragma once
// The scale as it is asked for in panels: the way, the fields, and what would follow.

#include "app/scale_desk.hpp"
#include "app/session.hpp"
#include "app/ui.hpp"

namespace padchart::app {

/// For the chart shown. The pointer should be the scale tool's meanwhile.
void scale_fields(Ui& ui, Session& session, ScaleDesk& desk, const document::Chart& chart);
/// What the chart's scale would become and what speaks against it. True where there is something to take.
bool scale_outcome(const Ui& ui, const ScaleDesk& desk, const document::Chart& chart);
void scale_panel(Ui& ui, Session& session);

} // namespace padchart::app
