#include <random>

#include "support.hpp"

#include "app/input_queue.hpp"

namespace padchart::app {
namespace {

using Kind = InputEvent::Kind;

InputEvent key(Key which, bool down, bool with_ctrl = false) {
    return {
        .kind = Kind::KeyChange, .at_px = {}, .button = {}, .down = down, .wheel = 0, .key = which, .ctrl = with_ctrl};
}
InputEvent letter(char32_t which, bool with_ctrl = false) {
    InputEvent event;
    event.kind = Kind::Text;
    event.letter = which;
    event.ctrl = with_ctrl;
    return event;
}
InputEvent move(double x) {
    InputEvent event;
    event.at_px = {x, 0};
    return event;
}
InputEvent button(bool down) {
    InputEvent event;
    event.kind = Kind::Button;
    event.down = down;
    return event;
}

TEST_CASE("a key that is pressed and let go takes two frames") {
    InputQueue queue;
    queue.push(key(Key::A, true));
    queue.push(key(Key::A, false));
    CHECK(queue.next_frame().size() == 1);
    CHECK(queue.next_frame().size() == 1);
    CHECK(queue.empty());
}

TEST_CASE("a click takes two frames and its move comes before it") {
    InputQueue queue;
    queue.push(move(5));
    queue.push(button(true));
    queue.push(button(false));
    const auto first = queue.next_frame();
    REQUIRE(first.size() == 2);
    CHECK(first[0].kind == Kind::Move);
    CHECK(first[1].down);
    CHECK_FALSE(queue.next_frame().front().down);
}

TEST_CASE("a move after a button waits so that the button is not taken elsewhere") {
    InputQueue queue;
    queue.push(button(true));
    queue.push(move(9));
    CHECK(queue.next_frame().size() == 1);
    CHECK(queue.next_frame().front().at_px.x == 9);
}

TEST_CASE("a second key waits since the first may open the field it is meant for") {
    InputQueue queue;
    queue.push(key(Key::Slash, true));
    queue.push(letter('/'));
    queue.push(key(Key::F, true));
    queue.push(letter('f'));
    CHECK(queue.next_frame().size() == 2);
    CHECK(queue.next_frame().front().key == Key::F);
}

TEST_CASE("letting go of Ctrl before A keeps Ctrl and A together") {
    InputQueue queue;
    queue.push(key(Key::Ctrl, true, true));
    queue.push(key(Key::A, true, true));
    queue.push(key(Key::Ctrl, false));
    queue.push(key(Key::A, false));
    const auto first = queue.next_frame();
    REQUIRE(first.size() == 2);
    CHECK(first[1].ctrl);
    CHECK(queue.next_frame().front().key == Key::Ctrl);
}

TEST_CASE("text before and after Backspace stays in its order") {
    InputQueue queue;
    queue.push(letter('x'));
    queue.push(key(Key::Backspace, true));
    queue.push(letter('y'));
    CHECK(queue.next_frame().front().letter == 'x');
    CHECK(queue.next_frame().front().key == Key::Backspace);
    CHECK(queue.next_frame().front().letter == 'y');
}

TEST_CASE("control codes and letters with Ctrl are no text") {
    InputQueue queue;
    for (const char32_t code : {1U, 8U, 13U, 27U, 127U})
        queue.push(letter(code));
    queue.push(letter('a', true));
    CHECK(queue.empty());
    queue.push(letter(U'µ'));
    CHECK(queue.next_frame().front().letter == U'µ');
}

TEST_CASE("of several moves in a row only the last is kept") {
    InputQueue queue;
    for (int x = 0; x < 50; ++x)
        queue.push(move(x));
    const auto first = queue.next_frame();
    REQUIRE(first.size() == 1);
    CHECK(first[0].at_px.x == 49);
}

TEST_CASE("no event but a move is lost or overtaken whatever comes") {
    std::mt19937 random(7);
    for (int round = 0; round < 200; ++round) {
        InputQueue queue;
        std::vector<InputEvent> sent;
        for (int i = 0; i < 40; ++i) {
            const bool down = random() % 2 == 0;
            InputEvent event;
            switch (random() % 4) {
            case 0: event = key(static_cast<Key>(random() % static_cast<unsigned>(kKeyCount)), down); break;
            case 1: event = letter(static_cast<char32_t>('a' + random() % 26)); break;
            case 2: event = button(down); break;
            default:
                event.kind = Kind::Wheel;
                event.wheel = 1;
                break;
            }
            event.at_px.x = i; // a number to know it by
            sent.push_back(event);
            queue.push(event);
        }
        std::vector<InputEvent> got;
        while (!queue.empty()) {
            const auto frame = queue.next_frame();
            REQUIRE(!frame.empty()); // or the window would hang
            got.insert(got.end(), frame.begin(), frame.end());
        }
        REQUIRE(got.size() == sent.size());
        for (std::size_t i = 0; i < got.size(); ++i)
            CHECK(got[i].at_px.x == sent[i].at_px.x);
    }
}

} // namespace
} // namespace padchart::app
