#include "support.hpp"

#include "app/actions.hpp"
#include "app/inspect_edits.hpp"
#include "app/work_desk.hpp"

namespace padchart::app {

TEST_CASE("what the comparison with before found is there when the chart is handed over, without a look at Inspect") {
    const ScratchFolder folder;
    Session s;
    s.editor.start_new(row_of_chips());
    REQUIRE(s.editor.save_as(folder.path() / "board.chart.json"));
    freeze_chart(s);
    REQUIRE(s.editor.chart().frozen_before);
    s.editor.select({document::Id{"r2"}});
    s.editor.set_presence(document::Presence::Missing);
    s.show_stage(scene::Stage::HandOver);
    wait_for_inspection(s);
    const InspectDesk& desk = s.desks.get<InspectDesk>();
    REQUIRE(desk.has_before());
    CHECK(analysis::sweep_progress(s.editor.chart(), desk.answer()->steps).all_that_differ() == 1);
}

} // namespace padchart::app
