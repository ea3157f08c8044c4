// The fields of widgets.hpp: text, numbers, choices.

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include "app/refusal.hpp"
#include "app/refused_field.hpp"
#include "app/tip.hpp"
#include "app/widgets.hpp"
#include "app/word_search.hpp"
#include "base/typed_number.hpp"

namespace padchart::app {
namespace {

/// Label on the left, the field takes the rest of the line.
void begin_field(const Ui& ui, const char* label) {
    ImGui::AlignTextToFramePadding();
    const std::string words(std::string_view(label).substr(0, std::string_view(label).find("##")));
    // A long label takes room from its field, but never more than it leaves.
    const float line = ImGui::GetContentRegionAvail().x;
    const float column = std::clamp(ImGui::CalcTextSize(words.c_str()).x + ui.px(10), ui.px(138), line * 0.66F);
    ImGui::TextUnformatted(fitted(words, column - ui.px(6)).c_str());
    ImGui::SameLine(ImGui::GetStyle().WindowPadding.x + column);
    ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x);
}

/// The label without what only tells it from another.
std::string words_of(const std::string& label) {
    return label.substr(0, label.find("##"));
}

std::string hidden_label(const char* label) {
    return std::string("##") + label;
}

void edit_text(Ui& ui, const char* label, const std::string& value, const char* hint, const Commit& commit) {
    const std::string id = hidden_label(label);
    const ImGuiID field = ImGui::GetID(id.c_str());
    const std::string* refused = refused_text(field);
    std::string shown = refused != nullptr ? *refused : value;
    std::string* draft = ui.draft(field);
    const std::string whole_hint = fitted(hint, ImGui::CalcItemWidth() - 2 * ImGui::GetStyle().FramePadding.x);
    {
        const RefusedMark mark(ui, field, draft != nullptr ? *draft : shown);
        ImGui::InputTextWithHint(id.c_str(), whole_hint.c_str(), draft != nullptr ? draft : &shown);
        keep_clear_here();
    }
    const float room = ImGui::GetItemRectSize().x - 2 * ImGui::GetStyle().FramePadding.x;
    if (draft == nullptr && ImGui::IsItemHovered() && ImGui::CalcTextSize(value.c_str()).x > room) tip(ui, value);
    if (draft == nullptr && ImGui::IsItemActive())
        ui.begin_draft(field, shown, [value, commit](const std::string& text) {
            if (text != value) commit(text);
        });
    // Nothing is typed any more: hand over what was.
    if (draft != nullptr && !ImGui::IsItemActive()) leave_field(ui, field, value);
}

/// At the right end of the last item.
void chevron(const Ui& ui) {
    const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax();
    const float x = max.x - ui.px(18), y = std::round((min.y + max.y) / 2);
    const ImVec2 points[] = {{x - ui.px(4), y - ui.px(2)}, {x, y + ui.px(2)}, {x + ui.px(4), y - ui.px(2)}};
    ImGui::GetWindowDrawList()->AddPolyline(points, 3, packed(ui.colours().ink), 0, ui.px(1.6));
}

bool search_needed(std::size_t count) {
    return count > 12;
}

void choice_list(const Ui& ui, std::span<const std::string> words, std::size_t chosen,
                 const std::function<void(std::size_t)>& commit) {
    static std::string filter; // one list is open at a time
    const bool searching = search_needed(words.size());
    if (ImGui::IsWindowAppearing()) {
        filter.clear();
        if (searching) ImGui::SetKeyboardFocusHere();
    }
    bool takes_first = false;
    if (searching) {
        ImGui::SetNextItemWidth(-1);
        const bool entered =
            ImGui::InputTextWithHint("##search", "type to search", &filter, ImGuiInputTextFlags_EnterReturnsTrue);
        takes_first = entered && !filter.empty();
    }
    if (searching) ImGui::BeginChild("##words", {0, ui.px(220)}, false);
    const std::vector<Found> found = found_in(words, filter);
    for (const auto& [i, match] : found) {
        if (ImGui::Selectable(words[i].c_str(), i == chosen) || takes_first) {
            takes_first = false;
            commit(i);
            ImGui::CloseCurrentPopup();
        }
        if (i == chosen && ImGui::IsWindowAppearing()) ImGui::SetScrollHereY();
        if (i == chosen && !searching) ImGui::SetItemDefaultFocus(); // the arrow keys go on from what holds
    }
    if (found.empty()) muted(ui, nothing_found(filter));
    if (searching) ImGui::EndChild();
}

} // namespace

void text_field(Ui& ui, const char* label, const std::string& value, const Commit& commit, const char* hint) {
    begin_field(ui, label);
    edit_text(ui, label, value, hint, commit);
}

void number_field(Ui& ui, const char* label, std::optional<double> value, const char* unit,
                  const std::function<void(std::optional<double>)>& commit,
                  const std::function<void(std::string)>& refuse) {
    begin_field(ui, label);
    const float unit_width = *unit == '\0' ? 0.0F : ImGui::CalcTextSize(unit).x + ui.px(8);
    ImGui::SetNextItemWidth(ImGui::GetContentRegionAvail().x - unit_width);
    // Ten digits tell a written number from the noise of a turn; what is not touched is never rounded.
    const std::string shown = value ? fmt::format("{:.10g}", *value) : std::string();
    edit_text(ui, label, shown, "not stated",
              [commit, refuse, shown, name = std::string(label), unit = std::string(unit)](const std::string& text) {
                  if (text.find_first_not_of(' ') == std::string::npos) return commit(std::nullopt);
                  const Result<double> number = typed_number(text, unit);
                  if (number) return commit(*number);
                  keep_pen();
                  refuse(words_of_refusal(number.error().message, words_of(name),
                                          shown.empty() ? "as it was" : shown + " " + unit));
              });
    if (*unit == '\0') return;
    ImGui::SameLine(0, ui.px(8));
    ImGui::TextUnformatted(unit);
}

void choice_field(Ui& ui, const char* label, std::span<const std::string> words, std::size_t chosen,
                  const std::function<void(std::size_t)>& commit) {
    begin_field(ui, label);
    const std::string shown =
        chosen < words.size() ? fitted(words[chosen], ImGui::CalcItemWidth() - ui.px(36)) : std::string();
    ImGui::SetNextWindowSizeConstraints({0, 0}, {1e6F, ui.px(320)});
    const bool open = ImGui::BeginCombo(hidden_label(label).c_str(), shown.c_str(), ImGuiComboFlags_NoArrowButton);
    if (!open) keep_clear_here(); // else the last item is within the list
    chevron(ui);
    if (!open) return;
    choice_list(ui, words, chosen, commit);
    ImGui::EndCombo();
}

} // namespace padchart::app
