// A thousand hands at random: whatever was done, undo leads back to the start and redo to the end, step by step.

#include "support.hpp"

#include <array>
#include <random>

#include "app/selection_edits.hpp"

namespace padchart::app {
namespace {

using document::Axis;
using document::Chart;
using document::Extent;
using document::Id;
using document::Line;
using document::Side;
using document::Spread;
using geometry::Vec2;

class Hand {
public:
    explicit Hand(unsigned seed) : random_(seed) { editor.start_new(row_of_chips()); }

    Editor editor;

    /// One gesture of the hand; some change nothing, some are refused.
    void act() {
        select();
        const Side side = coin() ? Side::Top : Side::Bottom;
        switch (pick(22)) {
        case 0: return editor.nudge(way());
        case 1: return editor.turn(angle(), side);
        case 2: return editor.remove_selected();
        case 3: return editor.move_to_other_side();
        case 4: return editor.set_presence(coin() ? document::Presence::Present : document::Presence::Missing);
        case 5: return align_selected(editor, static_cast<Line>(pick(6)), extent(), side);
        case 6: return spread_selected(editor, axis(), coin() ? Spread::Centres : Spread::Gaps, extent());
        case 7: return move_selected(editor, way(), side);
        case 8: return fold_selected(editor, {axis(), way().x});
        case 9: return duplicate_selected(editor, way(), side);
        case 10: return copy_selected_to_grid(editor, {pick(3), pick(3), way(), way()});
        case 11: return copy_selected_to_ring(editor, {pick(4), angle(), way(), coin(), side});
        case 12: return lock_or_unlock_selected(editor);
        case 13: return cut_selected(editor, clipboard_);
        case 14: copy_selected(editor, clipboard_); return;
        case 15: return paste_some();
        case 16: return drag(coin());
        case 17: return rename();
        case 18: return annotate();
        case 19: return rescale();
        case 20: editor.undo(); return;
        default: editor.redo(); return;
        }
    }

    int pick(int below) { return static_cast<int>(random_() % static_cast<unsigned>(below)); }

private:
    bool coin() { return pick(2) == 0; }
    Axis axis() { return coin() ? Axis::X : Axis::Y; }
    Extent extent() { return coin() ? Extent::Body : Extent::Pads; }
    Angle angle() { return Angle::degrees(15.0 * pick(24)); }
    Vec2 way() { return {(pick(401) - 200) / 100.0, (pick(401) - 200) / 100.0}; }

    void select() {
        std::vector<Id> ids;
        for (const document::Footprint& part : editor.chart().parts)
            if (ids.size() < 4 && coin()) ids.push_back(part.id);
        editor.select(std::move(ids));
    }

    void paste_some() {
        if (clipboard_.own.empty() || editor.chart().parts.size() > 60) return;
        paste(editor, things_on(clipboard_, editor));
    }

    /// A drag has many previews and ends in one step or none.
    void drag(bool dropped) {
        for (int i = 0; i < 3; ++i)
            editor.preview(document::move_parts(editor.chart(), editor.selection(), way()));
        dropped ? editor.drop_preview() : void(editor.commit_preview("Move"));
    }

    void rename() {
        if (editor.selection().empty()) return;
        editor.commit(document::rename_part(editor.chart(), editor.selection().front(), "N" + std::to_string(pick(50))),
                      "Name");
    }

    void annotate() {
        document::Note note;
        note.id = {"note-" + std::to_string(pick(5))};
        note.at = way();
        note.text = std::to_string(pick(100));
        editor.commit(document::put(editor.chart(), note), "Note");
    }

    void rescale() {
        document::Scale scale;
        scale.mm_per_unit = 1.0 + pick(10) / 10.0;
        editor.commit(document::rescale(editor.chart(), scale.mm_per_unit, scale), "Scale");
    }

    std::mt19937 random_;
    Clipboard clipboard_;
};

TEST_CASE("a thousand random sequences of edits are undone to the start and redone to the end") {
    std::size_t steps = 0, most_parts = 0;
    for (unsigned seed = 1; seed <= 1000; ++seed) {
        Hand hand(seed);
        Editor& editor = hand.editor;
        const Chart start = editor.chart();
        for (int i = 0; i < 16; ++i) {
            const std::size_t before = editor.history().position();
            hand.act();
            // One gesture is one step at most.
            REQUIRE(editor.history().position() <= before + 1);
            REQUIRE_FALSE(editor.has_preview());
        }
        while (editor.redo()) {
        }
        const Chart end = editor.chart();
        std::vector<Chart> seen{end};
        while (editor.undo())
            seen.push_back(editor.chart());
        REQUIRE(editor.chart() == start);
        REQUIRE(editor.is_saved());
        seen.pop_back();
        while (editor.redo()) {
            REQUIRE((seen.empty() || editor.chart() == seen.back()));
            if (!seen.empty()) seen.pop_back();
        }
        REQUIRE(editor.chart() == end);
        REQUIRE_FALSE(document::fault_of(end));
        const auto jump = static_cast<std::size_t>(hand.pick(static_cast<int>(editor.history().steps().size())));
        editor.go_to_step(jump);
        editor.go_to_step(0);
        REQUIRE(editor.chart() == start);
        steps += editor.history().steps().size() - 1;
        most_parts = std::max(most_parts, end.parts.size());
    }
    // The hands really did something.
    CHECK(steps > 4000);
    CHECK(most_parts > 20);
}

} // namespace
} // namespace padchart::app
