#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include "app/panels/panels.hpp"
#include "app/widgets.hpp"
#include "patterns/labels.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using document::Footprint;

enum Column { kName, kWhat, kState };

std::string what_of(const Footprint& part) {
    if (!part.role.empty()) return part.role;
    if (part.part_class != document::PartClass::Unknown) return std::string(patterns::label_of(part.part_class));
    return "not told";
}

bool is_open(const Footprint& part) {
    return part.condition.presence == document::Presence::NotChecked || part.name.empty() ||
           part.part_class == document::PartClass::Unknown;
}

/// C2 before C10: letters by letter, numbers by number.
bool natural_less(std::string_view a, std::string_view b) {
    const auto split = [](std::string_view text) {
        const std::size_t digits = text.find_first_of("0123456789");
        const std::string_view letters = text.substr(0, digits);
        long number = -1;
        if (digits != std::string_view::npos)
            number = std::strtol(std::string(text.substr(digits)).c_str(), nullptr, 10);
        return std::pair(letters, number);
    };
    const auto left = split(a);
    const auto right = split(b);
    return left != right ? left < right : a < b;
}

bool comes_before(const Footprint& a, const Footprint& b, int column) {
    if (column == kWhat && what_of(a) != what_of(b)) return what_of(a) < what_of(b);
    if (column == kState && a.condition.presence != b.condition.presence)
        return a.condition.presence < b.condition.presence;
    return natural_less(a.name, b.name);
}

std::vector<const Footprint*> listed(const Session& s) {
    std::vector<const Footprint*> parts;
    for (const Footprint& part : s.editor.chart().parts) {
        if (s.list.only_open && !is_open(part)) continue;
        const std::string text = part.name + " " + what_of(part) + " " + part.value + " " +
                                 scene::condition_in_words(part) + " " + part.family;
        if (matches(text, s.list.filter)) parts.push_back(&part);
    }
    std::stable_sort(parts.begin(), parts.end(),
                     [&](const Footprint* a, const Footprint* b) { return comes_before(*a, *b, s.list.sort); });
    return parts;
}

void sort_button(Session& s, const char* label, int column) {
    const bool chosen = s.list.sort == column;
    if (ImGui::Selectable((std::string(label) + (chosen ? " ↓" : "")).c_str(), false)) s.list.sort = column;
}

Tone tone_of(const Footprint& part) {
    if (part.condition.presence == document::Presence::NotChecked) return Tone::Unknown;
    return scene::is_absent(part) || scene::has_fault(part) ? Tone::Danger : Tone::Fine;
}

void row(Ui& ui, Session& s, const Footprint& part) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::PushID(part.id.text.c_str());
    const bool far = part.placement.side != s.seen_from;
    ImGui::PushFont(ui.fonts().strong);
    const std::string name = part.name.empty() ? "(no name)" : part.name;
    if (ImGui::Selectable(name.c_str(), s.editor.is_selected(part.id), ImGuiSelectableFlags_SpanAllColumns,
                          {0, ui.px(20)})) {
        if (ImGui::GetIO().KeyCtrl || ImGui::GetIO().KeyShift)
            s.editor.toggle(part.id);
        else
            s.go_to(part.id);
    }
    ImGui::PopFont();
    ImGui::TableNextColumn();
    const std::string what = what_of(part) + (far ? ", other side" : "");
    ImGui::TextColored(floats(ui.colours().muted), "%s", fitted(what, ImGui::GetContentRegionAvail().x).c_str());
    ImGui::TableNextColumn();
    dot(ui, tone_of(part), part.condition.presence != document::Presence::NotChecked);
    ImGui::SameLine(0, ui.px(4));
    ImGui::TextUnformatted(fitted(scene::condition_in_words(part), ImGui::GetContentRegionAvail().x).c_str());
    ImGui::PopID();
}

} // namespace

void part_list(Ui& ui, Session& s) {
    ImGui::SetNextItemWidth(-1);
    ImGui::InputTextWithHint("##filter", "search the parts", &s.list.filter);
    ImGui::Checkbox("only what still lacks an answer", &s.list.only_open);
    const std::vector<const Footprint*> parts = listed(s);
    if (parts.empty()) {
        muted(ui, s.editor.chart().parts.empty() ? "No part yet." : "Nothing matches.");
        return;
    }
    if (!ImGui::BeginTable("parts", 3, ImGuiTableFlags_None)) return;
    ImGui::TableSetupColumn("name", ImGuiTableColumnFlags_WidthFixed, ui.px(64));
    ImGui::TableSetupColumn("what", ImGuiTableColumnFlags_WidthStretch);
    ImGui::TableSetupColumn("state", ImGuiTableColumnFlags_WidthFixed, ui.px(112));
    ImGui::TableNextRow();
    ImGui::PushStyleColor(ImGuiCol_Text, packed(ui.colours().muted));
    ImGui::TableNextColumn();
    sort_button(s, "Part", kName);
    ImGui::TableNextColumn();
    sort_button(s, "What it is", kWhat);
    ImGui::TableNextColumn();
    sort_button(s, "State", kState);
    ImGui::PopStyleColor();
    ImGuiListClipper clipper; // a chart of thousands of parts costs what is seen
    clipper.Begin(static_cast<int>(parts.size()));
    while (clipper.Step())
        for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i)
            row(ui, s, *parts[static_cast<std::size_t>(i)]);
    ImGui::EndTable();
}

} // namespace padchart::app
