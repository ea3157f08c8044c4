// What a trace became as a whole: what nothing is known of, what only memory says, what was found and what changes.

#include "app/panels/import_parts.hpp"

#include <algorithm>
#include <cctype>

#include <fmt/format.h>

#include "app/panels/heat_widgets.hpp"
#include "app/proposal_watch.hpp"
#include "app/trace_log.hpp"
#include "app/widgets.hpp"
#include "base/counted.hpp"

namespace padchart::app {
namespace {

bool is_to_look_at(const Diagnostic& finding) {
    return finding.severity != Severity::Note;
}

bool has_fault(const Diagnostics& findings) {
    return std::any_of(findings.begin(), findings.end(),
                       [](const Diagnostic& finding) { return finding.severity == Severity::Fault; });
}

std::string as_sentence(std::string text) {
    if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text;
}

/// What could be read has a meaning; what could not, or was left out, is no shape and stands in the findings alone.
bool tell_findings(const Ui& ui, const Diagnostics& findings, const std::string& what, std::size_t not_understood) {
    const auto bad = static_cast<std::size_t>(std::count_if(findings.begin(), findings.end(), is_to_look_at));
    if (bad == 0) return false;
    const auto worst = std::max_element(findings.begin(), findings.end(), [](const Diagnostic& a, const Diagnostic& b) {
        return a.severity < b.severity;
    });
    verdict(
        ui, worst->severity == Severity::Fault ? Tone::Danger : Tone::Unknown,
        not_understood > 0
            ? fmt::format("{} not understood; {} to look at.", counted(not_understood, "shape"),
                          counted(bad, "finding"))
            : fmt::format("Every shape that was read has a meaning; {} to look at.", counted(bad, "finding")),
        fmt::format("{} {}{}.", what, worst->where.empty() ? "" : worst->where + ": ", as_sentence(worst->message)));
    return true;
}

/// Every shape has a meaning: is that as it should be?
void all_understood(const Ui& ui, const ImportDesk& desk, std::size_t parts, const std::string& what) {
    const MemoryAccount& memory = desk.from_memory();
    if (parts == 0) return verdict(ui, Tone::Unknown, "No part comes of this trace.", what);
    if (memory.left_out > 0)
        return verdict(ui, Tone::Unknown, fmt::format("{} left out from memory.", counted(memory.left_out, "shape")),
                       what);
    if (tell_findings(ui, desk.outcome()->findings, what, 0)) return;
    verdict(ui, memory.shapes > 0 ? Tone::Plain : Tone::Fine, "Every shape has a meaning.", what);
}

} // namespace

void memory_section(const Ui& ui, ImportDesk& desk) {
    const MemoryAccount memory = desk.from_memory();
    if (memory.shapes == 0) return;
    constexpr std::size_t kMostLines = 4;
    std::string what;
    for (std::size_t i = 0; i < std::min(memory.findings.size(), kMostLines); ++i)
        what += (what.empty() ? "" : "; ") + memory.findings[i].message;
    if (memory.findings.size() > kMostLines) what += fmt::format("; and {} more", memory.findings.size() - kMostLines);
    verdict(ui, Tone::Unknown,
            fmt::format("{} {} taken from memory.", counted(memory.shapes, "shape"), memory.shapes == 1 ? "is" : "are"),
            as_sentence(what) + ".");
    if (!button(ui, "Forget what was remembered", ButtonKind::Outlined, -1)) return;
    desk.forget_remembered();
    trace("import forgets", fmt::format("{} shapes", memory.shapes));
}

void import_summary(const Ui& ui, const ImportDesk& desk, ImportPanelState& state) {
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
    std::string what = fmt::format("{}, {}, {}, {}.", counted(chart.parts.size(), "part"), counted(state.pads, "pad"),
                                   counted(chart.keep_outs.size(), "keep-out"),
                                   chart.board.outline ? "a board outline" : "no board outline");
    if (const std::size_t groups = desk.outcome()->groups; groups > 0)
        what += " " + groups_in_words(groups) + ": Proposals show them once the chart is there.";
    if (has_fault(desk.outcome()->findings) && tell_findings(ui, desk.outcome()->findings, what, state.lost)) return;
    if (state.lost == 0) return all_understood(ui, desk, chart.parts.size(), what);
    verdict(ui, Tone::Unknown, fmt::format("{} of {} shapes not understood.", state.lost, desk.drawing().shapes.size()),
            what + " Say below what the rest is, or leave it out.");
}

void import_findings(const Ui& ui, const ImportDesk& desk, ImportPanelState& state) {
    const Diagnostics& findings = desk.outcome()->findings;
    const auto bad = std::count_if(findings.begin(), findings.end(), is_to_look_at);
    const char* label = desk.is_correction() ? "What changes" : "Findings";
    const bool was_open = state.findings_open;
    if (!section(ui, label, fmt::format("{} of {} to look at", bad, findings.size()), state.findings_open)) return;
    if (!was_open) ImGui::SetScrollHereY(0.0F); // they begin at the foot of the panel
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

} // namespace padchart::app
