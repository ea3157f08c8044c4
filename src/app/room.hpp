#pragma once
// Whether the window is low for its scale. Then air is left out, and panels put what a hand needs for every part first.

#include <string>

#include "app/ui.hpp"
#include "app/widgets.hpp"

namespace padchart::app {

[[nodiscard]] bool is_low(const Ui& ui, double height_px);
/// The window of this frame.
[[nodiscard]] inline bool is_low(const Ui& ui) {
    return is_low(ui, static_cast<double>(ImGui::GetIO().DisplaySize.y));
}
/// In a panel of such a window, between the two: smaller margins, lines closer together.
void begin_low(const Ui& ui);
void end_low(const Ui& ui);

/// A heading, and what is said of it: below it, or in a low window beside it where it finds room.
void heading_with(const Ui& ui, const std::string& text, const std::string& remark);
/// The sentence a panel begins with, in a low window without its plate and its reason; these then come with
/// verdict_reason(), after what the hand needs.
void verdict_first(const Ui& ui, Tone tone, const std::string& sentence, const std::string& reason);
void verdict_reason(const Ui& ui, const std::string& reason);

} // namespace padchart::app
