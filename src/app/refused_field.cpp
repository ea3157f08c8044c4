#include "app/refused_field.hpp"

namespace padchart::app {
namespace {

struct Refused {
    ImGuiID field = 0;
    std::string text;
    int seen = 0; ///< frame in which the field was last drawn: one that has gone is as it was when it comes again
};

Refused& refused() {
    static Refused now;
    return now;
}

int& kept_in_frame() {
    static int frame = -1;
    return frame;
}

bool is_clicked() {
    return ImGui::IsMouseClicked(ImGuiMouseButton_Left) || ImGui::IsMouseClicked(ImGuiMouseButton_Right) ||
           ImGui::IsMouseClicked(ImGuiMouseButton_Middle);
}

/// By a key, or by a first click beside it in its panel, which may have been meant for the button that uses the value.
bool is_to_come_back(bool was_told_before) {
    if (!is_clicked()) return true;
    return !was_told_before && ImGui::IsWindowHovered(ImGuiHoveredFlags_RootAndChildWindows |
                                                      ImGuiHoveredFlags_AllowWhenBlockedByActiveItem);
}

} // namespace

void keep_pen() {
    kept_in_frame() = ImGui::GetFrameCount();
}

bool has_kept_pen() {
    return kept_in_frame() == ImGui::GetFrameCount();
}

const std::string* refused_text(ImGuiID field) {
    Refused& now = refused();
    const int frame = ImGui::GetFrameCount();
    if (now.field != field || frame - now.seen > 1) return nullptr;
    now.seen = frame;
    return &now.text;
}

RefusedMark::RefusedMark(const Ui& ui, ImGuiID field, const std::string& text) {
    const std::string* told = refused_text(field);
    is_marked_ = told != nullptr && *told == text;
    if (!is_marked_) return;
    ImGui::PushStyleColor(ImGuiCol_Border, packed(ui.colours().danger));
    ImGui::PushStyleColor(ImGuiCol_Text, packed(ui.colours().danger_text));
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, ui.px(2));
}

RefusedMark::~RefusedMark() {
    if (!is_marked_) return;
    ImGui::PopStyleVar();
    ImGui::PopStyleColor(2);
}

void leave_field(Ui& ui, ImGuiID field, const std::string& value) {
    std::string* draft = ui.draft(field);
    if (draft == nullptr) return;
    if (ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape), false)) *draft = value;
    const std::string text = *draft;
    const std::string* told = refused_text(field);
    const bool was_told_before = told != nullptr && *told == text;
    refused() = {};
    kept_in_frame() = -1;
    ui.commit_draft();
    if (!has_kept_pen() || !is_to_come_back(was_told_before)) return;
    refused() = {field, text, ImGui::GetFrameCount()};
    ImGui::SetKeyboardFocusHere(-1);
    ui.await_focus();
}

} // namespace padchart::app
