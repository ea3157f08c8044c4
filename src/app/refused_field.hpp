#pragma once
// A typed value that is not taken keeps the pen and its text, marked, until it is put right or Esc takes the value of
// before: what is typed next is meant for the field, never for the board. One field has the pen at a time.

#include <string>

#include "app/ui.hpp"

namespace padchart::app {

/// Called by whoever does not take what a field hands over just now.
void keep_pen();
/// That happened in this frame: Enter did no more than that.
[[nodiscard]] bool has_kept_pen();

/// The text that stands in the field though it was refused; null: none.
[[nodiscard]] const std::string* refused_text(ImGuiID field);

/// Round the drawing of a field that may have been refused.
class RefusedMark {
public:
    /// `text`: as it stands in the field now.
    RefusedMark(const Ui& ui, ImGuiID field, const std::string& text);
    ~RefusedMark();
    RefusedMark(const RefusedMark&) = delete;
    RefusedMark& operator=(const RefusedMark&) = delete;

private:
    bool is_marked_;
};

/// Right after a field that the pen has just left: hands over its draft, and calls the pen back where that is refused.
/// `value`: what it showed before; Esc hands over that. A click on the board, and a second one in the panel, leave all
/// the same.
void leave_field(Ui& ui, ImGuiID field, const std::string& value);

} // namespace padchart::app
