#include "app/canvas.hpp"

#include "app/actions.hpp"
#include "support.hpp"

namespace padchart::app {

TEST_CASE("the panel of a tool goes with its tool, so that no key it names means something else") {
    Session s;
    s.editor.start_new();
    Canvas canvas;
    for (const auto& [name, panel] :
         {std::pair{"trace", Panel::Trace}, {"reshape", Panel::Trace}, {"scale", Panel::Scale}}) {
        CAPTURE(name);
        run(*find_action(name), s);
        REQUIRE(s.panel == panel);
        canvas.refresh(s);
        for (int i = 0; i < 3 && !s.tool->is_selecting(); ++i)
            CHECK(canvas.key({Key::Escape}, s));
        CHECK(s.tool->is_selecting());
        CHECK(s.panel == Panel::Stage);
    }
}

} // namespace padchart::app
