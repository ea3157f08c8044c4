// The field of widgets.hpp for several sentences.

#include <algorithm>
#include <memory>

#include <imgui.h>
#include <imgui_stdlib.h>

#include "app/soft_lines.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

constexpr std::ptrdiff_t kFewestLines = 3, kMostLines = 8; // more are scrolled to

/// Of the field that has the pen; one has it at a time.
std::weak_ptr<SoftLines>& lines_under_pen() {
    static std::weak_ptr<SoftLines> lines;
    return lines;
}

/// Breaks are blanks and blanks are breaks: the text keeps its length, and the pen its place.
int break_lines(ImGuiInputTextCallbackData* data) {
    const std::shared_ptr<SoftLines> lines = lines_under_pen().lock();
    if (!lines) return 0;
    lines->take({data->Buf, static_cast<std::size_t>(data->BufTextLen)});
    std::copy(lines->shown().begin(), lines->shown().end(), data->Buf);
    data->BufDirty = true;
    return 0;
}

std::shared_ptr<SoftLines> lines_of(const std::string& text) {
    const ImGuiStyle& style = ImGui::GetStyle();
    const float room = ImGui::GetContentRegionAvail().x - 2 * style.FramePadding.x - style.ScrollbarSize;
    return std::make_shared<SoftLines>(text, room, [font = ImGui::GetFont()](std::string_view word) {
        return font->CalcTextSizeA(font->FontSize, FLT_MAX, 0.0F, word.data(), word.data() + word.size()).x;
    });
}

float height_of(const std::string& shown) {
    const auto lines = std::count(shown.begin(), shown.end(), '\n') + 1;
    return static_cast<float>(std::clamp(lines, kFewestLines, kMostLines)) * ImGui::GetTextLineHeight() +
           2 * ImGui::GetStyle().FramePadding.y;
}

void hint_of(const Ui& ui, const char* hint) {
    const ImVec2 at = ImGui::GetItemRectMin(), padding = ImGui::GetStyle().FramePadding;
    ImGui::GetWindowDrawList()->AddText({at.x + padding.x, at.y + padding.y}, packed(ui.colours().muted), hint);
}

bool lines_input(const char* id, std::string& shown, ImGuiInputTextFlags more = 0) {
    const auto enter_hands_over = ImGui::GetIO().KeyShift ? 0 : ImGuiInputTextFlags_CtrlEnterForNewLine;
    return ImGui::InputTextMultiline(id, &shown, {-1, height_of(shown)},
                                     more | enter_hands_over | ImGuiInputTextFlags_CallbackEdit, break_lines);
}

} // namespace

bool note_entry(const Ui& ui, const char* id, std::string& text, const char* hint) {
    static std::shared_ptr<SoftLines> lines; // one is open at a time
    if (!lines || lines->text() != text) lines = lines_of(text);
    lines_under_pen() = lines;
    std::string shown = lines->shown();
    const bool entered = lines_input(id, shown, ImGuiInputTextFlags_EnterReturnsTrue);
    if (shown.empty() && !ImGui::IsItemActive()) hint_of(ui, hint);
    text = lines->text();
    return entered;
}

void note_field(Ui& ui, const char* label, const std::string& value, const Commit& commit, const char* hint) {
    const std::string words(std::string_view(label).substr(0, std::string_view(label).find("##")));
    ImGui::TextUnformatted(words.c_str());
    const std::string id = std::string("##") + label;
    const ImGuiID field = ImGui::GetID(id.c_str());
    std::string* draft = ui.draft(field);
    const std::shared_ptr<SoftLines> lines = draft != nullptr ? lines_under_pen().lock() : lines_of(value);
    std::string shown = draft != nullptr ? std::string() : lines->shown();
    lines_input(id.c_str(), draft != nullptr ? *draft : shown);
    if (shown.empty() && draft == nullptr && !ImGui::IsItemActive()) hint_of(ui, hint);
    if (draft == nullptr && ImGui::IsItemActive()) {
        lines_under_pen() = lines;
        ui.begin_draft(field, shown, [value, commit, lines](const std::string&) {
            if (lines->text() != value) commit(lines->text());
        });
    }
    if (draft != nullptr && !ImGui::IsItemActive()) ui.commit_draft();
}

} // namespace padchart::app
