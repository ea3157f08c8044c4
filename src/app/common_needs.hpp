#pragma once
// What actions of several groups need.

#include "app/need.hpp"
#include "app/session.hpp"

namespace padchart::app {

inline const Need has_selection{[](const Session& s) { return !s.editor.selection().empty(); }, "select something"};
inline const Need has_parts{[](const Session& s) { return !s.editor.chart().parts.empty(); }, "chart a part"};
inline const Need has_one_part{[](const Session& s) { return s.editor.selected_part() != nullptr; }, "select one part"};
inline const Need has_pads = has_one_part.and_then(
    {[](const Session& s) { return !s.editor.selected_part()->pads.empty(); }, "give the part pads"});

} // namespace padchart::app
