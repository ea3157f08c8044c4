#include <algorithm>

#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include "app/panels/heat_widgets.hpp"
#include "app/panels/survey_parts.hpp"
#include "app/tip.hpp"
#include "app/widgets.hpp"
#include "patterns/labels.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

constexpr const char* kNoName = "(no name)";

/// Of names as parts have them, and of the words where there is none.
float name_width(const Ui& ui) {
    const ImFont& font = *ui.fonts().strong;
    return std::max(ui.px(64), font.CalcTextSizeA(font.FontSize, 1e6F, 0, kNoName).x + ui.px(8));
}

using document::Footprint;

void sort_button(PartWishes& wishes, const char* label, PartColumn column) {
    const bool chosen = wishes.sort == column;
    const char* arrow = !chosen ? "" : wishes.descending ? " ↑" : " ↓";
    if (!ImGui::Selectable((std::string(label) + arrow).c_str(), false)) return;
    sort_by(wishes, column);
}

Tone tone_of(const Footprint& part) {
    if (part.condition.presence == document::Presence::NotChecked) return Tone::Unknown;
    return scene::is_absent(part) || scene::has_fault(part) ? Tone::Danger : Tone::Fine;
}

/// Up and down in the search field move along the list.
int walk_rows(ImGuiInputTextCallbackData* data) {
    auto* desk = static_cast<SurveyDesk*>(data->UserData);
    if (data->EventKey == ImGuiKey_DownArrow) ++desk->cursor;
    if (data->EventKey == ImGuiKey_UpArrow) --desk->cursor;
    return 0;
}

/// True when Enter takes the row of the cursor.
bool search_field(Ui& ui, SurveyDesk& desk) {
    ImGui::SetNextItemWidth(-1);
    if (std::exchange(desk.wants_search, false)) {
        ImGui::SetKeyboardFocusHere();
        ui.await_focus();
    }
    const std::string before = desk.wishes.text;
    const bool taken = ImGui::InputTextWithHint(
        "##filter", "search: arrows choose, Enter goes", &desk.wishes.text,
        ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_CallbackHistory, walk_rows, &desk);
    if (desk.wishes.text != before) desk.cursor = 0;
    return taken;
}

std::vector<document::PartClass> classes_on(const document::Chart& chart) {
    std::vector<document::PartClass> classes;
    for (const Footprint& part : chart.parts)
        if (std::find(classes.begin(), classes.end(), part.part_class) == classes.end())
            classes.push_back(part.part_class);
    std::sort(classes.begin(), classes.end());
    return classes;
}

void class_filter(Ui& ui, const document::Chart& chart, PartWishes& wishes) {
    const std::vector<document::PartClass> classes = classes_on(chart);
    std::vector<std::string> words{"any"};
    std::size_t chosen = 0;
    for (const document::PartClass part_class : classes) {
        if (wishes.part_class == part_class) chosen = words.size();
        words.push_back(part_class == document::PartClass::Unknown ? std::string("not told")
                                                                   : std::string(patterns::label_of(part_class)));
    }
    choice_field(ui, "Kind", words, chosen,
                 [&](std::size_t i) { wishes.part_class = i == 0 ? std::nullopt : std::optional(classes[i - 1]); });
}

std::string filter_summary(const PartWishes& wishes) {
    PartWishes without_text = wishes;
    without_text.text.clear();
    return without_text.narrows() ? "narrowed" : "all parts";
}

void filters(Ui& ui, Session& s, SurveyDesk& desk) {
    PartWishes& wishes = desk.wishes;
    if (!section(ui, "Show only", filter_summary(wishes), desk.shows_filters)) return;
    static const std::vector<std::string> kStates{"any",       "not checked",  "present",
                                                  "not there", "with a fault", "lacks an answer"};
    choice_field(ui, "State", kStates, static_cast<std::size_t>(wishes.state),
                 [&](std::size_t i) { wishes.state = static_cast<StateFilter>(i); });
    static const std::vector<std::string> kSides{"both", "top", "bottom"};
    const std::size_t side = !wishes.side ? 0 : *wishes.side == document::Side::Top ? 1 : 2;
    choice_field(ui, "Side", kSides, side, [&](std::size_t i) {
        wishes.side = i == 0   ? std::nullopt
                      : i == 1 ? std::optional(document::Side::Top)
                               : std::optional(document::Side::Bottom);
    });
    class_filter(ui, s.editor.chart(), wishes);
    ImGui::Checkbox("could go back wrong, not on record", &wishes.unrecorded);
    ImGui::Checkbox("sensitive to heat", &wishes.sensitive);
    ImGui::Checkbox("never mentioned by anybody", &wishes.unmentioned);
    if (wishes.narrows() && button(ui, "Show all parts", ButtonKind::Plain, -1)) {
        const PartColumn sort = wishes.sort;
        wishes = {};
        wishes.sort = sort;
    }
}

void row(Ui& ui, Session& s, const Footprint& part, bool under_cursor) {
    ImGui::TableNextRow();
    ImGui::TableNextColumn();
    ImGui::PushID(part.id.text.c_str());
    const bool far = part.placement.side != s.seen_from;
    // Clear of the frame's edge, and in the middle of its height.
    const ImVec2 pen = ImGui::GetCursorPos();
    if (ImGui::Selectable("##row", s.editor.is_selected(part.id) || under_cursor, ImGuiSelectableFlags_SpanAllColumns,
                          {0, ui.px(20)})) {
        if (ImGui::GetIO().KeyCtrl || ImGui::GetIO().KeyShift)
            s.editor.toggle(part.id);
        else
            s.go_to(part.id);
    }
    const bool hovered = ImGui::IsItemHovered();
    keep_clear_here();
    if (under_cursor) {
        const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax();
        ImGui::GetWindowDrawList()->AddRect(min, max, packed(ui.colours().selection), ui.px(4), 0, ui.px(1.6));
    }
    ImGui::SetCursorPos({pen.x + ui.px(6), pen.y + std::max(0.0F, (ui.px(20) - ui.fonts().strong->FontSize) / 2)});
    ImGui::PushFont(ui.fonts().strong);
    ImGui::TextUnformatted(part.name.empty() ? kNoName : part.name.c_str());
    ImGui::PopFont();
    ImGui::TableNextColumn();
    const std::string what = what_of(part) + (far ? ", other side" : "");
    ImGui::PushStyleColor(ImGuiCol_Text, packed(ui.colours().muted));
    const bool is_told = fitted_with_tip(ui, what, hovered);
    ImGui::PopStyleColor();
    ImGui::TableNextColumn();
    dot(ui, tone_of(part), part.condition.presence != document::Presence::NotChecked);
    ImGui::SameLine(0, ui.px(4));
    fitted_with_tip(ui, scene::condition_in_words(part), hovered && !is_told);
    ImGui::PopID();
}

void headings(const Ui& ui, PartWishes& wishes) {
    ImGui::TableNextRow();
    ImGui::PushStyleColor(ImGuiCol_Text, packed(ui.colours().muted));
    ImGui::TableNextColumn();
    sort_button(wishes, "Part", PartColumn::Name);
    ImGui::TableNextColumn();
    sort_button(wishes, "What it is", PartColumn::What);
    ImGui::TableNextColumn();
    sort_button(wishes, "State", PartColumn::State);
    ImGui::PopStyleColor();
}

} // namespace

void part_list(Ui& ui, Session& s) {
    auto& desk = s.desks.get<SurveyDesk>();
    const int before = desk.cursor;
    const bool taken = search_field(ui, desk);
    const bool is_searching = ImGui::IsItemActive();
    filters(ui, s, desk);
    const std::shared_ptr<const document::Chart> chart = s.editor.snapshot();
    const std::vector<std::size_t> rows = desk.rows.of(chart, s.background.latest(), desk.wishes);
    desk.cursor = std::clamp(desk.cursor, 0, std::max(0, static_cast<int>(rows.size()) - 1));
    if (rows.empty()) return muted(ui, chart->parts.empty() ? "No part yet." : "Nothing matches.");
    if (taken) {
        desk.wishes.text.clear(); // found: the next look at the list is at all of it
        return s.go_to(chart->parts[rows[static_cast<std::size_t>(std::exchange(desk.cursor, 0))]].id);
    }
    if (desk.wishes.narrows()) muted(ui, fmt::format("{} of {} parts.", rows.size(), chart->parts.size()));
    if (!ImGui::BeginTable("parts", 3, ImGuiTableFlags_None)) return;
    ImGui::TableSetupColumn("name", ImGuiTableColumnFlags_WidthFixed, name_width(ui));
    ImGui::TableSetupColumn("what", ImGuiTableColumnFlags_WidthStretch);
    ImGui::TableSetupColumn("state", ImGuiTableColumnFlags_WidthFixed, ui.px(112));
    headings(ui, desk.wishes);
    ImGuiListClipper clipper; // a chart of thousands of parts costs what is seen
    clipper.Begin(static_cast<int>(rows.size()));
    if (desk.cursor != before) clipper.ForceDisplayRangeByIndices(desk.cursor, desk.cursor + 1);
    while (clipper.Step())
        for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i) {
            const bool under_cursor = is_searching && i == desk.cursor;
            row(ui, s, chart->parts[rows[static_cast<std::size_t>(i)]], under_cursor);
            if (under_cursor && desk.cursor != before) ImGui::SetScrollHereY(0.6F);
        }
    ImGui::EndTable();
}

} // namespace padchart::app
