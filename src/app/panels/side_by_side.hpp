#pragma once
// Two drawings of a part in one box, left and right of a line.

#include <string>
#include <vector>

#include "app/panels/panels.hpp"

namespace padchart::app {

struct Pane {
    const document::Footprint* part = nullptr; ///< null: nothing is drawn
    std::string title;
    std::vector<std::string> lines; ///< below the title, muted; cut where too long
    bool ghost = false;
};

/// Over the whole width. Both panes are as high as the one with more lines needs.
void side_by_side(const Ui& ui, const Pane& left, const Pane& right);
/// The same in a height given, px, without what the panes say.
void drawn_side_by_side(const Ui& ui, const Pane& left, const Pane& right, float height);

} // namespace padchart::app
