// What is hidden from view is not selected by a way round.

#include <doctest/doctest.h>

#include "app/actions.hpp"
#include "app/hidden_parts.hpp"
#include "app/selection_edits.hpp"
#include "app/session.hpp"
#include "support.hpp"

using namespace padchart;
using namespace padchart::app;

TEST_CASE("undo takes a step back on a hidden part without selecting it") {
    Session s;
    s.editor.start_new(row_of_chips());
    s.editor.select({document::Id{"r1"}});
    lock_or_unlock_selected(s.editor);
    lock_or_unlock_selected(s.editor);
    run(*find_action("hide"), s);
    REQUIRE(s.editor.selection().empty());
    run(*find_action("undo"), s);
    CHECK(part_named(s.editor.chart(), "R1").locked);
    CHECK(s.editor.selection().empty());
    CHECK(s.editor.notice()->text == "Undone: Unlock R1. 1 hidden part is not selected.");
    run(*find_action("redo"), s);
    CHECK(s.editor.selection().empty());
    go_to_step_shown(s, 1);
    CHECK(s.editor.selection().empty());
    run(*find_action("show-hidden"), s);
    run(*find_action("undo"), s);
    CHECK(s.editor.is_selected(document::Id{"r1"}));
}

TEST_CASE("a move to a place that no chart holds says which part would lie too far, and moves nothing") {
    Editor editor;
    editor.start_new(row_of_chips());
    editor.select({document::Id{"r3"}});
    move_selected(editor, {1e9, 0}, document::Side::Top);
    CHECK(editor.notice()->text == "R3 would lie more than 10,000 mm away; nothing was moved.");
    CHECK(editor.is_saved());
    move_selected(editor, {0.42, 1e-9}, document::Side::Top);
    CHECK(editor.history().current().label == "Move R3 by 0.42, 0 mm");
}

TEST_CASE("history says what was marked in words, not in keys") {
    Session s;
    s.editor.start_new(row_of_chips());
    s.editor.select({document::Id{"r1"}});
    s.editor.set_presence(document::Presence::Missing);
    s.editor.set_presence(document::Presence::NotChecked);
    CHECK(s.editor.history().current().label == "Mark R1 as not checked");
}
