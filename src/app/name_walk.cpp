#include "app/name_walk.hpp"

#include "app/survey_desk.hpp"

namespace padchart::app {

void begin_naming(Session& s) {
    s.show_stage(scene::Stage::Survey);
    s.panel = Panel::Stage;
    set_pin_aside(s);
    if (s.editor.selected_part() == nullptr) go_along(s, 1);
    const bool is_any = s.editor.selected_part() != nullptr;
    s.desks.get<NameWalk>() = {is_any, is_any};
}

void name_left(Session& s, bool with_enter) {
    NameWalk& walk = s.desks.get<NameWalk>();
    if (!walk.is_on) return;
    if (with_enter) go_along(s, 1);
    walk = {with_enter, with_enter};
}

} // namespace padchart::app
