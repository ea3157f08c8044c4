#pragma once
// One thing more to be told of what has just been done, without losing what was told of it already.

#include <algorithm>
#include <string>
#include <utility>

#include "app/editor.hpp"

namespace padchart::app {

/// Requires: the last step or gesture is what any notice now standing speaks of.
inline void tell_more(Editor& editor, Severity severity, std::string text) {
    if (text.empty()) return;
    if (const std::optional<Notice>& told = editor.notice()) {
        severity = std::max(severity, told->severity);
        text = told->text + " " + text;
    }
    editor.tell(severity, std::move(text));
}

} // namespace padchart::app
