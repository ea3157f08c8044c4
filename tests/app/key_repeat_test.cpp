#include "app/key_repeat.hpp"

#include <SFML/Window/Event.hpp>

#include "app/actions.hpp"
#include "app/input_adapter.hpp"
#include "support.hpp"

namespace padchart::app {
namespace {

sf::Event key_of_hardware(sf::Event::EventType type, sf::Keyboard::Key code) {
    sf::Event event{};
    event.type = type;
    event.key.code = code;
    return event;
}

} // namespace

TEST_CASE("a key that is held down is told from one that is pressed again") {
    InputAdapter adapter;
    const sf::Event down = key_of_hardware(sf::Event::KeyPressed, sf::Keyboard::S);
    const sf::Event up = key_of_hardware(sf::Event::KeyReleased, sf::Keyboard::S);
    CHECK_FALSE(adapter.translate(down)->repeated);
    CHECK(adapter.translate(down)->repeated);
    CHECK_FALSE(adapter.translate(key_of_hardware(sf::Event::KeyPressed, sf::Keyboard::D))->repeated);
    CHECK_FALSE(adapter.translate(up)->repeated);
    CHECK_FALSE(adapter.translate(down)->repeated);
    sf::Event lost{};
    lost.type = sf::Event::LostFocus;
    CHECK(adapter.translate(lost)); // what was held is let go unseen
    CHECK_FALSE(adapter.translate(down)->repeated);
}

TEST_CASE("a held key moves and walks but says nothing about a part over and over") {
    for (const char* id : {"left", "down-stride", "turn-left", "zoom-in", "undo", "redo", "next-step", "part-after",
                           "aim-up", "heat-later", "heat-earlier"}) {
        CHECK_MESSAGE(find_action(id) != nullptr, id);
        CHECK_MESSAGE(may_repeat(id), id);
    }
    for (const char* id : {"same", "differs", "good-next", "record-mark", "present", "missing", "delete", "paste",
                           "duplicate", "freeze", "quit", "flip-side", "theme"}) {
        CHECK_MESSAGE(find_action(id) != nullptr, id);
        CHECK_MESSAGE(!may_repeat(id), id);
    }
}

} // namespace padchart::app
