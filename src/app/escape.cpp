#include "app/escape.hpp"

#include "app/import_flow.hpp"
#include "app/session.hpp"
#include "app/work_desk.hpp"

namespace padchart::app {

void leave_by_escape(Session& s) {
    s.editor.clear_notice();
    if (is_importing(s)) return ask_to_leave_import(s);
    if (s.panel != Panel::Stage) {
        s.panel = Panel::Stage;
        return;
    }
    if (!s.editor.selection().empty()) return s.editor.select({});
    s.desks.get<WorkDesk>().cancel(s);
}

} // namespace padchart::app
