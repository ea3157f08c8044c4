#include <algorithm>
#include <tuple>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/evidence_photo.hpp"
#include "app/orientation.hpp"
#include "app/panels/body.hpp"
#include "app/panels/orient_parts.hpp"
#include "app/room.hpp"
#include "app/tip.hpp"
#include "app/widgets.hpp"
#include "document/things.hpp"

namespace padchart::app {
namespace {

using analysis::PartFit;
using document::Footprint;

Tone tone_of(FitTone tone) {
    switch (tone) {
    case FitTone::Open: return Tone::Unknown;
    case FitTone::Recorded: return Tone::Fine;
    case FitTone::OneWay:
    case FitTone::NoDirection: break;
    }
    return Tone::Plain;
}

/// Of the last reports.
const RecordRows& rows_now(Session& s) {
    RecordRows& rows = s.desks.get<OrientDesk>().rows;
    std::ignore = rows.of(s.background.latest());
    return rows;
}

/// "7 of 9 recorded" and its bar, which is as long as those that can be relied on are many.
void count_line(const Ui& ui, Session& s, float bar_at_least_at = 0) {
    if (s.computed() == nullptr) return muted(ui, "Working out which parts could go back wrong ...");
    const RecordRows& rows = rows_now(s);
    title(ui, rows.words());
    ImGui::SetCursorPosY(std::max(ImGui::GetCursorPosY(), bar_at_least_at));
    const std::size_t sure = rows.recorded() - rows.doubtful();
    if (rows.all() > 0) progress(ui, static_cast<double>(sure) / static_cast<double>(rows.all()));
}

void action_button(Ui& ui, Session& s, std::string_view id, const char* label, ButtonKind kind, float width) {
    const Action& action = *find_action(id);
    if (button(ui, label, kind, width, action.enabled(s))) run(action, s);
    if (!ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenDisabled)) return;
    const std::string keys = action.keys.empty() ? std::string() : to_text(action.keys.front());
    if (id == "record-mark" && !can_record(s))
        tip(ui, "Choose the place of the mark first, by a click or a digit of the number pad");
    else if (!keys.empty())
        tip(ui, keys);
}

/// All three beside each other: how many are recorded stands above their list.
void low_footer(Ui& ui, Session& s) {
    begin_footer(ui);
    const float third = share_of_line(3);
    action_button(ui, s, "record-no-mark", "No mark to be seen", ButtonKind::Outlined, third);
    ImGui::SameLine();
    action_button(ui, s, "record-mark", "Record, next part", ButtonKind::Filled, third);
    ImGui::SameLine();
    action_button(ui, s, "next-unrecorded", "Next part", ButtonKind::Outlined, third);
    end_footer(ui, s.desks.get<OrientDesk>().footer_height);
}

void footer_of_part(Ui& ui, Session& s) {
    if (is_low(ui)) return low_footer(ui, s);
    auto& desk = s.desks.get<OrientDesk>();
    begin_footer(ui);
    const ImVec2 pen = ImGui::GetCursorPos();
    const float width = ui.px(96);
    ImGui::SetCursorPos({ImGui::GetContentRegionMax().x - width, pen.y});
    const Action& next = *find_action("next-unrecorded");
    if (button(ui, "Next part", ButtonKind::Plain, width, next.enabled(s), ui.px(30))) run(next, s);
    if (!next.keys.empty() && ImGui::IsItemHovered()) tip(ui, to_text(next.keys.front()));
    ImGui::SetCursorPos(pen);
    count_line(ui, s, pen.y + ui.px(38));
    const float half = share_of_line(2);
    action_button(ui, s, "record-no-mark", "No mark to be seen", ButtonKind::Outlined, half);
    ImGui::SameLine();
    action_button(ui, s, "record-mark", "Record, next part", ButtonKind::Filled, half);
    end_footer(ui, desk.footer_height);
}

/// What was chosen for other parts but not recorded, and the way back to it.
void waiting_drafts(Ui& ui, Session& s) {
    std::optional<document::Id> clicked;
    for (const document::Id& id : parts_with_drafts(s)) {
        if (s.editor.is_selected(id)) continue;
        const std::string name = document::spoken_name(s.editor.chart(), id);
        const std::string label = fmt::format("{} is not recorded yet: go on##{}", name, id.text);
        if (button(ui, label.c_str(), ButtonKind::Outlined, -1, true, ui.px(30))) clicked = id;
    }
    if (clicked) s.go_to(*clicked);
}

void one_part(Ui& ui, Session& s, const Footprint& part, const PartFit& fit) {
    auto& desk = s.desks.get<OrientDesk>();
    orient_draft(s, part);
    begin_body(ui, desk.footer_height);
    heading(ui, part.name + "   " + short_description(part));
    gap(ui, is_low(ui) ? 0 : 2);
    const FitVerdict says = verdict_in_hand(s, part, fit);
    const std::string doubt = record_doubt(s, part);
    verdict_first(ui, doubt.empty() ? tone_of(says.tone) : Tone::Danger, says.sentence,
                  doubt.empty() ? says.reason : doubt + " " + says.reason);
    waiting_drafts(ui, s);
    place_picker(ui, s, part, fit);
    verdict_reason(ui, says.reason);
    record_conflicts(ui, s, part);
    record_fields(ui, s, part, fit);
    rule(ui);
    const float half = share_of_line(2);
    action_button(ui, s, "donor", "Take from donor ...", ButtonKind::Outlined, half);
    ImGui::SameLine();
    action_button(ui, s, "write-card", "Write card ...", ButtonKind::Outlined, half);
    rule(ui);
    angle_fields(ui, s, part);
    rule(ui);
    turn_fields(ui, s, part, fit);
    rule(ui);
    title(ui, rows_now(s).words());
    record_rows(ui, s);
    footer_of_part(ui, s);
}

void overview(Ui& ui, Session& s) {
    heading(ui, "What could go back wrong?");
    gap(ui, 4);
    std::optional<document::Id> next;
    if (s.computed() != nullptr) next = next_unrecorded(s.computed()->fit, {});
    if (s.editor.chart().parts.empty())
        verdict(ui, Tone::Plain, "Nothing is charted yet.", "Survey comes first.");
    else if (next)
        verdict(ui, Tone::Unknown, "Some parts fit more than one way.",
                "Write down each mark before the heat goes on.");
    else if (s.computed() != nullptr && rows_now(s).doubtful() > 0)
        verdict(ui, Tone::Danger, "A record rests on a doubtful photo.",
                "Place the photo again by its points, or look at the board and record the mark from there.");
    else if (s.computed() != nullptr)
        verdict(ui, Tone::Fine, "Nothing is left to record.", "Every part that could go back wrong has its answer.");
    gap(ui, 4);
    waiting_drafts(ui, s);
    if (next) action_button(ui, s, "next-unrecorded", "Begin with the first", ButtonKind::Filled, -1);
    rule(ui);
    count_line(ui, s);
    gap(ui, 2);
    record_rows(ui, s);
}

} // namespace

void record_rows(Ui& ui, Session& s) {
    const std::shared_ptr<const Computed> reports = s.background.latest();
    const std::vector<RecordRow> rows = s.desks.get<OrientDesk>().rows.of(reports);
    std::optional<document::Id> clicked;
    ImGuiListClipper clipper; // a chart of thousands of parts costs what is seen
    clipper.Begin(static_cast<int>(rows.size()), ui.px(20) + ImGui::GetStyle().ItemSpacing.y);
    while (clipper.Step())
        for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i) {
            const RecordRow& row = rows[static_cast<std::size_t>(i)];
            const Footprint& part = reports->chart->parts[row.part];
            const PartFit& fit = reports->fit.parts[row.fit];
            ImGui::PushID(i);
            const ImVec2 pen = ImGui::GetCursorPos();
            if (ImGui::Selectable("##part", s.editor.is_selected(part.id), 0, {0, ui.px(20)})) clicked = part.id;
            const bool hovered = ImGui::IsItemHovered();
            keep_clear_here();
            const ImVec2 after = ImGui::GetCursorPos();
            ImGui::SetCursorPos(pen);
            dot(ui, row.is_doubtful ? Tone::Danger : fit.has_record ? Tone::Fine : Tone::Unknown, fit.has_record);
            ImGui::SameLine(ui.px(48));
            ImGui::PushFont(ui.fonts().strong);
            ImGui::TextUnformatted(part.name.c_str());
            ImGui::PopFont();
            ImGui::SameLine(ui.px(98));
            const std::string remark = list_remark(part, fit) + (row.is_doubtful ? ", off a doubtful photo" : "");
            ImGui::PushStyleColor(ImGuiCol_Text, packed(ui.colours().muted));
            fitted_with_tip(ui, remark, hovered);
            ImGui::PopStyleColor();
            ImGui::SetCursorPos(after);
            ImGui::PopID();
        }
    if (clicked) s.go_to(*clicked);
}

void orient_panel(Ui& ui, Session& s) {
    const Footprint* selected = s.editor.selected_part();
    if (selected == nullptr) return overview(ui, s);
    // Recording in the middle of the panel replaces chart and reports.
    const Footprint part = *selected;
    const PartFit fit = s.desks.get<OrientDesk>().live.of(part, s.computed());
    one_part(ui, s, part, fit);
}

} // namespace padchart::app
