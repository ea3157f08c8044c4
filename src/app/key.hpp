#pragma once
// Keys as the program speaks of them, free of any window library, so that actions and tools can be tested without one.

#include <cstdint>
#include <string>

namespace padchart::app {

enum class Key : std::uint8_t {
    None,
    A,
    B,
    C,
    D,
    E,
    F,
    G,
    H,
    I,
    J,
    K,
    L,
    M,
    N,
    O,
    P,
    Q,
    R,
    S,
    T,
    U,
    V,
    W,
    X,
    Y,
    Z,
    Digit0,
    Digit1,
    Digit2,
    Digit3,
    Digit4,
    Digit5,
    Digit6,
    Digit7,
    Digit8,
    Digit9,
    F1,
    F2,
    F3,
    F4,
    F5,
    F6,
    F7,
    F8,
    F9,
    F10,
    F11,
    F12,
    Left,
    Right,
    Up,
    Down,
    Home,
    End,
    PageUp,
    PageDown,
    Insert,
    Delete,
    Enter,
    Escape,
    Tab,
    Backspace,
    Space,
    Plus,
    Minus,
    Comma,
    Period,
    Slash,
    LeftBracket,
    RightBracket,
    Shift,
    Ctrl,
    Alt,
    Count
};

inline constexpr int kKeyCount = static_cast<int>(Key::Count);

/// A key with what is held down beside it.
struct Chord {
    Key key = Key::None;
    bool ctrl = false;
    bool shift = false;
    bool alt = false;

    bool operator==(const Chord&) const = default;
};

[[nodiscard]] constexpr Chord ctrl(Key key) {
    return {key, true, false, false};
}
[[nodiscard]] constexpr Chord shift(Key key) {
    return {key, false, true, false};
}
[[nodiscard]] constexpr Chord ctrl_shift(Key key) {
    return {key, true, true, false};
}

[[nodiscard]] constexpr Chord alt(Key key) {
    return {key, false, false, true};
}
[[nodiscard]] constexpr Chord alt_shift(Key key) {
    return {key, false, true, true};
}

[[nodiscard]] constexpr bool is_modifier(Key key) {
    return key == Key::Shift || key == Key::Ctrl || key == Key::Alt;
}

/// What comes when a name or a number is typed: a letter, a digit, point, comma or slash, also with Shift.
[[nodiscard]] constexpr bool is_typing(const Chord& chord) {
    if (chord.ctrl || chord.alt) return false;
    return (chord.key >= Key::A && chord.key <= Key::Digit9) || chord.key == Key::Period || chord.key == Key::Comma ||
           chord.key == Key::Slash;
}

/// "Ctrl+Shift+S", "F1", "[".
[[nodiscard]] std::string to_text(const Chord& chord);

} // namespace padchart::app
