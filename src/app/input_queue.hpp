#pragma once
// Window events wait here until a frame can take them without losing one. An immediate-mode panel sees only the state
// of a frame: a key pressed and let go within one frame, or a letter typed after Backspace, would be lost or swapped.
// So each frame takes events up to the first that conflicts with those it has, and the rest waits for the next frame.

#include <deque>
#include <vector>

#include "app/key.hpp"
#include "geometry/vec2.hpp"

namespace padchart::app {

enum class MouseButton : std::uint8_t { Left, Middle, Right };

struct InputEvent {
    enum class Kind : std::uint8_t { Move, Button, Wheel, KeyChange, Text, LostFocus, Left };
    Kind kind = Kind::Move;
    geometry::Vec2 at_px; ///< of Move, Button, Wheel
    MouseButton button = MouseButton::Left;
    bool down = false;  ///< of Button, KeyChange
    double wheel = 0.0; ///< notches, away from the user is positive
    Key key = Key::None;
    bool ctrl = false; ///< held while the key changed
    bool shift = false;
    bool alt = false;
    char32_t letter = 0;
    bool repeated = false; ///< of KeyChange: the key was down already, and is held
};

class InputQueue {
public:
    /// Drops what is no text: control codes, and letters with Ctrl held.
    void push(const InputEvent& event);
    /// Taken too early: comes first again.
    void put_back(const InputEvent& event) { waiting_.push_front(event); }
    [[nodiscard]] bool empty() const { return waiting_.empty(); }
    /// What the next frame may take, in order.
    [[nodiscard]] std::vector<InputEvent> next_frame();

private:
    std::deque<InputEvent> waiting_;
};

} // namespace padchart::app
