#include "app/panels/field_round.hpp"

#include <string>

#include <imgui_internal.h>

namespace padchart::app {
namespace {

bool is_pressed(ImGuiKey key) {
    return ImGui::IsKeyPressed(ImGui::GetKeyIndex(key), false);
}

} // namespace

FieldRound::Field::Field(Ui& ui, FieldRound& round, const char* label)
    : ui_(ui), round_(round), id_(ImGui::GetID((std::string("##") + label).c_str())),
      had_pen_(ui.draft(id_) != nullptr) {}

FieldRound::Field::~Field() {
    const bool has_pen = ui_.draft(id_) != nullptr;
    if (had_pen_ && !has_pen && is_pressed(ImGuiKey_Enter)) round_.entered_ = true;
    if (round_.drawn_++ == 0) round_.pen_in_first_ = has_pen;
    round_.pen_in_last_ = has_pen;
}

bool FieldRound::lead(Ui& ui) const {
    if (!is_pressed(ImGuiKey_Tab)) return false;
    ImGuiContext& context = *ImGui::GetCurrentContext();
    const ImGuiID button = ImGui::GetItemID();
    const bool is_back = ImGui::GetIO().KeyShift;
    if (is_back ? pen_in_first_ : pen_in_last_) {
        ImGui::NavMoveRequestCancel();
        ImGui::ClearActiveID();
        ImGui::SetFocusID(button, ImGui::GetCurrentWindow());
        context.NavDisableHighlight = false;
        ImGui::SetScrollHereY(1.0F);
        ui.wants_frame = true;
        return false;
    }
    if (context.NavId != button || context.ActiveId != 0) return false;
    ImGui::NavMoveRequestCancel();
    ui.wants_frame = true;
    return true;
}

} // namespace padchart::app
