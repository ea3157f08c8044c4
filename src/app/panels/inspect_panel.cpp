// Is everything back? Before beside now, part by part, and what has to be seen to before power.

#include "app/actions.hpp"
#include "app/panels/body.hpp"
#include "app/panels/inspect_parts.hpp"
#include "app/panels/panels.hpp"
#include "app/room.hpp"
#include "app/widgets.hpp"
#include "scene/compared.hpp"

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

Tone tone_of(scene::Outcome::Kind kind) {
    switch (kind) {
    case scene::Outcome::Kind::Differs: return Tone::Danger;
    case scene::Outcome::Kind::AsBefore: return Tone::Fine;
    case scene::Outcome::Kind::NotAllSeen: return Tone::Unknown;
    case scene::Outcome::Kind::NoPart: break;
    }
    return Tone::Plain;
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

void inspect_outcome(Ui& ui, const Session& s, const Inspection& inspection) {
    const analysis::SweepProgress progress = analysis::sweep_progress(s.editor.chart(), inspection.steps);
    const scene::Outcome outcome = scene::outcome_of(progress);
    verdict_first(ui, tone_of(outcome.kind), outcome.headline, outcome.words);
    if (progress.parts > 0)
        app::progress(ui, static_cast<double>(progress.compared) / static_cast<double>(progress.parts));
}

void inspect_reason(const Ui& ui, const Session& s, const Inspection& inspection) {
    verdict_reason(ui, scene::outcome_of(analysis::sweep_progress(s.editor.chart(), inspection.steps)).words);
}

void inspect_panel(Ui& ui, Session& s) {
    update_inspection(s);
    // Pressing something below may replace the answer; it must live until the end of the panel.
    const std::shared_ptr<const Inspection> answer = s.desks.get<InspectDesk>().answer();
    const bool walks = answer && answer->before && !answer->steps.empty();
    if (walks) begin_body(ui, s.desks.get<InspectDesk>().footer_height);
    heading(ui, "Is everything back?");
    gap(ui, is_low(ui) ? 0 : 2);
    if (!answer || !answer->before) {
        nothing_to_compare(ui, s, answer.get());
    } else {
        inspect_outcome(ui, s, *answer);
        doubts(ui, *answer);
        gap(ui, is_low(ui) ? 0 : 2);
        inspect_step(ui, s, *answer);
        inspect_reason(ui, s, *answer);
        inspect_views(ui, s);
        inspect_changes(ui, s, *answer);
    }
    inspect_checklist(ui, s);
    if (answer && answer->before) inspect_source(ui, s);
    if (walks) inspect_footer(ui, s, *answer);
}

} // namespace padchart::app
