#include "app/trace_actions.hpp"

#include "app/import_flow.hpp"
#include "app/photo_edits.hpp"
#include "app/proposal_desk.hpp"
#include "app/scale_desk.hpp"
#include "app/tools/proposal_tool.hpp"
#include "app/tools/reshape_tool.hpp"
#include "app/tools/scale_tool.hpp"
#include "app/tools/trace_tool.hpp"

namespace padchart::app {
namespace {

void begin_scale(Session& s) {
    ScaleDesk& desk = s.desks.get<ScaleDesk>();
    if (s.panel == Panel::Scale && !s.tool->is_selecting()) return; // under way: nothing typed is lost
    desk.begin_anew();
    if (const document::Footprint* part = s.editor.selected_part()) desk.part = part->id;
    s.panel = Panel::Scale;
    s.use_tool(make_scale_tool(desk));
}

void begin_trace(Session& s) {
    s.panel = Panel::Trace;
    s.use_tool(make_trace_tool(s.desks.get<TraceDesk>()));
}

void take_scale(Session& s) {
    if (s.panel == Panel::Import) {
        take_scale_for_import(s);
        return;
    }
    if (!s.desks.get<ScaleDesk>().apply(s.editor)) return;
    s.wants_fit = true;
    // Over a photo and nothing else: drawing is what comes next.
    if (is_empty(s.editor.chart()) && !s.editor.chart().photos.empty()) return begin_trace(s);
    s.panel = Panel::Stage;
    s.use_tool(s.resting_tool());
}

void begin_reshape(Session& s) {
    s.panel = Panel::Trace;
    s.use_tool(make_reshape_tool(s.desks.get<ReshapeDesk>(), s.desks.get<TraceDesk>()));
}

void begin_proposals(Session& s) {
    s.panel = Panel::Proposals;
    s.use_tool(make_proposal_tool(s.desks.get<ProposalDesk>()));
}

const Need has_trace{[](const Session& s) {
                         const document::Chart& chart = s.editor.chart();
                         return !chart.parts.empty() || chart.board.outline;
                     },
                     "chart a part or the board's outline"};

const Need is_bringing_in{is_importing, "nothing is being brought in"};

const Need has_scale_panel{[](const Session& s) { return s.panel == Panel::Scale || s.panel == Panel::Import; },
                           "measure the scale"};

} // namespace

void add_trace_actions(std::vector<Action>& list) {
    list.push_back({"trace", "Trace by hand", "Tracing", {{Key::I}}, always, begin_trace});
    list.push_back({"reshape", "Move, add and take corners", "Tracing", {{Key::V}}, always, begin_reshape});
    list.push_back({"proposals", "Proposals for loose and hand-drawn pads", "Tracing", {}, has_trace, begin_proposals});
    list.push_back(
        {"accept-groups", "Put all loose pads together as proposed", "Tracing", {}, has_trace, [](Session& s) {
             ProposalDesk& desk = s.desks.get<ProposalDesk>();
             desk.update(s.editor.snapshot());
             if (desk.is_busy())
                 return s.editor.tell(Severity::Note, "Loose pads are still being looked for; again in a moment.");
             if (!desk.accept_all_groups(s.editor)) s.editor.tell(Severity::Note, "No loose pads could be one part.");
         }});
    list.push_back({"corrected-trace", "Bring in a corrected drawing", "Tracing", {}, has_trace, [](Session& s) {
                        ask_for_trace(s, true);
                    }});
    list.push_back({"accept-import", "Accept what is being brought in", "Tracing", {}, is_bringing_in, [](Session& s) {
                        accept_import(s);
                    }});
    list.push_back({"leave-import", "Give up what is being brought in", "Tracing", {}, is_bringing_in, [](Session& s) {
                        ask_to_leave_import(s);
                    }});
    list.push_back({"scale", "Set the scale", "Tracing", {{Key::G}}, always, begin_scale});
    list.push_back({"take-scale", "Take the scale that was measured", "Tracing", {}, has_scale_panel, take_scale});
}

} // namespace padchart::app
