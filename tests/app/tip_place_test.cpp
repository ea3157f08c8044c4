#include "app/tip_place.hpp"

#include <vector>

#include <doctest/doctest.h>

namespace padchart::app {
namespace {

using geometry::Box;
using geometry::Vec2;

bool overlap(const Box& a, const Box& b) {
    return a.min.x < b.max.x && b.min.x < a.max.x && a.min.y < b.max.y && b.min.y < a.max.y;
}

/// A panel at the right of a window, with rows of three buttons from top to bottom. All px.
struct Panel {
    explicit Panel(Vec2 window, double scale, double space) {
        room.screen = window;
        room.panel = {{window.x - 380 * scale, 56 * scale}, window};
        room.gap = 4 * scale;
        const double wide = 100 * scale, high = 30 * scale;
        for (double y = room.panel.min.y + 8; y + high < window.y; y += high + space * scale)
            for (int i = 0; i < 3; ++i) {
                const Vec2 at{room.panel.min.x + 24 * scale + i * (wide + 10 * scale), y};
                buttons.push_back({at, {at.x + wide, at.y + high}});
            }
    }
    TipRoom room;
    std::vector<Box> buttons;
};

} // namespace

TEST_CASE("a hint covers neither what it explains nor any other button, and lies inside the window") {
    for (const double scale : {1.0, 1.5, 2.0})
        for (const double space : {2.0, 5.0, 60.0})
            for (const Vec2 design : {Vec2{60, 26}, Vec2{240, 26}, Vec2{240, 60}}) {
                const Panel panel({1280, 720}, scale, space);
                const Vec2 size = design * scale;
                for (const Box& item : panel.buttons) {
                    const Vec2 at = tip_place(item, item.min.x, size, panel.room, panel.buttons);
                    const Box tip{at, at + size};
                    CAPTURE(scale);
                    CAPTURE(space);
                    CAPTURE(item.min.y);
                    for (const Box& button : panel.buttons)
                        CHECK_FALSE(overlap(tip, button));
                    CHECK(tip.min.x >= 0);
                    CHECK(tip.min.y >= 0);
                    CHECK(tip.max.x <= panel.room.screen.x);
                    CHECK(tip.max.y <= panel.room.screen.y);
                }
            }
}

TEST_CASE("a hint stands below a row with room below it, and above one at the lower edge") {
    const TipRoom room{{1280, 720}, {{900, 56}, {1280, 720}}, 4};
    const Box high{{920, 100}, {1020, 130}}, low{{920, 680}, {1020, 710}};
    CHECK(tip_place(high, 920, {80, 26}, room, std::vector{high, low}) == Vec2{920, 134});
    CHECK(tip_place(low, 920, {80, 26}, room, std::vector{high, low}) == Vec2{920, 650});
}

TEST_CASE("a hint wider than what is left beside the panel goes to the nearest free space in it") {
    const TipRoom room{{400, 720}, {{0, 0}, {400, 720}}, 4};
    const std::vector<Box> rows{{{20, 100}, {380, 130}}, {{20, 135}, {380, 165}}, {{20, 170}, {380, 200}}};
    CHECK(tip_place(rows[1], 20, {300, 26}, room, rows) == Vec2{20, 70}); // above the first row
    CHECK(tip_place(rows[2], 20, {300, 26}, room, rows) == Vec2{20, 204});
}

TEST_CASE("a hint that cannot help covering a button leaves what it explains free") {
    const TipRoom room{{400, 100}, {{0, 0}, {400, 100}}, 4};
    const std::vector<Box> rows{{{0, 0}, {400, 30}}, {{0, 35}, {400, 65}}, {{0, 70}, {400, 100}}};
    const Vec2 at = tip_place(rows[1], 0, {300, 26}, room, rows);
    CHECK_FALSE(overlap({at, at + Vec2{300, 26}}, rows[1]));
}

} // namespace padchart::app
