#include "app/input_adapter.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <utility>

#include <SFML/Window/Clipboard.hpp>
#include <imgui.h>

#include "app/clipboard.hpp"

namespace padchart::app {
namespace {

using Pair = std::pair<sf::Keyboard::Key, Key>;
constexpr std::array kOtherKeys = {Pair{sf::Keyboard::Left, Key::Left},
                                   Pair{sf::Keyboard::Right, Key::Right},
                                   Pair{sf::Keyboard::Up, Key::Up},
                                   Pair{sf::Keyboard::Down, Key::Down},
                                   Pair{sf::Keyboard::Home, Key::Home},
                                   Pair{sf::Keyboard::End, Key::End},
                                   Pair{sf::Keyboard::PageUp, Key::PageUp},
                                   Pair{sf::Keyboard::PageDown, Key::PageDown},
                                   Pair{sf::Keyboard::Insert, Key::Insert},
                                   Pair{sf::Keyboard::Delete, Key::Delete},
                                   Pair{sf::Keyboard::Enter, Key::Enter},
                                   Pair{sf::Keyboard::Escape, Key::Escape},
                                   Pair{sf::Keyboard::Tab, Key::Tab},
                                   Pair{sf::Keyboard::Backspace, Key::Backspace},
                                   Pair{sf::Keyboard::Space, Key::Space},
                                   Pair{sf::Keyboard::Add, Key::Plus},
                                   Pair{sf::Keyboard::Equal, Key::Plus},
                                   Pair{sf::Keyboard::Subtract, Key::Minus},
                                   Pair{sf::Keyboard::Hyphen, Key::Minus},
                                   Pair{sf::Keyboard::Comma, Key::Comma},
                                   Pair{sf::Keyboard::Period, Key::Period},
                                   Pair{sf::Keyboard::Slash, Key::Slash},
                                   Pair{sf::Keyboard::Divide, Key::Slash},
                                   Pair{sf::Keyboard::LBracket, Key::LeftBracket},
                                   Pair{sf::Keyboard::RBracket, Key::RightBracket},
                                   Pair{sf::Keyboard::LShift, Key::Shift},
                                   Pair{sf::Keyboard::RShift, Key::Shift},
                                   Pair{sf::Keyboard::LControl, Key::Ctrl},
                                   Pair{sf::Keyboard::RControl, Key::Ctrl},
                                   Pair{sf::Keyboard::LAlt, Key::Alt},
                                   Pair{sf::Keyboard::RAlt, Key::Alt}};

Key offset(Key first, int by) {
    return static_cast<Key>(static_cast<int>(first) + by);
}

Key key_of(sf::Keyboard::Key code) {
    if (code >= sf::Keyboard::A && code <= sf::Keyboard::Z) return offset(Key::A, code - sf::Keyboard::A);
    if (code >= sf::Keyboard::Num0 && code <= sf::Keyboard::Num9) return offset(Key::Digit0, code - sf::Keyboard::Num0);
    if (code >= sf::Keyboard::Numpad0 && code <= sf::Keyboard::Numpad9)
        return offset(Key::Digit0, code - sf::Keyboard::Numpad0);
    if (code >= sf::Keyboard::F1 && code <= sf::Keyboard::F12) return offset(Key::F1, code - sf::Keyboard::F1);
    const auto* pair =
        std::find_if(kOtherKeys.begin(), kOtherKeys.end(), [&](const Pair& p) { return p.first == code; });
    return pair == kOtherKeys.end() ? Key::None : pair->second;
}

std::optional<MouseButton> button_of(sf::Mouse::Button button) {
    if (button == sf::Mouse::Left) return MouseButton::Left;
    if (button == sf::Mouse::Middle) return MouseButton::Middle;
    if (button == sf::Mouse::Right) return MouseButton::Right;
    return std::nullopt;
}

geometry::Vec2 point(int x, int y) {
    return {static_cast<double>(x), static_cast<double>(y)};
}

void set_clipboard(void*, const char* text) {
    const std::string bytes(text);
    sf::Clipboard::setString(sf::String::fromUtf8(bytes.begin(), bytes.end()));
}

const char* get_clipboard(void*) {
    static std::string held; // the panels keep the pointer until the next call
    const auto utf8 = sf::Clipboard::getString().toUtf8();
    held.assign(utf8.begin(), utf8.end());
    return held.c_str();
}

int index(Key key) {
    return static_cast<int>(key);
}

} // namespace

InputEvent InputAdapter::key_event(const sf::Event::KeyEvent& key, bool down) {
    InputEvent event;
    event.kind = InputEvent::Kind::KeyChange;
    event.key = key_of(key.code);
    event.down = down;
    event.repeated = down && !held_.insert(event.key).second;
    if (!down) held_.erase(event.key);
    if (event.key == Key::Ctrl) ctrl_ = down;
    if (event.key == Key::Shift) shift_ = down;
    if (event.key == Key::Alt) alt_ = down;
    event.ctrl = ctrl_ = is_modifier(event.key) ? ctrl_ : key.control;
    event.shift = shift_ = is_modifier(event.key) ? shift_ : key.shift;
    event.alt = alt_ = is_modifier(event.key) ? alt_ : key.alt;
    return event;
}

std::optional<InputEvent> InputAdapter::translate(const sf::Event& event) {
    InputEvent made;
    made.ctrl = ctrl_;
    made.shift = shift_;
    made.alt = alt_;
    switch (event.type) {
    case sf::Event::MouseMoved: made.at_px = point(event.mouseMove.x, event.mouseMove.y); return made;
    case sf::Event::MouseButtonPressed:
    case sf::Event::MouseButtonReleased: {
        const auto button = button_of(event.mouseButton.button);
        if (!button) return std::nullopt;
        made.kind = InputEvent::Kind::Button;
        made.button = *button;
        made.down = event.type == sf::Event::MouseButtonPressed;
        made.at_px = point(event.mouseButton.x, event.mouseButton.y);
        return made;
    }
    case sf::Event::MouseWheelScrolled:
        if (event.mouseWheelScroll.wheel != sf::Mouse::VerticalWheel) return std::nullopt;
        made.kind = InputEvent::Kind::Wheel;
        made.wheel = static_cast<double>(event.mouseWheelScroll.delta);
        made.at_px = point(event.mouseWheelScroll.x, event.mouseWheelScroll.y);
        return made;
    case sf::Event::KeyPressed: made = key_event(event.key, true); break;
    case sf::Event::KeyReleased: made = key_event(event.key, false); break;
    case sf::Event::TextEntered:
        made.kind = InputEvent::Kind::Text;
        made.letter = event.text.unicode;
        return made;
    case sf::Event::MouseLeft: made.kind = InputEvent::Kind::Left; return made;
    case sf::Event::LostFocus:
        ctrl_ = shift_ = alt_ = false;
        held_.clear();
        made = {};
        made.kind = InputEvent::Kind::LostFocus;
        return made;
    default: return std::nullopt;
    }
    return made.key == Key::None ? std::nullopt : std::optional(made);
}

void connect_clipboard(Clipboard& clipboard) {
    clipboard.write = [](const std::string& text) { set_clipboard(nullptr, text.c_str()); };
    clipboard.read = [] { return std::string(get_clipboard(nullptr)); };
}

void connect_panels_input() {
    ImGuiIO& io = ImGui::GetIO();
    const std::array map = {std::pair{ImGuiKey_Tab, Key::Tab},
                            std::pair{ImGuiKey_LeftArrow, Key::Left},
                            std::pair{ImGuiKey_RightArrow, Key::Right},
                            std::pair{ImGuiKey_UpArrow, Key::Up},
                            std::pair{ImGuiKey_DownArrow, Key::Down},
                            std::pair{ImGuiKey_PageUp, Key::PageUp},
                            std::pair{ImGuiKey_PageDown, Key::PageDown},
                            std::pair{ImGuiKey_Home, Key::Home},
                            std::pair{ImGuiKey_End, Key::End},
                            std::pair{ImGuiKey_Insert, Key::Insert},
                            std::pair{ImGuiKey_Delete, Key::Delete},
                            std::pair{ImGuiKey_Backspace, Key::Backspace},
                            std::pair{ImGuiKey_Space, Key::Space},
                            std::pair{ImGuiKey_Enter, Key::Enter},
                            std::pair{ImGuiKey_Escape, Key::Escape},
                            std::pair{ImGuiKey_A, Key::A},
                            std::pair{ImGuiKey_C, Key::C},
                            std::pair{ImGuiKey_V, Key::V},
                            std::pair{ImGuiKey_X, Key::X},
                            std::pair{ImGuiKey_Y, Key::Y},
                            std::pair{ImGuiKey_Z, Key::Z}};
    for (const auto& [panel_key, key] : map)
        io.KeyMap[panel_key] = index(key);
    io.SetClipboardTextFn = set_clipboard;
    io.GetClipboardTextFn = get_clipboard;
    io.BackendPlatformName = "padchart";
}

void feed_panels(const InputEvent& event) {
    ImGuiIO& io = ImGui::GetIO();
    switch (event.kind) {
    case InputEvent::Kind::Move:
    case InputEvent::Kind::Wheel:
    case InputEvent::Kind::Button:
        io.MousePos = {static_cast<float>(event.at_px.x), static_cast<float>(event.at_px.y)};
        if (event.kind == InputEvent::Kind::Wheel) io.MouseWheel += static_cast<float>(event.wheel);
        if (event.kind == InputEvent::Kind::Button) {
            // The panels count left, right, middle.
            constexpr std::array kPanelButton = {0, 2, 1};
            io.MouseDown[kPanelButton[static_cast<std::size_t>(event.button)]] = event.down;
        }
        break;
    case InputEvent::Kind::KeyChange:
        io.KeysDown[index(event.key)] = event.down;
        io.KeyCtrl = event.ctrl;
        io.KeyShift = event.shift;
        io.KeyAlt = event.alt;
        break;
    case InputEvent::Kind::Text: io.AddInputCharacter(static_cast<unsigned>(event.letter)); break;
    case InputEvent::Kind::Left: io.MousePos = {-1e6F, -1e6F}; break;
    case InputEvent::Kind::LostFocus:
        std::fill(std::begin(io.KeysDown), std::end(io.KeysDown), false);
        std::fill(std::begin(io.MouseDown), std::end(io.MouseDown), false);
        io.KeyCtrl = io.KeyShift = io.KeyAlt = false;
        break;
    }
}

} // namespace padchart::app
