#pragma once
// Things on the board that are no parts, as the hand picks them: notes, readings, keep-outs, shields.

#include <optional>

#include "app/editor.hpp"
#include "app/tools/tool.hpp"

namespace padchart::app {

/// The one selected note, reading, keep-out or shield; nothing when a part is selected, or several things are.
[[nodiscard]] std::optional<document::Id> selected_thing(const Editor& editor);
/// What part_at finds, also a note, a reading, a keep-out or a shield that is drawn on this side; else an empty id.
[[nodiscard]] document::Id thing_at(const ToolContext& context, const Pointer& pointer);

} // namespace padchart::app
