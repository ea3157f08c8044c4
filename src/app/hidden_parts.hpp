#pragma once
// Parts hidden from view are not selected: they would be changed unseen.

#include <algorithm>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "app/layers_desk.hpp"
#include "app/session.hpp"

namespace padchart::app {

/// Leaves them out of the selection; what is to be said of it, or nothing.
inline std::string leave_out_hidden(Session& s) {
    const LayersDesk* layers = s.desks.find<LayersDesk>();
    if (layers == nullptr || layers->parts().empty()) return {};
    std::vector<document::Id> ids = s.editor.selection();
    const auto hidden = std::erase_if(ids, [&](const document::Id& id) {
        return std::find(layers->parts().begin(), layers->parts().end(), id) != layers->parts().end();
    });
    if (hidden == 0) return {};
    s.editor.select(std::move(ids));
    return fmt::format("{} hidden {} not selected.", hidden, hidden == 1 ? "part is" : "parts are");
}

/// Requires: the notice speaks of the step that has selected something.
inline void show_what_is_seen(Session& s) {
    const std::string words = leave_out_hidden(s);
    if (!words.empty() && s.editor.notice()) s.editor.tell(Severity::Note, s.editor.notice()->text + ". " + words);
}

/// Undo, redo and the list of steps, which select what they have changed.
inline bool undo_shown(Session& s) {
    const bool undone = s.editor.undo();
    if (undone) show_what_is_seen(s);
    return undone;
}
inline void redo_shown(Session& s) {
    if (s.editor.redo()) show_what_is_seen(s);
}
inline void go_to_step_shown(Session& s, std::size_t step) {
    if (step == s.editor.history().position()) return;
    s.editor.go_to_step(step);
    show_what_is_seen(s);
}

} // namespace padchart::app
