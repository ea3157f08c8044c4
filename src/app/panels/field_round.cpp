#include "app/panels/field_round.hpp"

#include <algorithm>
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
    round_.stops_.push_back({id_, true, has_pen, ImGui::GetItemRectMin(), ImGui::GetItemRectMax()});
}

void FieldRound::add_choice(ImGuiID id) {
    const ImGuiContext& context = *ImGui::GetCurrentContext();
    const bool has_keys = context.NavId == id && context.ActiveId == 0;
    stops_.push_back({id, false, has_keys, ImGui::GetItemRectMin(), ImGui::GetItemRectMax()});
}

void FieldRound::go_to(Ui& ui, const Stop& stop) {
    ImGuiContext& context = *ImGui::GetCurrentContext();
    ImGuiWindow* const window = ImGui::GetCurrentWindow();
    ImGui::NavMoveRequestCancel();
    ImGui::ClearActiveID();
    ImGui::SetFocusID(stop.id, window);
    context.NavDisableHighlight = false;
    if (stop.is_typed) {
        context.NavNextActivateId = stop.id;
        context.NavNextActivateFlags = ImGuiActivateFlags_PreferInput;
        ui.await_focus();
    }
    ImGui::ScrollToBringRectIntoView(window, {stop.min, stop.max});
    ui.wants_frame = true;
}

void FieldRound::lead(Ui& ui) {
    add_choice(ImGui::GetItemID());
    if (!is_pressed(ImGuiKey_Tab)) return;
    const auto from = std::find_if(stops_.begin(), stops_.end(), [](const Stop& stop) { return stop.has_keys; });
    if (from == stops_.end()) return;
    const std::size_t step = ImGui::GetIO().KeyShift ? stops_.size() - 1 : 1;
    const Stop& to = stops_[(static_cast<std::size_t>(from - stops_.begin()) + step) % stops_.size()];
    const bool is_beside = step == 1 ? &to == &*from + 1 : &to + 1 == &*from;
    if (from->is_typed && to.is_typed && is_beside) return; // fields follow each other by themselves
    go_to(ui, to);
}

} // namespace padchart::app
