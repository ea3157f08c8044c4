#pragma once
// Between the window library and the panels: SFML events become InputEvents, InputEvents are fed to the panels' state.

#include <optional>
#include <set>

#include <SFML/Window/Event.hpp>

#include "app/input_queue.hpp"

namespace padchart::app {

/// Keeps what is held, which SFML does not tell with every event.
class InputAdapter {
public:
    /// Nothing for events that are no input (resize, close ...).
    [[nodiscard]] std::optional<InputEvent> translate(const sf::Event& event);

private:
    [[nodiscard]] InputEvent key_event(const sf::Event::KeyEvent& key, bool down);

    bool ctrl_ = false, shift_ = false, alt_ = false;
    std::set<Key> held_;
};

struct Clipboard;
/// The system's one. Requires: a display.
void connect_clipboard(Clipboard& clipboard);

/// Sets up the panels' key map and clipboard. Requires: a panel context exists.
void connect_panels_input();

/// Hands one event to the panels. Requires: a panel context exists.
void feed_panels(const InputEvent& event);

} // namespace padchart::app
