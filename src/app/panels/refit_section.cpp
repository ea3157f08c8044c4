// Which families a part's pads could belong to, and taking one of them.

#include <fmt/format.h>

#include "app/panels/panels.hpp"
#include "app/refit.hpp"
#include "app/trace_log.hpp"
#include "app/widgets.hpp"
#include "patterns/family.hpp"

namespace padchart::app {
namespace {

using document::Footprint;
using patterns::PatternFit;

void take(Session& s, const Footprint& part, const PatternFit& fit) {
    if (!s.editor.commit(refitted(s.editor.chart(), part.id, fit), "Refit " + part.name)) return;
    s.refit = {};
    trace("refit", fit.family);
}

std::string name_of_family(const PatternFit& fit) {
    const patterns::Family* family = patterns::find_family(fit.family);
    return family == nullptr ? fit.family : std::string(family->name);
}

std::string rest_of(const PatternFit& fit) {
    return fmt::format("rms {:.3f}, max {:.3f}, as is {:.2f} mm", fit.rms_mm, fit.max_mm, fit.as_is_rms_mm);
}

void suggestion(const Ui& ui, Session& s, const Footprint& part, const PatternFit& fit) {
    ImGui::PushID(fit.family.c_str());
    const float width = ui.px(64);
    const float room = ImGui::GetContentRegionAvail().x - width - ui.px(10);
    const ImVec2 pen = ImGui::GetCursorPos();
    ImGui::PushFont(ui.fonts().strong);
    ImGui::TextUnformatted(fitted(name_of_family(fit), room).c_str());
    ImGui::PopFont();
    ImGui::TextColored(floats(ui.colours().muted), "%s", fitted(rest_of(fit), room).c_str());
    const ImVec2 after = ImGui::GetCursorPos();
    ImGui::SetCursorPos({pen.x + room + ui.px(10), pen.y});
    const bool taken = button(ui, "Take", ButtonKind::Outlined, width);
    ImGui::SetCursorPos({after.x, std::max(after.y, ImGui::GetCursorPosY())});
    ImGui::PopID();
    if (taken) take(s, part, fit);
}

} // namespace

void compare_with_families(Session& s) {
    const Footprint* part = s.editor.selected_part();
    if (part == nullptr) return;
    if (!s.editor.chart().scale)
        return s.editor.tell(Severity::Warning,
                             "This chart has no scale: pads are compared with families in mm. G sets it.");
    constexpr std::size_t kShown = 6;
    s.show_stage(scene::Stage::Survey);
    s.refit = {part->id, part->pads, patterns::suggest_families(part->pads, kShown), true};
    s.refit.wants_view = true;
    trace("compare", fmt::format("{} with {} families", part->name, s.refit.fits.size()));
}

void refit_section(Ui& ui, Session& s, const Footprint& part) {
    title(ui, "Refit");
    const bool is_answered = s.refit.is_asked && s.refit.part == part.id && s.refit.pads == part.pads;
    if (s.refit.is_asked && !is_answered) s.refit = {};
    if (!is_answered) {
        if (button(ui, "Which families fit its pads?", ButtonKind::Outlined, -1, !part.pads.empty()))
            compare_with_families(s);
        return;
    }
    if (std::exchange(s.refit.wants_view, false)) ImGui::SetScrollHereY(0.1F);
    const std::vector<PatternFit> fits = s.refit.fits; // taking one clears the list
    if (fits.empty())
        return verdict(ui, Tone::Plain, "No family fits these pads.",
                       fmt::format("None lies within {:g} mm of them. They stay as they are drawn.", kFamilyFits_mm));
    muted(ui, "The best first. Left over between pads once stretched; as is: with the family's own measures. "
              "Pads alone never tell what a part is. What you said of it stays.");
    for (const PatternFit& fit : fits)
        suggestion(ui, s, part, fit);
}

} // namespace padchart::app
