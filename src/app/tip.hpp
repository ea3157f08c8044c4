#pragma once
// What a key or a word more says, beside what is pointed at.

#include <string_view>

#include "app/ui.hpp"

namespace padchart::app {

/// Call it while the item is hovered. It covers none of what keep_clear_here() was told of.
void tip(const Ui& ui, std::string_view text);

/// No hint is to lie over the last item: it can be pressed or typed into, or it is what the panel has to say.
void keep_clear_here();

} // namespace padchart::app
