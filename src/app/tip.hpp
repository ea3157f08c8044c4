#pragma once
// What a key or a word more says, at the pointer.

#include <string_view>

#include "app/ui.hpp"

namespace padchart::app {

/// Call it while the item is hovered.
void tip(const Ui& ui, std::string_view text);

} // namespace padchart::app
