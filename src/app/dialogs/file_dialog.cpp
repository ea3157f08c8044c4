#include <algorithm>
#include <array>
#include <filesystem>
#include <vector>

#include <imgui.h>
#include <imgui_stdlib.h>

#include "app/dialogs/dialogs.hpp"
#include "app/documents.hpp"
#include "app/file_names.hpp"
#include "app/files.hpp"
#include "app/import_flow.hpp"
#include "app/inspect_desk.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

struct TaskWords {
    const char* heading;
    const char* button;
    std::vector<std::string_view> endings;
    bool writes;
};

const TaskWords& words_of(const Session& s, FileTask task) {
    static const TaskWords kOpen{"Open a chart", "Open", {".chart.json", ".html"}, false};
    static const TaskWords kSave{"Save the chart as", "Save", endings_written(FileTask::SaveAs), true};
    static const TaskWords kImport{"Import a trace", "Import", {".svg"}, false};
    static const TaskWords kCorrected{"Bring in a corrected drawing", "Bring in", {".svg"}, false};
    static const TaskWords kSheet{"Write the sheet to", "Write", endings_written(FileTask::WriteSheet), true};
    static const TaskWords kMap{"Write the map to", "Write", kSheet.endings, true};
    static const TaskWords kPage{"Write the page to", "Write", kSheet.endings, true};
    static const TaskWords kLoadPattern{"Add a part from a pattern file", "Take", {".pattern.json"}, false};
    static const TaskWords kSavePattern{"Save the part as a pattern", "Save", endings_written(FileTask::SavePattern),
                                        true};
    static const TaskWords kDonor{"Open the chart of a donor board", "Open", {".chart.json"}, false};
    static const TaskWords kCard{"Write the orientation card to", "Write", endings_written(FileTask::WriteCard), true};
    static const TaskWords kBefore{"Compare with the chart", "Open", {".chart.json"}, false};
    static const TaskWords kFreeze{"Save the chart, then freeze it as before", "Save", kSave.endings, true};
    const InspectDesk* desk = s.desks.find<InspectDesk>();
    const FileErrand errand = desk != nullptr ? desk->errand : FileErrand::None;
    if (errand == FileErrand::ChooseBefore && task == FileTask::OpenDonor) return kBefore;
    if (errand == FileErrand::FreezeWhenSaved && task == FileTask::SaveAs) return kFreeze;
    static const TaskWords kAddPhoto{"Add a photo", "Add", {".jpg", ".jpeg", ".png", ".JPG", ".JPEG", ".PNG"}, false};
    static const TaskWords kReplacePhoto{"Where is the photo now?", "Take", kAddPhoto.endings, false};
    switch (task) {
    case FileTask::AddPhoto: return kAddPhoto;
    case FileTask::ReplacePhoto: return kReplacePhoto;
    case FileTask::LoadPattern: return kLoadPattern;
    case FileTask::SavePattern: return kSavePattern;
    case FileTask::OpenDonor: return kDonor;
    case FileTask::WriteCard: return kCard;
    case FileTask::Open: return kOpen;
    case FileTask::SaveAs: return kSave;
    case FileTask::ImportTrace: return is_correction_wanted(s) ? kCorrected : kImport;
    case FileTask::WriteSheet: break;
    }
    // By what was offered: typing another ending does not change the heading under the pen.
    if (s.sheet_path.ends_with(".html")) return kPage;
    return s.sheet_path.ends_with(".pdf") ? kSheet : kMap;
}

int complete_with_tab(ImGuiInputTextCallbackData* data) {
    const auto* endings = static_cast<const std::vector<std::string_view>*>(data->UserData);
    const std::string full =
        completed(expanded(std::string(data->Buf, static_cast<std::size_t>(data->BufTextLen))), *endings);
    data->DeleteChars(0, data->BufTextLen);
    data->InsertChars(0, full.c_str());
    return 0;
}

std::string no_such_file(const std::string& path, const TaskWords& words) {
    const SplitPath parts = split(path);
    std::error_code ignored;
    const bool is_folder = parts.folder.empty() || std::filesystem::is_directory(parts.folder, ignored);
    if (!is_folder) return "There is no folder " + parts.folder + ". Type the path of one that is there.";
    return "There is no file \"" + parts.beginning + "\" here. Take one from the list, or type the whole name of a " +
           listed(words.endings) + " file.";
}

/// What somebody else made is never written over; what is of one's own needs a second Enter.
void accept(Session& s, FileDialog& dialog) {
    const TaskWords& words = words_of(s, dialog.task);
    std::error_code ignored;
    std::string typed = expanded(dialog.path);
    // Where only one thing can be meant it need not be typed to its end.
    if (!words.writes && !std::filesystem::exists(typed, ignored))
        typed = only_match(typed, words.endings).value_or(typed);
    const std::string path = completed_path(dialog.task, typed);
    if (std::filesystem::is_directory(typed, ignored)) {
        dialog.path = typed.ends_with('/') ? typed : typed + "/";
        dialog.error = words.writes ? "Write a name for the file." : "";
        dialog.wants_focus = true;
        return;
    }
    if (const auto reason = why_not_written(dialog.task, path)) {
        dialog.error = *reason;
        dialog.wants_focus = true;
        return;
    }
    if (words.writes && std::filesystem::exists(path, ignored) && !dialog.confirm_replace) {
        dialog.confirm_replace = true;
        dialog.error = "This file exists. Press again to replace it.";
        dialog.wants_focus = true;
        return;
    }
    if (!words.writes && !std::filesystem::exists(path, ignored)) {
        dialog.error = no_such_file(path, words);
        dialog.wants_focus = true;
        return;
    }
    const Dialog before = s.dialog;
    s.dialog = std::monostate{};
    const Result<void> done = finish_file_dialog(s, dialog.task, path);
    if (done) return; // what came after may have opened a dialog of its own
    dialog.error = describe(done.error());
    dialog.wants_focus = true;
    s.dialog = before;
}

/// A line of the list. True where it is clicked, or has the keys and Enter is pressed.
bool line(const std::string& text, bool is_typed) {
    const bool clicked = ImGui::Selectable(text.c_str(), is_typed);
    const ImGuiIO& io = ImGui::GetIO();
    return clicked || (ImGui::IsItemFocused() && io.NavVisible && !io.WantTextInput &&
                       ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Enter), false));
}

/// Of what is typed; while its ending is not, of what was offered.
std::vector<std::string_view> endings_listed(const Session& s, const FileDialog& dialog, const TaskWords& words) {
    if (!words.writes) return words.endings;
    std::vector<std::string_view> endings = endings_meant(dialog.path, words.endings);
    if (endings.size() > 1 && dialog.task == FileTask::WriteSheet) endings = endings_meant(s.sheet_path, words.endings);
    return endings;
}

void file_list(Ui& ui, const Session& s, FileDialog& dialog, const TaskWords& words, float height, bool& chosen) {
    const std::vector<std::string_view> endings = endings_listed(s, dialog, words);
    const SplitPath parts = split(expanded(dialog.path));
    ImGui::PushStyleColor(ImGuiCol_ChildBg, packed(ui.colours().paper));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.px(8), ui.px(6)});
    ImGui::BeginChild("files", {0, height}, true,
                      ImGuiWindowFlags_AlwaysUseWindowPadding | ImGuiWindowFlags_NavFlattened);
    const std::filesystem::path folder(parts.folder);
    if (folder.has_parent_path() && folder.parent_path() != folder.root_path() && line("↑  one folder up", false)) {
        dialog.path = folder.parent_path().parent_path().string();
        if (!dialog.path.ends_with('/')) dialog.path += '/';
        dialog.wants_focus = true;
    }
    // With a whole name typed the list still shows its neighbours.
    auto entries = list_files(parts.folder, parts.beginning, endings);
    if (words.writes || entries.empty()) entries = list_files(parts.folder, "", endings);
    for (const FileEntry& entry : entries) {
        const std::string label = entry.is_folder ? entry.name + "/" : entry.name;
        if (!line(label, entry.name == parts.beginning)) continue;
        chosen = !entry.is_folder && parts.beginning == entry.name;
        dialog.path = parts.folder + label;
        dialog.wants_focus = true;
        dialog.confirm_replace = false;
        dialog.error.clear();
    }
    if (entries.empty()) muted(ui, "Nothing of that kind is here.");
    ImGui::EndChild();
    ImGui::PopStyleVar();
    ImGui::PopStyleColor();
}

} // namespace

namespace {

/// What the words below and the buttons leave, also in a low window.
float list_height(const Ui& ui, const std::string& error, float buttons_at) {
    const float gap = ImGui::GetStyle().ItemSpacing.y, width = ImGui::GetContentRegionAvail().x;
    const float below = error.empty() ? 0.0F : ImGui::CalcTextSize(error.c_str(), nullptr, false, width).y + gap;
    return std::max(buttons_at - ImGui::GetCursorPosY() - below - 2 * gap, ui.px(60));
}

} // namespace

void file_dialog(Ui& ui, Session& s, FileDialog dialog) {
    const TaskWords& words = words_of(s, dialog.task);
    begin_dialog(ui, "file", 640, 460);
    heading(ui, words.heading);
    gap(ui, 2);
    bool chosen = false;
    ImGui::SetNextItemWidth(-1);
    // Focus selects all; a click in the list has made another text meanwhile, so the field is begun anew.
    ImGui::PushID(static_cast<int>(std::hash<std::string>{}(dialog.wants_focus ? dialog.path : "") & 0xFFFFU));
    ImGui::PopID();
    if (dialog.wants_focus || is_clicked_beside()) {
        ImGui::SetKeyboardFocusHere();
        dialog.wants_focus = false;
        ui.await_focus();
    }
    const std::string before = dialog.path;
    chosen = ImGui::InputText("##path", &dialog.path,
                              ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_CallbackCompletion,
                              complete_with_tab, const_cast<std::vector<std::string_view>*>(&words.endings));
    if (dialog.path != before) {
        dialog.confirm_replace = false;
        dialog.error.clear();
    }
    muted(ui, "Tab completes the name, Down goes to the list, Enter takes it, Esc leaves.");
    const float buttons_at = ImGui::GetWindowHeight() - ui.px(38 + 18);
    file_list(ui, s, dialog, words, list_height(ui, dialog.error, buttons_at), chosen);
    if (!dialog.error.empty()) {
        ImGui::PushStyleColor(ImGuiCol_Text, packed(ui.colours().danger_text));
        wrapped(ui, dialog.error);
        ImGui::PopStyleColor();
    }
    const float third = share_of_line(3);
    ImGui::SetCursorPosY(buttons_at);
    if (button(ui, dialog.confirm_replace ? "Replace" : words.button, ButtonKind::Filled, third)) chosen = true;
    ImGui::SameLine();
    const bool leaves = button(ui, "Cancel", ButtonKind::Outlined, third);
    end_dialog();
    s.dialog = dialog;
    if (leaves) {
        s.after_saving.reset();
        s.dialog = std::monostate{};
    } else if (chosen) {
        accept(s, dialog);
        if (std::holds_alternative<FileDialog>(s.dialog) && std::get<FileDialog>(s.dialog).task == dialog.task)
            s.dialog = dialog;
    }
}

} // namespace padchart::app
