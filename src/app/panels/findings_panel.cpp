#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "app/conflict_desk.hpp"
#include "app/panels/panels.hpp"
#include "app/panels/proposals_panel.hpp"
#include "app/photo_desk.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

constexpr std::size_t kAtOnce = 100; // a large trace may have tens of thousands; nobody reads them, frames pay for them

struct FindingsView {
    std::string of; ///< title of the findings it stands for
    std::size_t count = 0, shown = kAtOnce;
    std::optional<std::size_t> cursor{}; ///< the line that Enter takes
    bool wants_cursor_seen = false;
};

/// To the part it speaks of, or to the photo.
void go_to_target(Session& s, const document::Id& id) {
    const document::Photo* photo = find_photo(s.editor.chart(), id);
    if (photo == nullptr) return s.go_to(id);
    s.desks.get<PhotoDesk>().chosen = id;
    if (photo->side != s.seen_from) s.flip_side();
    s.panel = Panel::Photos;
}

std::size_t to_look_at(const Diagnostics& findings) {
    return static_cast<std::size_t>(std::count_if(findings.begin(), findings.end(), [](const Diagnostic& finding) {
        return finding.severity != Severity::Note;
    }));
}

void findings_verdict(Ui& ui, std::size_t all, std::size_t bad) {
    if (all == 0) return verdict(ui, Tone::Fine, "Nothing to report.", "Everything was understood.");
    if (bad == 0) return verdict(ui, Tone::Plain, "Nothing is wrong.", "The notes below are good to know.");
    verdict(ui, Tone::Danger, fmt::format("{} need{} a look.", bad, bad == 1 ? "s" : ""),
            "A click on a line goes to the part it speaks of; so do Up, Down and Enter.");
}

/// A full disc for a fault, a triangle for a warning, a bar for a note: each reads without colour.
void severity_sign(const Ui& ui, Severity severity) {
    if (severity == Severity::Fault) return dot(ui, Tone::Danger, true);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float r = ui.px(5), y = std::round(at.y + ImGui::GetTextLineHeight() / 2), x = at.x + r;
    ImDrawList* list = ImGui::GetWindowDrawList();
    if (severity == Severity::Warning)
        list->AddTriangle({x, y - r}, {x + r, y + r * 0.8F}, {x - r, y + r * 0.8F}, packed(ui.colours().unknown),
                          ui.px(1.6));
    else
        list->AddLine({x - r, y}, {x + r, y}, packed(ui.colours().muted), ui.px(2));
    ImGui::Dummy({2 * r + ui.px(4), ImGui::GetTextLineHeight()});
}

void take_finding(Session& s, const Diagnostic& finding) {
    if (finding.code == "merge-conflict")
        show_conflicts(s);
    else if (!finding.target.empty())
        go_to_target(s, document::Id{finding.target});
}

/// Of the last import or check, then of the photos' files.
Diagnostics all_findings(Session& s) {
    Diagnostics all = s.findings;
    const Diagnostics photos = photo_findings(s);
    all.insert(all.end(), photos.begin(), photos.end());
    return all;
}

void mark_cursor(const Ui& ui, FindingsView& view) {
    const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax();
    ImGui::GetWindowDrawList()->AddRect(min, max, packed(ui.colours().selection), ui.px(4), 0, ui.px(1.6));
    if (std::exchange(view.wants_cursor_seen, false)) ImGui::SetScrollHereY(0.5F);
}

void finding_row(Ui& ui, Session& s, const Diagnostic& finding, std::size_t number, FindingsView& view) {
    ImGui::PushID(static_cast<int>(number));
    const float width = ImGui::GetContentRegionAvail().x;
    const float indent = ui.px(22);
    const std::string text = finding.where.empty() ? finding.message : finding.where + ": " + finding.message;
    const std::string lines = in_lines(ImGui::GetFont(), text, width - indent);
    const ImVec2 size = ImGui::CalcTextSize(lines.c_str(), nullptr, false, width - indent);
    const ImVec2 at = ImGui::GetCursorPos();
    const bool clicked = ImGui::Selectable("##row", false, 0, {width, size.y + ui.px(8)});
    if (view.cursor == number) mark_cursor(ui, view);
    const ImVec2 after = ImGui::GetCursorPos();
    ImGui::SetCursorPos({at.x, at.y + ui.px(4)});
    severity_sign(ui, finding.severity);
    ImGui::SetCursorPos({at.x + indent, at.y + ui.px(4)});
    ImGui::PushTextWrapPos(at.x + width);
    ImGui::TextUnformatted(lines.c_str());
    ImGui::PopTextWrapPos();
    ImGui::SetCursorPos(after);
    if (clicked) view.cursor = number;
    if (clicked) take_finding(s, finding);
    ImGui::PopID();
}

} // namespace

bool findings_key(Session& s, const Chord& chord) {
    if (chord.ctrl || chord.shift || chord.alt) return false;
    FindingsView& view = s.desks.get<FindingsView>();
    const Diagnostics findings = all_findings(s);
    const std::size_t last = std::min(findings.size(), view.shown);
    if (last == 0) return false;
    switch (chord.key) {
    case Key::Up: view.cursor = view.cursor.value_or(1) == 0 ? 0 : view.cursor.value_or(1) - 1; break;
    case Key::Down: view.cursor = view.cursor ? std::min(*view.cursor + 1, last - 1) : 0; break;
    case Key::Enter:
        if (view.cursor && *view.cursor < last) take_finding(s, findings[*view.cursor]);
        return view.cursor.has_value();
    default: return false;
    }
    view.wants_cursor_seen = true;
    return true;
}

void findings_panel(Ui& ui, Session& s) {
    heading(ui, s.findings_title.empty() ? "What needs attention" : "Import of " + s.findings_title);
    gap(ui, 4);
    const Diagnostics findings = all_findings(s); // rows may change what they come from
    const std::size_t all = findings.size();
    findings_verdict(ui, all, to_look_at(findings));
    gap(ui, 4);
    proposals_told(ui, s);
    if (button(ui, "Back", ButtonKind::Plain, share_of_line(3))) s.panel = Panel::Stage;
    rule(ui);
    FindingsView& view = s.desks.get<FindingsView>();
    if (view.of != s.findings_title || view.count != s.findings.size()) view = {s.findings_title, s.findings.size()};
    for (std::size_t i = 0; i < std::min(all, view.shown); ++i) {
        finding_row(ui, s, findings[i], i, view);
    }
    if (all <= view.shown) return;
    muted(ui, fmt::format("and {} more, the worst came first", all - view.shown));
    if (button(ui, fmt::format("Show {} more", std::min(kAtOnce, all - view.shown)).c_str(), ButtonKind::Outlined, -1))
        view.shown += kAtOnce;
}

} // namespace padchart::app
