// Is everything back? Before beside now, part by part, and what has to be seen to before power.

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/panels/inspect_parts.hpp"
#include "app/panels/panels.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

void action_button(Ui& ui, Session& s, const char* id, const char* label, ButtonKind kind, float width) {
    const Action& action = *find_action(id);
    if (button(ui, label, kind, width, action.enabled(s))) run(action, s);
}

void nothing_to_compare(Ui& ui, Session& s, const Inspection* answer) {
    if (answer == nullptr) return verdict(ui, Tone::Plain, "Comparing ...", "This takes a moment on a large chart.");
    if (answer->trouble)
        verdict(ui, Tone::Danger, "The chart from before cannot be used.", describe(*answer->trouble));
    else
        verdict(ui, Tone::Unknown, "There is no before to compare with.",
                "Freeze the chart before the heat goes on. If the heat is over, choose a chart that shows how it was.");
    gap(ui, 4);
    action_button(ui, s, "freeze", answer->trouble ? "Freeze anew as before" : "Freeze as before", ButtonKind::Filled,
                  -1);
    action_button(ui, s, "choose-before", "Choose another chart as before", ButtonKind::Outlined, -1);
}

void outcome(Ui& ui, const analysis::SweepProgress& progress) {
    if (progress.parts == 0) return verdict(ui, Tone::Plain, "Neither chart holds a part.", "");
    const std::string words = in_words(progress) + ".";
    if (const std::size_t differ = progress.all_that_differ(); differ > 0)
        verdict(ui, Tone::Danger, differ == 1 ? "One part differs." : fmt::format("{} parts differ.", differ), words);
    else if (progress.not_checked() == 0)
        verdict(ui, Tone::Fine, "Everything is as it was.", words);
    else
        verdict(ui, Tone::Unknown, "Not everything was looked at again.", words);
    app::progress(ui, static_cast<double>(progress.compared) / static_cast<double>(progress.parts));
}

void doubts(Ui& ui, const Inspection& inspection) {
    for (const Diagnostics* list : {&inspection.findings, &inspection.report.findings})
        for (const Diagnostic& finding : *list) {
            if (finding.severity == Severity::Note) continue;
            dot(ui, Tone::Unknown, true);
            ImGui::SameLine(0, ui.px(8));
            wrapped(ui, finding.message);
        }
}

} // namespace

void inspect_panel(Ui& ui, Session& s) {
    update_inspection(s);
    // Pressing something below may replace the answer; it must live until the end of the panel.
    const std::shared_ptr<const Inspection> answer = s.desks.get<InspectDesk>().answer();
    heading(ui, "Is everything back?");
    gap(ui, 2);
    if (!answer || !answer->before) {
        nothing_to_compare(ui, s, answer.get());
    } else {
        outcome(ui, analysis::sweep_progress(s.editor.chart(), answer->steps));
        doubts(ui, *answer);
        gap(ui, 2);
        inspect_step(ui, s, *answer);
        inspect_views(ui, s);
        inspect_changes(ui, s, *answer);
    }
    inspect_checklist(ui, s);
    if (answer && answer->before) inspect_source(ui, s);
}

} // namespace padchart::app
