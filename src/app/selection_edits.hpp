#pragma once
// What is done to all that is selected at once, each one step of history. Lengths in mm and directions as seen on the
// screen: to the right is to the right, whichever side is looked at. Locked parts stay, and the user is told so.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "app/clipboard.hpp"
#include "app/editor.hpp"
#include "document/arrange.hpp"
#include "document/copies.hpp"

namespace padchart::app {

/// What a hand sees of a turn: "15 degrees counter-clockwise", "77 degrees clockwise".
[[nodiscard]] std::string turn_for_hand(double counter_clockwise_deg);

/// The selected parts that may move. Where none may, the user is told why.
[[nodiscard]] std::vector<document::Id> movable_selection(Editor& editor,
                                                          std::string_view unlock_to = "change the place");
/// True where something is selected and nothing of it can be moved.
[[nodiscard]] bool is_all_locked(const Editor& editor);
/// Tells which of the selected ones are locked and stayed, if any.
void tell_who_stayed(Editor& editor);

/// Tells which of those that were moved from their places in `before` lie on another part or off the board by that.
void tell_where_moved(Editor& editor, const document::Chart& before, std::span<const document::Id> moved);

/// The same after a small step that may be one of many in a row, which are one step of history: told when it comes
/// about, and standing for as long as it is so. `stood` is the notice from before the step: what was waved away is not
/// told again.
void tell_where_nudged(Editor& editor, const document::Chart& before, const std::optional<Notice>& stood,
                       std::span<const document::Id> moved);

void align_selected(Editor& editor, document::Line seen, document::Extent extent, document::Side seen_from);
void spread_selected(Editor& editor, document::Axis axis, document::Spread what, document::Extent extent);
void move_selected(Editor& editor, geometry::Vec2 seen_by_mm, document::Side seen_from);
void fold_selected(Editor& editor, document::FoldLine line);
/// The line through the middle of what is selected.
[[nodiscard]] std::optional<document::FoldLine> fold_line_through(const Editor& editor, document::Axis along);

// The copies are selected afterwards.
void duplicate_selected(Editor& editor, geometry::Vec2 seen_by_mm, document::Side seen_from);
void copy_selected_to_grid(Editor& editor, const document::GridArray& grid);
void copy_selected_to_ring(Editor& editor, const document::RingArray& ring);

/// All of them, or none where all are locked already.
void lock_or_unlock_selected(Editor& editor);

/// Onto the clipboard; readings stay behind (document/fragment.hpp). False where nothing is selected or it would be too
/// much for a clipboard.
bool copy_selected(Editor& editor, Clipboard& clipboard);
/// What may go; the step tells what went along with it, and so does a notice: "Delete U4 and its heat plan".
bool remove_selected_as(Editor& editor, const std::string& verb);
void cut_selected(Editor& editor, Clipboard& clipboard);
/// What lies on the clipboard; where that is nothing of a chart, the user is told what it is. Empty then.
[[nodiscard]] document::Fragment things_on(const Clipboard& clipboard, Editor& editor);
/// Adds them at the places they have and selects them.
bool paste(Editor& editor, const document::Fragment& things);

} // namespace padchart::app
