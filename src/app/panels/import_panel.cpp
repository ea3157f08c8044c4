#include "app/panels/import_panel.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>

#include <fmt/format.h>
#include <imgui.h>

#include "app/actions.hpp"
#include "app/import_flow.hpp"
#include "app/panels/body.hpp"
#include "app/panels/heat_widgets.hpp"
#include "app/panels/scale_fields.hpp"
#include "app/tools/import_tool.hpp"
#include "app/tools/scale_tool.hpp"
#include "app/widgets.hpp"
#include "base/counted.hpp"

namespace padchart::app {
namespace {

using geometry::Vec2;

/// How the panel stands: not the import's own business.
struct ImportPanelState {
    float footer = 0.0F;
    bool scale_open = false, findings_open = false;
    std::optional<std::size_t> shown; ///< the chosen entry that was scrolled to
    std::uint64_t counted = 0;        ///< revision the numbers speak of
    std::size_t lost = 0, pads = 0;
};

constexpr std::size_t kMostThumbPoints = 400;

/// The entry's shapes, as large as fits.
void thumb(const Ui& ui, const ImportDesk& desk, const FoundEntry& entry, ImVec2 at, ImVec2 size) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, {at.x + size.x, at.y + size.y}, packed(ui.colours().panel), ui.px(4));
    list->AddRect(at, {at.x + size.x, at.y + size.y}, packed(ui.colours().rule), ui.px(4));
    const svg::Drawing& drawing = desk.drawing();
    const std::size_t step = entry.shapes.size() / 120 + 1; // a few of very many show as well what they are
    geometry::Box box;
    for (std::size_t i = 0; i < entry.shapes.size(); i += step)
        box.add(drawing.shapes[entry.shapes[i]].bbox);
    if (box.is_empty()) return;
    const float margin = ui.px(4);
    const auto room = [&](float side) { return static_cast<double>(side - 2 * margin); };
    const double k = std::min(room(size.x) / std::max(box.width(), 1e-9), room(size.y) / std::max(box.height(), 1e-9));
    const auto px = [&](Vec2 p) {
        const Vec2 off = (p - box.centre()) * k;
        return ImVec2{at.x + size.x / 2 + static_cast<float>(off.x), at.y + size.y / 2 + static_cast<float>(off.y)};
    };
    for (std::size_t i = 0; i < entry.shapes.size(); i += step)
        for (const svg::Subpath& subpath : drawing.subpaths_of(drawing.shapes[entry.shapes[i]])) {
            const auto points = drawing.points_of(subpath);
            const std::size_t skip = points.size() / kMostThumbPoints + 1;
            std::vector<ImVec2> line;
            for (std::size_t p = 0; p < points.size(); p += skip)
                line.push_back(px(points[p]));
            if (skip > 1 && !points.empty()) line.push_back(px(points.back()));
            const geometry::Box& extent = drawing.shapes[entry.shapes[i]].bbox;
            if (std::max(extent.width(), extent.height()) * k < 6.0) {
                // As an outline it would be a knot of lines.
                list->AddRectFilled(px(extent.min), px(extent.max), packed(ui.colours().ink));
                break;
            }
            list->AddPolyline(line.data(), static_cast<int>(line.size()), packed(ui.colours().ink), 0, ui.px(1.2));
        }
}

void fold_mark(const Ui& ui, ImVec2 at, bool open) {
    const float d = ui.px(4), h = ui.px(2);
    const ImVec2 down[] = {{at.x - d, at.y - h}, {at.x, at.y + h}, {at.x + d, at.y - h}};
    const ImVec2 right[] = {{at.x - h, at.y - d}, {at.x + h, at.y}, {at.x - h, at.y + d}};
    ImGui::GetWindowDrawList()->AddPolyline(open ? down : right, 3, packed(ui.colours().ink), 0, ui.px(1.6));
}

/// One line of the list. A press chooses it; a press of its fold mark opens it.
void entry_row(const Ui& ui, ImportDesk& desk, std::size_t index, float height) {
    const FoundEntry& entry = desk.entries()[index];
    ImGui::PushID(static_cast<int>(index));
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x;
    const float left = at.x + ui.px(14) * static_cast<float>(std::min(entry.depth, 6));
    const float fold = entry.children.empty() ? 0.0F : ui.px(20);
    if (ImGui::Selectable("##entry", desk.chosen == index, 0, {width, height - ui.px(4)})) {
        const bool on_fold = !entry.children.empty() && ImGui::GetIO().MousePos.x < left + ui.px(20);
        if (on_fold || desk.chosen == index) desk.fold(index, !entry.open && !entry.children.empty());
        if (!on_fold) desk.chosen = index;
    }
    if (fold > 0) fold_mark(ui, {left + ui.px(8), at.y + height / 2 - ui.px(2)}, entry.open);
    const ImVec2 picture{left + ui.px(20), at.y + ui.px(2)};
    thumb(ui, desk, entry, picture, {ui.px(46), height - ui.px(8)});
    const float words = picture.x + ui.px(54), room = at.x + width - words - ui.px(4);
    ImDrawList* list = ImGui::GetWindowDrawList();
    ImGui::PushFont(ui.fonts().strong);
    list->AddText({words, at.y + ui.px(2)}, packed(ui.colours().ink), fitted(entry.name, room).c_str());
    ImGui::PopFont();
    const bool lost = entry.taken_for[static_cast<std::size_t>(svg::Role::None)] > 0;
    const std::string taken = (entry.said.role ? "said: " : "") + taken_words(entry);
    list->AddText({words, at.y + ui.px(19)}, packed(lost ? ui.colours().unknown_text : ui.colours().muted),
                  fitted(taken, room).c_str());
    ImGui::PopID();
}

void entry_list(const Ui& ui, ImportDesk& desk, ImportPanelState& state) {
    ImGui::PushStyleColor(ImGuiCol_ChildBg, packed(ui.colours().paper));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {ui.px(6), ui.px(6)});
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, {0, ui.px(4)});
    const float height = ui.px(42);
    ImGui::BeginChild("entries", {0, ui.px(270)}, true, ImGuiWindowFlags_AlwaysUseWindowPadding);
    const std::vector<std::size_t> listed = desk.listed();
    if (desk.chosen && state.shown != desk.chosen) {
        const auto found = std::find(listed.begin(), listed.end(), *desk.chosen);
        const float y = height * static_cast<float>(found - listed.begin());
        if (y < ImGui::GetScrollY() || y + height > ImGui::GetScrollY() + ui.px(250)) ImGui::SetScrollY(y - ui.px(80));
    }
    state.shown = desk.chosen;
    ImGuiListClipper clipper;
    clipper.Begin(static_cast<int>(listed.size()), height);
    while (clipper.Step())
        for (int i = clipper.DisplayStart; i < clipper.DisplayEnd; ++i)
            entry_row(ui, desk, listed[static_cast<std::size_t>(i)], height);
    ImGui::EndChild();
    ImGui::PopStyleVar(2);
    ImGui::PopStyleColor();
}

constexpr std::array kRoles{svg::Role::Outline, svg::Role::CutOut,  svg::Role::Body,   svg::Role::Pad,
                            svg::Role::Mark,    svg::Role::KeepOut, svg::Role::Shield, svg::Role::Note};

void meaning_fields(Ui& ui, ImportDesk& desk) {
    if (!desk.chosen) {
        muted(ui, "Choose a line, or click a shape on the board, and say what it is.");
        return;
    }
    const std::size_t index = *desk.chosen;
    const FoundEntry& entry = desk.entries()[index];
    static const std::vector<std::string> kWords{
        "as its names say", "board outline", "cut-out or hole",      "body", "pads", "mark on a part",
        "keep-out",         "shield",        "nothing, leave it out"};
    const svg::ShapeMeaning said = entry.said;
    const auto at = said.role ? std::find(kRoles.begin(), kRoles.end(), *said.role) : kRoles.end();
    const std::size_t chosen = at == kRoles.end() ? 0 : static_cast<std::size_t>(at - kRoles.begin()) + 1;
    choice_field(ui, fmt::format("It is##{}", index).c_str(), kWords, chosen, [&desk, index](std::size_t i) {
        desk.say_role(index, i == 0 ? std::nullopt : std::optional(kRoles[i - 1]));
    });
    static const std::vector<std::string> kSides{"as its names say", "top", "bottom"};
    const std::size_t side = !said.side ? 0 : *said.side == document::Side::Top ? 1 : 2;
    choice_field(ui, fmt::format("Side##{}", index).c_str(), kSides, side, [&desk, index](std::size_t i) {
        desk.say_side(index, i == 0   ? std::nullopt
                             : i == 1 ? std::optional(document::Side::Top)
                                      : std::optional(document::Side::Bottom));
    });
}

/// The scale measured on the preview becomes that of the import.
void scale_section(Ui& ui, Session& s, ImportDesk& desk, ImportPanelState& state) {
    if (!desk.outcome()->result) return;
    const document::Chart& chart = desk.outcome()->result->chart;
    const bool known = chart.scale.has_value();
    const bool guess = known && chart.scale->relative_uncertainty >= svg::kGuessedScale;
    if (!known)
        verdict(ui, Tone::Danger, "No scale is known.",
                "The trace states no physical size. Set it now from two points or a part of known size; until then "
                "nothing can be read in mm.");
    else if (guess)
        verdict(ui, Tone::Unknown, "The scale is a guess.", "The trace states its size in px. Measure it below.");
    const std::string summary =
        known ? fmt::format("within {:.2g} %", chart.scale->relative_uncertainty * 100) : "not known";
    const bool was_open = state.scale_open;
    if (!section(ui, "Scale", summary, state.scale_open)) {
        if (was_open) s.use_tool(make_import_tool(desk));
        return;
    }
    ScaleDesk& scale = s.desks.get<ScaleDesk>();
    if (!was_open && !desk.is_correction()) {
        scale.forget_picks();
        s.use_tool(make_scale_tool(scale));
    }
    if (known) muted(ui, analysis::scale_words(*chart.scale));
    if (desk.is_correction()) return muted(ui, "A corrected trace takes the scale of the chart where that is surer.");
    scale_fields(ui, s, scale, chart);
    const bool ready = scale_outcome(ui, scale, chart);
    const float half = share_of_line(2);
    if (button(ui, "Take this scale", ButtonKind::Outlined, half, ready && !desk.is_making()))
        run(*find_action("take-scale"), s);
    ImGui::SameLine();
    if (button(ui, "The trace's own", ButtonKind::Outlined, half, desk.scale().has_value())) {
        desk.set_scale(std::nullopt);
        s.wants_fit = true;
    }
}

void summary(const Ui& ui, const ImportDesk& desk, ImportPanelState& state) {
    const auto& result = desk.outcome()->result;
    if (!result) return verdict(ui, Tone::Danger, "Nothing can be charted.", padchart::describe(result.error()));
    if (!desk.outcome()->chart)
        return verdict(ui, Tone::Danger, "It does not go into this chart.",
                       padchart::describe(desk.outcome()->chart.error()));
    const document::Chart& chart = *desk.outcome()->chart;
    if (state.counted != desk.revision()) {
        state.counted = desk.revision();
        state.lost = state.pads = 0;
        for (const svg::ShapeAccount& account : result->account)
            if (account.role == svg::Role::None) ++state.lost;
        for (const document::Footprint& part : chart.parts)
            state.pads += part.pads.size();
    }
    const std::string what = fmt::format("{}, {} pads, {}, {}.", counted(chart.parts.size(), "part"), state.pads,
                                         counted(chart.keep_outs.size(), "keep-out"),
                                         chart.board.outline ? "a board outline" : "no board outline");
    if (state.lost == 0) return verdict(ui, Tone::Fine, "Every shape has a meaning.", what);
    verdict(ui, Tone::Unknown, fmt::format("{} of {} shapes not understood.", state.lost, desk.drawing().shapes.size()),
            what + " Say below what the rest is, or leave it out.");
}

void findings_section(const Ui& ui, const ImportDesk& desk, ImportPanelState& state) {
    const Diagnostics& findings = desk.outcome()->findings;
    // Worst first.
    const auto bad = std::partition_point(findings.begin(), findings.end(),
                                          [](const Diagnostic& d) { return d.severity != Severity::Note; }) -
                     findings.begin();
    const char* label = desk.is_correction() ? "What changes" : "Findings";
    if (!section(ui, label, fmt::format("{} of {} to look at", bad, findings.size()), state.findings_open)) return;
    constexpr std::size_t kMost = 60;
    for (std::size_t i = 0; i < std::min(findings.size(), kMost); ++i) {
        const Diagnostic& finding = findings[i];
        const bool fault = finding.severity == Severity::Fault;
        dot(ui, fault ? Tone::Danger : finding.severity == Severity::Warning ? Tone::Unknown : Tone::Plain, fault);
        ImGui::SameLine(0, ui.px(8));
        wrapped(ui, finding.where.empty() ? finding.message : finding.where + ": " + finding.message);
    }
    if (findings.size() > kMost) muted(ui, fmt::format("and {} more, shown after the import", findings.size() - kMost));
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

} // namespace

void import_panel(Ui& ui, Session& s) {
    ImportDesk& desk = s.desks.get<ImportDesk>();
    ImportPanelState& state = s.desks.get<ImportPanelState>();
    if (!is_importing(s)) {
        s.panel = Panel::Stage;
        return;
    }
    if (!desk.is_loaded()) return reading(ui, s, s.desks.get<TraceReader>(), state);
    if (s.tool->is_selecting()) state.scale_open = false; // the scale tool has been left
    hold_import(s);
    begin_body(ui, state.footer);
    heading(ui, desk.is_correction() ? "Corrected trace" : "Import");
    muted(ui, desk.file_name());
    gap(ui, 4);
    if (desk.is_making()) work_line(ui, desk.progress());
    if (desk.outcome() != nullptr) {
        summary(ui, desk, state);
        gap(ui, 4);
        scale_section(ui, s, desk, state);
        gap(ui, 4);
    }
    title(ui, "Found in the trace");
    entry_list(ui, desk, state);
    meaning_fields(ui, desk);
    gap(ui, 4);
    if (desk.outcome() != nullptr) findings_section(ui, desk, state);
    begin_footer(ui);
    const float half = share_of_line(2);
    if (button(ui, "Give it up", ButtonKind::Outlined, half)) ask_to_leave_import(s);
    ImGui::SameLine();
    const char* accept = desk.is_correction() ? "Take the corrections" : "Make the chart";
    const bool ready = desk.outcome() != nullptr && !desk.is_making() && desk.outcome()->chart.has_value();
    if (button(ui, accept, ButtonKind::Filled, half, ready)) run(*find_action("accept-import"), s);
    end_footer(ui, state.footer);
}

} // namespace padchart::app
