#pragma once
// A value that was refused is told until a right one is given.

#include <string>
#include <string_view>

#include "app/editor.hpp"

namespace padchart::app {

/// What number_field says of a value that it does not take.
[[nodiscard]] inline std::string words_of_refusal(std::string_view why, std::string_view field, std::string_view now) {
    return std::string(why) + " " + std::string(field) + " stays " + std::string(now) + ".";
}

/// The field has taken a value: what was told of the one before no longer holds.
inline void put_right(Editor& editor, std::string_view field) {
    const std::string stays = " " + std::string(field.substr(0, field.find("##"))) + " stays ";
    if (editor.notice() && editor.notice()->text.find(stays) != std::string::npos) editor.clear_notice();
}

} // namespace padchart::app
