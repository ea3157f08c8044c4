#include "app/key.hpp"

#include <array>
#include <string_view>

namespace padchart::app {
namespace {

std::string name_of(Key key) {
    const int k = static_cast<int>(key);
    if (key >= Key::A && key <= Key::Z) return {static_cast<char>('A' + k - static_cast<int>(Key::A))};
    if (key >= Key::Digit0 && key <= Key::Digit9) return {static_cast<char>('0' + k - static_cast<int>(Key::Digit0))};
    if (key >= Key::F1 && key <= Key::F12) return "F" + std::to_string(k - static_cast<int>(Key::F1) + 1);
    constexpr std::array<std::string_view, 25> kNames = {
        "Left",   "Right", "Up",  "Down", "Home",      "End",   "Page up", "Page down", "Insert",
        "Delete", "Enter", "Esc", "Tab",  "Backspace", "Space", "+",       "-",         ",",
        ".",      "/",     "[",   "]",    "Shift",     "Ctrl",  "Alt"};
    if (key >= Key::Left && key <= Key::Alt)
        return std::string(kNames[static_cast<std::size_t>(k - static_cast<int>(Key::Left))]);
    return "";
}

} // namespace

std::string to_text(const Chord& chord) {
    std::string text;
    if (chord.ctrl) text += "Ctrl+";
    if (chord.alt) text += "Alt+";
    if (chord.shift) text += "Shift+";
    return text + name_of(chord.key);
}

} // namespace padchart::app
