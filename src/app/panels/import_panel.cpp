#include "app/panels/import_panel.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <utility>

#include <fmt/format.h>
#include <imgui.h>

#include "app/actions.hpp"
#include "app/import_flow.hpp"
#include "app/panels/body.hpp"
#include "app/panels/import_parts.hpp"
#include "app/room.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

constexpr std::array kRoles{svg::Role::Outline, svg::Role::CutOut,  svg::Role::Body,   svg::Role::Pad,
                            svg::Role::Mark,    svg::Role::KeepOut, svg::Role::Shield, svg::Role::Note};

void meaning_fields(Ui& ui, ImportDesk& desk, bool measures) {
    if (!desk.chosen) {
        muted(ui, measures ? "Clicks on the board measure while Scale is open."
                           : "Choose a line, or click a shape on the board, and say what it is.");
        return;
    }
    const std::size_t index = *desk.chosen;
    const FoundEntry& entry = desk.entries()[index];
    // With the keys of the import tool.
    static const std::vector<std::string> kWords{"as its names say", "board outline (1)", "cut-out or hole (2)",
                                                 "body (3)",         "pads (4)",          "mark (7)",
                                                 "keep-out (5)",     "shield (6)",        "left out (0)"};
    const svg::ShapeMeaning said = entry.said;
    const auto at = said.role ? std::find(kRoles.begin(), kRoles.end(), *said.role) : kRoles.end();
    const std::size_t chosen = at == kRoles.end() ? 0 : static_cast<std::size_t>(at - kRoles.begin()) + 1;
    choice_field(ui, fmt::format("It is##{}", index).c_str(), kWords, chosen, [&ui, &desk, index](std::size_t i) {
        desk.say_role(index, i == 0 ? std::nullopt : std::optional(kRoles[i - 1]));
        ui.wants_frame = true; // what stands above and below it was drawn before
    });
    static const std::vector<std::string> kSides{"as its names say", "top", "bottom"};
    const std::size_t side = !said.side ? 0 : *said.side == document::Side::Top ? 1 : 2;
    choice_field(ui, fmt::format("Side##{}", index).c_str(), kSides, side, [&desk, index](std::size_t i) {
        desk.say_side(index, i == 0   ? std::nullopt
                             : i == 1 ? std::optional(document::Side::Top)
                                      : std::optional(document::Side::Bottom));
    });
}

/// "Reading shapes, 43 %" and a bar.
void work_line(const Ui& ui, const WorkProgress& work) {
    const double share = work.share();
    muted(ui, share < 0.0 ? std::string(work.words())
                          : fmt::format("{}, {:.0f} %", work.words(), std::floor(100.0 * share)));
    progress(ui, std::max(share, 0.0));
    gap(ui, 4);
}

/// Megabytes of the file, for who wonders why it takes so long.
std::string size_words(const std::filesystem::path& path) {
    std::error_code fault;
    const auto bytes = std::filesystem::file_size(path, fault);
    return fault || bytes < 1'000'000 ? "" : fmt::format(", {:.0f} MB", static_cast<double>(bytes) / 1e6);
}

/// While there is nothing to say a meaning of yet.
void reading(Ui& ui, Session& s, const TraceReader& reader, ImportPanelState& state) {
    begin_body(ui, state.footer);
    heading(ui, "Import");
    muted(ui, reader.path().filename().string() + size_words(reader.path()));
    gap(ui, 4);
    work_line(ui, reader.progress());
    begin_footer(ui);
    if (button(ui, "Cancel", ButtonKind::Outlined, -1)) leave_import(s);
    end_footer(ui, state.footer);
}

/// What is left above the line of the findings, but a few lines at least.
float list_height(const Ui& ui) {
    const float left = ImGui::GetWindowHeight() - (ImGui::GetCursorPosY() - ImGui::GetScrollY()) - ui.px(44);
    return std::clamp(left, ui.px(190), ui.px(520)); // four lines
}

void found_list(Ui& ui, ImportDesk& desk, ImportPanelState& state, float tall) {
    title(ui, "Found in the trace");
    entry_list(ui, desk, state, tall);
    gap(ui, 4);
}

/// Once a trace: what has to be dealt with before anything else stands open.
void open_first(const ImportDesk& desk, ImportPanelState& state) {
    if (std::exchange(state.was_opened, true)) return;
    const auto& result = desk.outcome()->result;
    state.scale_open = result && !result->chart.scale && !desk.is_correction();
    state.findings_open = desk.is_correction();
}

} // namespace

bool import_panel_key(Session& s, const Chord& chord) {
    return s.desks.get<ImportPanelState>().list_has_keys && import_key(s, chord);
}

void import_panel(Ui& ui, Session& s) {
    ImportDesk& desk = s.desks.get<ImportDesk>();
    ImportPanelState& state = s.desks.get<ImportPanelState>();
    if (!is_importing(s)) {
        s.panel = Panel::Stage;
        return;
    }
    if (!desk.is_loaded()) return reading(ui, s, s.desks.get<TraceReader>(), state);
    if (state.arrival != desk.arrival()) { // another trace
        const float footer = state.footer;
        state = {};
        state.footer = footer;
        state.arrival = desk.arrival();
    }
    if (s.tool->is_selecting()) state.scale_open = state.measures = false; // the scale tool has been left
    if (hold_import(s)) ui.wants_frame = true;
    begin_body(ui, state.footer);
    heading_with(ui, desk.is_correction() ? "Corrected trace" : "Import", desk.file_name());
    gap(ui, is_low(ui) ? 0 : 4);
    if (desk.is_making()) work_line(ui, desk.progress());
    // In a low window what the footer asks for comes first.
    const bool is_low_window = is_low(ui);
    if (is_low_window) found_list(ui, desk, state, ui.px(100));
    if (desk.outcome() != nullptr) {
        open_first(desk, state);
        import_summary(ui, desk, state);
        gap(ui, 4);
        memory_section(ui, desk);
        import_scale_section(ui, s, desk, state);
        gap(ui, 4);
    }
    if (desk.outcome() != nullptr && desk.is_correction()) {
        import_findings(ui, desk, state);
        gap(ui, 4);
    }
    if (!is_low_window) found_list(ui, desk, state, list_height(ui));
    if (desk.outcome() != nullptr && !desk.is_correction()) import_findings(ui, desk, state);
    const bool is_choosing = ImGui::IsPopupOpen(nullptr, ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel);
    state.list_has_keys = !is_choosing && (state.list_has_keys || !ImGui::GetIO().NavVisible);
    begin_footer(ui);
    meaning_fields(ui, desk, state.measures); // never below the fold
    gap(ui, 2);
    const float half = share_of_line(2);
    if (button(ui, "Give it up", ButtonKind::Outlined, half)) ask_to_leave_import(s);
    ImGui::SameLine();
    const bool ready = desk.outcome() != nullptr && !desk.is_making() && desk.outcome()->chart.has_value();
    if (button(ui, word_of_taking(s), ButtonKind::Filled, half, ready)) run(*find_action("accept-import"), s);
    end_footer(ui, state.footer);
}

} // namespace padchart::app
