#pragma once
// What is selected but lies on the side that is not looked at: nothing is done to it unseen.

#include <string>
#include <vector>

#include "app/editor.hpp"

namespace padchart::app {

[[nodiscard]] std::vector<document::Id> selected_out_of_view(const Editor& editor, document::Side seen_from);
/// Nothing of what is selected is to be seen. False where nothing is selected.
[[nodiscard]] bool is_all_out_of_view(const Editor& editor, document::Side seen_from);
/// What was changed along with things in view: "U7 on the other side went along."
void tell_went_along(Editor& editor, const std::string& names);

} // namespace padchart::app
