#include "app/start_actions.hpp"

#include "app/start_desk.hpp"

namespace padchart::app {
namespace {

bool always(const Session&) {
    return true;
}

void report(Session& s, const Result<void>& done) {
    if (!done) s.editor.tell(Severity::Fault, describe(done.error()));
}

void run_demo(Session& s) {
    if (s.editor.is_saved())
        report(s, open_demo(s));
    else
        s.editor.tell(Severity::Warning, "Save or discard the chart in hand first; the demo can wait.");
}

void take_newer(Session& s) {
    if (s.editor.is_changed_on_disk())
        report(s, s.editor.take_newer_file());
    else
        s.editor.tell(Severity::Note, "The file is as it was when it was opened or saved here.");
}

} // namespace

void add_start_actions(std::vector<Action>& list) {
    list.push_back({"start-page", "Start page", "Chart", {}, always, show_start_page});
    list.push_back({"open-demo", "Open the demo", "Chart", {}, always, run_demo});
    list.push_back({"take-newer",
                    "Take the newer file",
                    "Chart",
                    {},
                    [](const Session& s) { return !s.editor.path().empty(); },
                    take_newer});
}

} // namespace padchart::app
