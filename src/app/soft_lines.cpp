#include "app/soft_lines.hpp"

#include <algorithm>
#include <utility>

#include "app/line_break.hpp"

namespace padchart::app {

SoftLines::SoftLines(std::string_view text, float room, WidthOf width_of)
    : room_(room), width_of_(std::move(width_of)) {
    show(std::string(text));
}

void SoftLines::show(std::string text) {
    shown_ = broken_at_blanks(text, room_, width_of_);
    is_soft_.assign(text.size(), false);
    for (std::size_t i = 0; i < text.size(); ++i)
        is_soft_[i] = shown_[i] != text[i];
}

std::string SoftLines::text() const {
    std::string text = shown_;
    for (std::size_t i = 0; i < text.size(); ++i)
        if (is_soft_[i]) text[i] = ' ';
    return text;
}

void SoftLines::take(std::string_view typed) {
    const auto [was_end, is_end] = std::mismatch(shown_.begin(), shown_.end(), typed.begin(), typed.end());
    const auto before = static_cast<std::size_t>(was_end - shown_.begin());
    const std::size_t most_after = std::min(shown_.size(), typed.size()) - before;
    std::size_t after = 0;
    while (after < most_after && shown_[shown_.size() - 1 - after] == typed[typed.size() - 1 - after])
        ++after;
    std::string text(typed);
    for (std::size_t i = 0; i < before; ++i)
        if (is_soft_[i]) text[i] = ' ';
    for (std::size_t i = 0; i < after; ++i)
        if (is_soft_[shown_.size() - 1 - i]) text[text.size() - 1 - i] = ' ';
    show(std::move(text));
}

} // namespace padchart::app
