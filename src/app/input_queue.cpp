#include "app/input_queue.hpp"

#include <algorithm>
#include <set>

namespace padchart::app {
namespace {

/// What a frame has taken so far, and whether one event more would blur it.
class FrameContent {
public:
    [[nodiscard]] bool conflicts(const InputEvent& event) const {
        switch (event.kind) {
        case InputEvent::Kind::Move:
        case InputEvent::Kind::Left: return button_changed_;
        case InputEvent::Kind::Button: return button_changed_ || wheel_;
        case InputEvent::Kind::Wheel: return button_changed_;
        case InputEvent::Kind::KeyChange: return key_conflicts(event);
        case InputEvent::Kind::Text: return editing_key_;
        case InputEvent::Kind::LostFocus: return false;
        }
        return false;
    }

    void take(const InputEvent& event) {
        if (event.kind == InputEvent::Kind::Button) button_changed_ = true;
        if (event.kind == InputEvent::Kind::Wheel) wheel_ = true;
        if (event.kind == InputEvent::Kind::Text) text_ = true;
        if (event.kind != InputEvent::Kind::KeyChange) return;
        keys_.insert(event.key);
        if (!is_modifier(event.key)) plain_key_ = true;
        if (edits(event)) editing_key_ = true;
    }

private:
    // Backspace after text, or text after Backspace: a text field would see them in its own order.
    [[nodiscard]] static bool edits(const InputEvent& event) {
        return event.down && !is_modifier(event.key) &&
               (event.ctrl || (event.key >= Key::Left && event.key <= Key::Backspace));
    }
    [[nodiscard]] bool key_conflicts(const InputEvent& event) const {
        if (keys_.contains(event.key)) return true;
        // One key a frame: it may open a field that the next one is meant for.
        if (event.down && plain_key_ && !is_modifier(event.key)) return true;
        if (is_modifier(event.key) && plain_key_) return true; // Ctrl let go before A: Ctrl+A would be lost
        return edits(event) && text_;
    }

    std::set<Key> keys_;
    bool button_changed_ = false, wheel_ = false, text_ = false, plain_key_ = false, editing_key_ = false;
};

} // namespace

void InputQueue::push(const InputEvent& event) {
    if (event.kind == InputEvent::Kind::Text && (event.letter < 32 || event.letter == 127 || event.ctrl)) return;
    // Only the last of several moves in a row matters; a slow frame would otherwise trail behind the hand.
    if (event.kind == InputEvent::Kind::Move && !waiting_.empty() && waiting_.back().kind == InputEvent::Kind::Move)
        waiting_.pop_back();
    waiting_.push_back(event);
}

std::vector<InputEvent> InputQueue::next_frame() {
    std::vector<InputEvent> taken;
    FrameContent content;
    while (!waiting_.empty() && !content.conflicts(waiting_.front())) {
        content.take(waiting_.front());
        taken.push_back(waiting_.front());
        waiting_.pop_front();
    }
    return taken;
}

} // namespace padchart::app
