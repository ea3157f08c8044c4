#include "app/import_flow.hpp"
#include "app/inspect_actions.hpp"
#include "app/orient_desk.hpp"
#include "app/panels/access_panel.hpp"
#include "app/panels/body.hpp"
#include "app/panels/edit_panels.hpp"
#include "app/panels/import_panel.hpp"
#include "app/panels/panels.hpp"
#include "app/panels/photo_panel.hpp"
#include "app/panels/proposals_panel.hpp"
#include "app/panels/scale_fields.hpp"
#include "app/panels/trace_panel.hpp"
#include "app/room.hpp"
#include "app/survey_desk.hpp"
#include "app/trace_log.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

void stage_panel(Ui& ui, Session& s) {
    switch (s.stage) {
    case scene::Stage::Orient: orient_panel(ui, s); break;
    case scene::Stage::Heat: heat_panel(ui, s); break;
    case scene::Stage::Access: access_panel(ui, s); break;
    case scene::Stage::Inspect: inspect_panel(ui, s); break;
    case scene::Stage::HandOver: hand_over_panel(ui, s); break;
    default: survey_panel(ui, s); break;
    }
}

/// Not the sheet of the whole board: there a selected part is a line among others.
bool shows_a_part(const Session& s) {
    return s.panel == Panel::Stage && s.stage != scene::Stage::HandOver;
}

/// A panel begins at its top, wherever the one before it was scrolled to; so does the form of another part.
void scroll_to_top_of_another(Ui& ui, Session& s) {
    struct Shown {
        Panel panel = Panel::Stage;
        scene::Stage stage = scene::Stage::Survey;
        document::Id part; ///< whose form is shown
        bool operator==(const Shown&) const = default;
    };
    Shown& last = s.desks.get<Shown>();
    const document::Footprint* part = shows_a_part(s) ? s.editor.selected_part() : nullptr;
    Shown now{s.panel, s.stage, part == nullptr ? document::Id{} : part->id};
    // Heat, access and inspect stay with their part when none is selected any more.
    const bool is_kept = s.stage != scene::Stage::Survey && s.stage != scene::Stage::Orient;
    if (part == nullptr && is_kept && last.panel == now.panel && last.stage == now.stage) now.part = last.part;
    if (last == now) return;
    // Who picks a neighbour from the list of the heat panel goes on reading that list.
    const bool is_picked_here = s.stage == scene::Stage::Heat && last.panel == now.panel && last.stage == now.stage &&
                                ImGui::IsWindowHovered(ImGuiHoveredFlags_ChildWindows);
    last = now;
    if (is_picked_here) return;
    trace("panel", "at its top");
    begin_body_at_top();
    ImGui::SetScrollY(0.0F);
    ui.wants_frame = true;
}

} // namespace

bool panel_key(Session& s, const Chord& chord) {
    if (s.panel == Panel::Import) return import_panel_key(s, chord);
    if (s.panel == Panel::History) return history_key(s, chord);
    if (s.panel == Panel::Findings) return findings_key(s, chord);
    if (s.panel == Panel::Stage && s.stage == scene::Stage::Orient) return orient_key(s, chord);
    if (s.panel == Panel::Stage && s.stage == scene::Stage::Survey) return survey_key(s, chord);
    if (s.panel == Panel::Stage && s.stage == scene::Stage::Inspect) return inspect_key(s, chord);
    if (s.panel != Panel::AddPart || chord != Chord{Key::Enter}) return false;
    take_first_family(s);
    return true;
}

void side_panel(Ui& ui, Session& s, const Layout& layout) {
    const geometry::Box& box = layout.panel;
    ImGui::SetNextWindowPos({static_cast<float>(box.min.x), static_cast<float>(box.min.y)});
    ImGui::SetNextWindowSize({static_cast<float>(box.width()), static_cast<float>(box.height())});
    constexpr ImGuiWindowFlags kFlags = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                        ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoCollapse |
                                        ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus;
    begin_low(ui);
    ImGui::Begin("panel", nullptr, kFlags);
    scroll_to_top_of_another(ui, s);
    if (s.panel != Panel::Import) ask_to_leave_import(s);
    switch (s.panel) {
    case Panel::Stage: stage_panel(ui, s); break;
    case Panel::AddPart: add_part_panel(ui, s); break;
    case Panel::Findings: findings_panel(ui, s); break;
    case Panel::Conflicts: conflicts_panel(ui, s); break;
    case Panel::Donor: donor_panel(ui, s); break;
    case Panel::Import: import_panel(ui, s); break;
    case Panel::Start: start_panel(ui, s); break;
    case Panel::Scale: scale_panel(ui, s); break;
    case Panel::Trace: trace_panel(ui, s); break;
    case Panel::Proposals: proposals_panel(ui, s); break;
    case Panel::History: history_panel(ui, s); break;
    case Panel::Layers: layers_panel(ui, s); break;
    case Panel::Photos: photo_panel(ui, s); break;
    default: stage_panel(ui, s); break;
    }
    gap(ui, 10);
    const ImVec2 at = ImGui::GetWindowPos();
    ImGui::GetWindowDrawList()->AddLine(at, {at.x, at.y + ImGui::GetWindowHeight()}, packed(ui.colours().rule));
    ImGui::End();
    end_low(ui);
}

} // namespace padchart::app
