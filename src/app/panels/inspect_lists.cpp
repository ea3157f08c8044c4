// What the comparison tells, the list after rework, and where "before" comes from.

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/panels/heat_widgets.hpp"
#include "app/panels/inspect_parts.hpp"
#include "app/widgets.hpp"
#include "scene/inspect_overlay.hpp"

namespace padchart::app {
namespace {

using analysis::Change;
using analysis::ChangeKind;
using scene::ChecklistEntry;

std::size_t step_with(const Inspection& inspection, std::size_t change) {
    for (std::size_t i = 0; i < inspection.steps.size(); ++i) {
        const auto& changes = inspection.steps[i].changes;
        if (std::find(changes.begin(), changes.end(), change) != changes.end()) return i;
    }
    return inspection.steps.size();
}

/// The part that a reading or keep-out speaks of, or nothing.
document::Id part_of_reading(const document::Chart& chart, const document::Id& reading) {
    for (const document::Reading& one : chart.readings)
        if (one.id == reading) return one.target;
    return {};
}

void go_to_change(Session& s, const Inspection& inspection, std::size_t i) {
    const Change& change = inspection.report.changes[i];
    const std::size_t step = step_with(inspection, i);
    if (step < inspection.steps.size()) return go_to_step(s, step);
    if (change.kind == ChangeKind::Reading || change.kind == ChangeKind::ReadingMissing)
        s.go_to(part_of_reading(s.editor.chart(), change.after_id.is_empty() ? change.before_id : change.after_id));
}

/// A line that can be pressed, as high as its words need.
bool text_row(const Ui& ui, Tone tone, bool filled, const std::string& text) {
    const float width = ImGui::GetContentRegionAvail().x, indent = ui.px(22);
    const std::string lines = in_lines(ImGui::GetFont(), text, width - indent);
    const ImVec2 size = ImGui::CalcTextSize(lines.c_str(), nullptr, false, width - indent);
    const ImVec2 at = ImGui::GetCursorPos();
    const bool pressed = ImGui::Selectable("##row", false, 0, {width, size.y + ui.px(6)});
    const ImVec2 after = ImGui::GetCursorPos();
    ImGui::SetCursorPos({at.x, at.y + ui.px(3)});
    dot(ui, tone, filled);
    ImGui::SetCursorPos({at.x + indent, at.y + ui.px(3)});
    ImGui::PushTextWrapPos(at.x + width);
    ImGui::TextUnformatted(lines.c_str());
    ImGui::PopTextWrapPos();
    ImGui::SetCursorPos(after);
    return pressed;
}

Tone tone_of(const Change& change) {
    if (change.harmless) return Tone::Fine;
    return change.kind == ChangeKind::NotCheckedAgain || change.kind == ChangeKind::ReadingMissing ? Tone::Unknown
                                                                                                   : Tone::Danger;
}

std::string summary_of(const analysis::CompareReport& report) {
    const auto harmless = std::count_if(report.changes.begin(), report.changes.end(),
                                        [](const Change& change) { return change.harmless; });
    if (report.changes.empty()) return fmt::format("none, {} parts compared", report.parts_compared);
    return fmt::format("{}, {} harmless", report.changes.size(), harmless);
}

/// By this number the board speaks of it where it has no room for words.
std::string numbered(std::size_t number, const std::string& message) {
    return fmt::format("{}. {}", number, message);
}

std::string left_summary(const std::vector<ChecklistEntry>& list) {
    const auto open = std::count_if(list.begin(), list.end(), [](const ChecklistEntry& entry) { return !entry.done; });
    return open == 0 ? "all done" : fmt::format("{} of {} open", open, list.size());
}

std::string said_by(const ChecklistEntry& entry) {
    std::string text = entry.reason;
    const auto add = [&](const std::string& more) {
        if (!more.empty()) text += (text.empty() ? "" : "; ") + more;
    };
    add(entry.note);
    if (entry.done)
        add(fmt::format("{}{}{}", entry.by, entry.by.empty() || entry.date.empty() ? "" : ", ", entry.date));
    return text;
}

void checklist_row(const Ui& ui, Session& s, const ChecklistEntry& entry) {
    bool done = entry.done;
    if (ImGui::Checkbox("##done", &done)) tick_off(s, entry, done);
    ImGui::SameLine(0, ui.px(8));
    ImGui::BeginGroup();
    wrapped(ui, entry.text);
    if (const std::string said = said_by(entry); !said.empty()) muted(ui, said + ".");
    ImGui::EndGroup();
    if (ImGui::IsItemClicked()) {
        if (document::find_part(s.editor.chart(), entry.target)) s.go_to(entry.target);
    }
}

/// A frame round the line that keys tick; `from`: where it begins.
void mark_line(Ui& ui, InspectDesk& desk, ImVec2 from) {
    const float right = from.x + ImGui::GetContentRegionAvail().x, bottom = ImGui::GetCursorScreenPos().y;
    const float air = ui.px(4), below = ImGui::GetStyle().ItemSpacing.y;
    ImGui::GetWindowDrawList()->AddRect({from.x - air, from.y - air}, {right + air, bottom - below + air},
                                        packed(ui.colours().selection), ui.px(4), 0, ui.px(2));
    if (!std::exchange(desk.wants_line, false)) return;
    ImGui::SetScrollHereY();
    ui.wants_frame = true;
}

} // namespace

void inspect_changes(Ui& ui, Session& s, const Inspection& inspection) {
    InspectDesk& desk = s.desks.get<InspectDesk>();
    if (!section(ui, "What the charts tell", summary_of(inspection.report), desk.shows_changes)) return;
    for (std::size_t i = 0; i < inspection.report.changes.size(); ++i) {
        const Change& change = inspection.report.changes[i];
        ImGui::PushID(static_cast<int>(i));
        if (text_row(ui, tone_of(change), !change.harmless, numbered(scene::number_of_change(i), change.message)))
            go_to_change(s, inspection, i);
        ImGui::PopID();
    }
    for (std::size_t i = 0; i < inspection.report.left_in_place.size(); ++i) {
        ImGui::PushID(static_cast<int>(i + inspection.report.changes.size()));
        const std::size_t number = scene::number_of_left(inspection.report, i);
        text_row(ui, Tone::Unknown, true, numbered(number, inspection.report.left_in_place[i].message));
        ImGui::PopID();
    }
}

void inspect_checklist(Ui& ui, Session& s) {
    InspectDesk& desk = s.desks.get<InspectDesk>();
    const std::vector<ChecklistEntry> list = scene::checklist_of(s.editor.chart());
    if (!section(ui, "After rework, before power", left_summary(list), desk.shows_checklist)) return;
    text_field(ui, "Who looks", desk.by.empty() ? s.editor.chart().title.author : desk.by,
               [&desk](const std::string& text) { desk.by = text; });
    for (std::size_t i = 0; i < list.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        const ImVec2 from = ImGui::GetCursorScreenPos();
        checklist_row(ui, s, list[i]);
        if (desk.marks_line && desk.line == i) mark_line(ui, desk, from);
        ImGui::PopID();
    }
    text_field(
        ui, "Also to do", "", [&s](const std::string& text) { add_own_task(s, text); }, "a line of your own");
}

void inspect_source(Ui& ui, Session& s) {
    InspectDesk& desk = s.desks.get<InspectDesk>();
    const auto& frozen = s.editor.chart().frozen_before;
    const std::string name = desk.has_chosen() ? desk.chosen_name() : frozen ? frozen->path : "";
    if (!section(ui, "Compared with", name, desk.shows_source)) return;
    const Inspection& answer = *desk.answer();
    fact(ui, "Chart", name);
    if (!desk.has_chosen() && frozen && !(frozen->by + frozen->date).empty())
        fact(ui, "Frozen", frozen->by + (frozen->by.empty() || frozen->date.empty() ? "" : ", ") + frozen->date);
    const analysis::Registration& r = answer.report.registration;
    fact(ui, "Laid on each other by",
         answer.report.places_compared
             ? fmt::format("{} of {} points, {:.2f} mm left", r.points_used, r.points, r.rms_mm)
             : std::string("nothing: a scale is missing"));
    const float half = share_of_line(2);
    const Action& again = *find_action("freeze");
    if (button(ui, desk.asks_to_freeze ? "Yes, freeze anew" : "Freeze anew",
               desk.asks_to_freeze ? ButtonKind::Filled : ButtonKind::Plain, half, again.enabled(s)))
        run(again, s);
    ImGui::SameLine();
    const Action& other = *find_action(desk.has_chosen() ? "own-before" : "choose-before");
    if (button(ui, desk.has_chosen() ? "Back to its own" : "Another chart", ButtonKind::Plain, half, other.enabled(s)))
        run(other, s);
}

} // namespace padchart::app
