#include "app/dialogs/dialogs.hpp"

#include <imgui_internal.h>

#include "app/documents.hpp"
#include "app/drafts.hpp"
#include "app/import_flow.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

/// The answers to a question in one line: Tab walks over them, Enter and Space give the one that has the focus, at
/// first the first.
class Answers {
public:
    Answers(const Ui& ui, int count) : ui_(ui), width_(share_of_line(count)) {
        int& focus = *ImGui::GetStateStorage()->GetIntRef(ImGui::GetID("answer"), 0);
        is_moved_ = ImGui::IsWindowAppearing();
        if (is_moved_) focus = 0;
        if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Tab), true)) {
            focus = (focus + (ImGui::GetIO().KeyShift ? count - 1 : 1)) % count;
            is_moved_ = true;
        }
        focus_ = focus;
    }

    /// True when it is given.
    bool next(const char* label, ButtonKind kind) {
        if (drawn_ > 0) ImGui::SameLine();
        const bool given = button(ui_, label, kind, width_);
        if (is_moved_ && drawn_ == focus_) {
            ImGui::SetFocusID(ImGui::GetItemID(), ImGui::GetCurrentWindow());
            ImGui::GetCurrentContext()->NavDisableHighlight = false;
        }
        ++drawn_;
        return given;
    }

private:
    const Ui& ui_;
    int focus_ = 0, drawn_ = 0;
    float width_;
    bool is_moved_ = false;
};

} // namespace

bool begin_dialog(Ui& ui, const char* name, double width, double height) {
    const ImVec2 screen = ImGui::GetIO().DisplaySize;
    const float w = std::min(ui.px(width), screen.x - ui.px(32));
    const float h = std::min(ui.px(height), screen.y - ui.px(32)); // 0: as high as what it holds
    // The darkness behind takes the clicks that would have gone to the board.
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize(screen);
    ImGui::PushStyleColor(ImGuiCol_WindowBg, packed(with_alpha(ui.colours().rail, 110)));
    ImGui::Begin("shade", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoFocusOnAppearing |
                     ImGuiWindowFlags_NoBringToFrontOnFocus);
    ImGui::End();
    ImGui::PopStyleColor();
    if (height > 0.0)
        ImGui::SetNextWindowPos({std::round((screen.x - w) / 2), std::round((screen.y - h) / 2)});
    else
        ImGui::SetNextWindowPos({screen.x / 2, screen.y / 2}, ImGuiCond_Always, {0.5F, 0.5F});
    ImGui::SetNextWindowSize({w, h});
    ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, ui.px(10));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1);
    if (ImGui::IsWindowAppearing()) ImGui::SetNextWindowFocus();
    const bool open = ImGui::Begin(
        name, nullptr, ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings);
    if (ImGui::IsWindowAppearing() || is_clicked_beside()) ImGui::SetWindowFocus();
    return open;
}

bool is_clicked_beside() {
    constexpr ImGuiHoveredFlags kAnyhow =
        ImGuiHoveredFlags_RootAndChildWindows | ImGuiHoveredFlags_AllowWhenBlockedByActiveItem;
    return ImGui::IsMouseReleased(ImGuiMouseButton_Left) && !ImGui::IsWindowHovered(kAnyhow);
}

void end_dialog() {
    ImGui::End();
    ImGui::PopStyleVar(2);
}

void dialogs(Ui& ui, Session& s) {
    // Copies: a dialog that answers replaces session.dialog while it is drawn.
    const Dialog now = s.dialog;
    if (const auto* file = std::get_if<FileDialog>(&now)) file_dialog(ui, s, *file);
    if (const auto* unsaved = std::get_if<UnsavedDialog>(&now)) unsaved_dialog(ui, s, *unsaved);
    if (const auto* leave = std::get_if<LeaveImportDialog>(&now)) leave_import_dialog(ui, s, *leave);
    if (const auto* list = std::get_if<ActionsDialog>(&now)) actions_dialog(ui, s, *list);
    if (std::holds_alternative<HelpDialog>(now)) help_dialog(ui, s);
}

void unsaved_dialog(Ui& ui, Session& s, UnsavedDialog dialog) {
    begin_dialog(ui, "unsaved", 460, 0);
    heading(ui, "Keep what you have done?");
    gap(ui, 4);
    const std::vector<Draft> drafts = drafts_in_hand(s);
    if (!s.editor.is_saved()) wrapped(ui, "This chart has changes that are in no file yet.");
    if (!drafts.empty()) wrapped(ui, "Not on the chart yet: " + names_of(drafts) + ". Saving puts that down first.");
    gap(ui, 12);
    Answers answers(ui, 3);
    if (answers.next("Save", ButtonKind::Filled)) save_with_drafts(s, dialog.then);
    if (answers.next("Discard", ButtonKind::Outlined)) do_now(s, dialog.then);
    if (answers.next("Cancel", ButtonKind::Outlined)) s.dialog = std::monostate{};
    end_dialog();
}

void leave_import_dialog(Ui& ui, Session& s, LeaveImportDialog dialog) {
    begin_dialog(ui, "leave import", 520, 0);
    heading(ui, "Give up the import?");
    gap(ui, 4);
    const ImportDesk& desk = s.desks.get<ImportDesk>();
    wrapped(ui, desk.file_name() +
                    " is not in the chart yet. What you said of its layers and shapes is remembered for "
                    "the next time" +
                    (desk.scale() ? "; the scale that was measured is not." : "."));
    gap(ui, 12);
    Answers answers(ui, 2);
    if (answers.next("Go on importing", ButtonKind::Filled)) s.dialog = std::monostate{};
    if (answers.next("Give it up", ButtonKind::Outlined)) {
        s.dialog = std::monostate{};
        leave_import(s);
        if (dialog.then) ask_or_do(s, *dialog.then);
    }
    end_dialog();
}

} // namespace padchart::app
