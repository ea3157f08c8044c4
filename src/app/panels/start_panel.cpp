#include <utility>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/panels/panels.hpp"
#include "app/start_desk.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

namespace fs = std::filesystem;

void tell_binned(Session& s, const Result<fs::path>& binned) {
    if (!binned) return s.editor.tell(Severity::Fault, describe(binned.error()));
    s.editor.tell(Severity::Warning,
                  fmt::format("Kept for {} days: \"Thrown away\" on the start page brings it back.", kBinDays));
}

/// True where the list has become another and must not be walked on.
bool lost_entry(Ui& ui, Session& s, const LostWork& work, int number) {
    ImGui::PushID(number);
    title(ui, name_of(work));
    muted(ui, "last written " + work.written + (work.file.empty() ? "" : ", belongs to " + work.file.string()));
    gap(ui, 4);
    const float third = share_of_line(3);
    const bool back = button(ui, "Restore", ButtonKind::Filled, 2 * third + ImGui::GetStyle().ItemSpacing.x);
    ImGui::SameLine();
    const bool away = button(ui, "To the bin", ButtonKind::Plain, third);
    gap(ui, 8);
    ImGui::PopID();
    if (back) restore(s, LostWork(work)); // a copy: the list is looked up anew meanwhile
    if (away) tell_binned(s, put_into_bin(work));
    if (away) s.desks.get<StartDesk>().refresh();
    return back || away;
}

void lost_section(Ui& ui, Session& s, const std::vector<LostWork>& lost) {
    if (lost.empty()) return;
    verdict(ui, Tone::Unknown,
            lost.size() == 1 ? "Unsaved work was left behind." : "Unsaved work was left behind, twice or more.",
            "A window ended before it could save. Restoring it changes no file.");
    gap(ui, 6);
    int number = 0;
    for (const LostWork& work : lost)
        if (lost_entry(ui, s, work, number++)) return;
    rule(ui);
}

void begin_button(Ui& ui, Session& s, const char* action, const char* label, const char* what, ButtonKind kind) {
    const Action* found = find_action(action);
    if (found == nullptr) return;
    if (button(ui, label, kind, -1)) run(*found, s);
    muted(ui, what);
    gap(ui, 6);
}

void begin_section(Ui& ui, Session& s) {
    begin_button(ui, s, "open-demo", "Open the demo", "a finished chart to try everything on", ButtonKind::Filled);
    begin_button(ui, s, "import", "Import a trace", "an SVG traced over a photo becomes outline, parts and pads",
                 ButtonKind::Outlined);
    begin_button(ui, s, "photos", "Trace over a photo", "put a picture under the chart and draw here",
                 ButtonKind::Outlined);
    begin_button(ui, s, "add-part", "Add a part", "pick a package from the list and place it", ButtonKind::Outlined);
    begin_button(ui, s, "open", "Open a chart", "one that was saved before", ButtonKind::Outlined);
}

void recent_row(Ui& ui, Session& s, const fs::path& path, int number) {
    ImGui::PushID(number);
    if (button(ui, path.filename().string().c_str(), ButtonKind::Plain, -1)) open_recent(s, path);
    muted(ui, fitted(path.parent_path().string(), ImGui::GetContentRegionAvail().x));
    gap(ui, 2);
    ImGui::PopID();
}

void recent_section(Ui& ui, Session& s, const StartDesk& desk) {
    if (desk.recent.empty()) return;
    rule(ui);
    title(ui, "Recent charts");
    gap(ui, 4);
    int number = 0;
    for (const fs::path& path : desk.recent)
        recent_row(ui, s, path, number++);
}

void binned_row(Ui& ui, Session& s, const Binned& binned) {
    ImGui::PushID(binned.path.filename().c_str());
    const std::string name = binned.title.empty() ? "a chart without a title" : binned.title;
    if (button(ui, name.c_str(), ButtonKind::Plain, -1)) fetch_from_bin(s, binned.path);
    muted(ui, "last written " + binned.written);
    gap(ui, 2);
    ImGui::PopID();
}

void bin_section(Ui& ui, Session& s, const StartDesk& desk) {
    if (desk.binned.empty()) return;
    rule(ui);
    if (std::exchange(s.desks.get<StartDesk>().wants_bin, false)) {
        ImGui::SetScrollHereY(0.0F);
        ui.wants_frame = true;
    }
    title(ui, fmt::format("Thrown away, kept {} days", kBinDays));
    gap(ui, 4);
    for (const Binned& binned : desk.binned)
        binned_row(ui, s, binned);
}

} // namespace

void start_panel(Ui& ui, Session& s) {
    // Copies: taking one changes the lists.
    const StartDesk desk = s.desks.get<StartDesk>();
    heading(ui, "Start");
    muted(ui, "Chart a region of a board before you heat it.");
    gap(ui, 8);
    if (!s.editor.chart().parts.empty() && button(ui, "Back to the chart", ButtonKind::Outlined, -1)) {
        s.panel = Panel::Stage;
        return;
    }
    lost_section(ui, s, desk.lost);
    begin_section(ui, s);
    recent_section(ui, s, desk);
    bin_section(ui, s, desk);
}

} // namespace padchart::app
