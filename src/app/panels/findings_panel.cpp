#include <algorithm>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include "app/conflict_desk.hpp"
#include "app/panels/panels.hpp"
#include "app/photo_desk.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

constexpr std::size_t kAtOnce = 100; // a large trace may have tens of thousands; nobody reads them, frames pay for them

struct FindingsView {
    std::string of; ///< title of the findings it stands for
    std::size_t count = 0, shown = kAtOnce;
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
            "A click on a line goes to the part it speaks of.");
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

void finding_row(Ui& ui, Session& s, const Diagnostic& finding, int number) {
    ImGui::PushID(number);
    const float width = ImGui::GetContentRegionAvail().x;
    const float indent = ui.px(22);
    const std::string text = finding.where.empty() ? finding.message : finding.where + ": " + finding.message;
    const std::string lines = in_lines(ImGui::GetFont(), text, width - indent);
    const ImVec2 size = ImGui::CalcTextSize(lines.c_str(), nullptr, false, width - indent);
    const ImVec2 at = ImGui::GetCursorPos();
    const bool clicked = ImGui::Selectable("##row", false, 0, {width, size.y + ui.px(8)});
    const ImVec2 after = ImGui::GetCursorPos();
    ImGui::SetCursorPos({at.x, at.y + ui.px(4)});
    severity_sign(ui, finding.severity);
    ImGui::SetCursorPos({at.x + indent, at.y + ui.px(4)});
    ImGui::PushTextWrapPos(at.x + width);
    ImGui::TextUnformatted(lines.c_str());
    ImGui::PopTextWrapPos();
    ImGui::SetCursorPos(after);
    if (clicked && finding.code == "merge-conflict")
        show_conflicts(s);
    else if (clicked && !finding.target.empty())
        go_to_target(s, document::Id{finding.target});
    ImGui::PopID();
}

} // namespace

void findings_panel(Ui& ui, Session& s) {
    heading(ui, s.findings_title.empty() ? "What needs attention" : "Import of " + s.findings_title);
    gap(ui, 4);
    // Of the last import, then of the photos' files. Rows may change what they come from.
    const Diagnostics photos = photo_findings(s);
    const std::size_t all = s.findings.size() + photos.size();
    findings_verdict(ui, all, to_look_at(s.findings) + to_look_at(photos));
    gap(ui, 4);
    if (button(ui, "Back", ButtonKind::Plain, share_of_line(3))) s.panel = Panel::Stage;
    rule(ui);
    FindingsView& view = s.desks.get<FindingsView>();
    if (view.of != s.findings_title || view.count != s.findings.size())
        view = {s.findings_title, s.findings.size(), kAtOnce};
    for (std::size_t i = 0; i < std::min(all, view.shown); ++i) {
        const bool imported = i < s.findings.size();
        const Diagnostic finding = imported ? s.findings[i] : photos[i - s.findings.size()];
        finding_row(ui, s, finding, static_cast<int>(i));
    }
    if (all <= view.shown) return;
    muted(ui, fmt::format("and {} more, the worst came first", all - view.shown));
    if (button(ui, fmt::format("Show {} more", std::min(kAtOnce, all - view.shown)).c_str(), ButtonKind::Outlined, -1))
        view.shown += kAtOnce;
}

} // namespace padchart::app
