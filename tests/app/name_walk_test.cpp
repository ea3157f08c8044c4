#include "app/name_walk.hpp"

#include "app/actions.hpp"
#include "support.hpp"

namespace padchart::app {

TEST_CASE("naming begins with the selected part and Enter goes on as one reads") {
    Session s;
    s.editor.start_new(row_of_chips());
    s.show_stage(scene::Stage::Heat);
    s.editor.select({document::Id{"r2"}});
    run(*find_action("name-parts"), s);
    const NameWalk& walk = s.desks.get<NameWalk>();
    CHECK(s.stage == scene::Stage::Survey);
    CHECK(s.editor.is_selected(document::Id{"r2"}));
    CHECK(walk.wants_focus);
    name_left(s, true);
    CHECK(s.editor.is_selected(document::Id{"r3"}));
    CHECK(walk.wants_focus);
    name_left(s, false);
    CHECK_FALSE(walk.is_on);
    CHECK_FALSE(walk.wants_focus);
}

TEST_CASE("without a selection naming begins with the first part, and leaving a field by hand goes nowhere") {
    Session s;
    s.editor.start_new(row_of_chips());
    name_left(s, true);
    CHECK(s.editor.selection().empty());
    run(*find_action("name-parts"), s);
    CHECK(s.editor.is_selected(document::Id{"r1"}));
}

} // namespace padchart::app
