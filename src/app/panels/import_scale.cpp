// The scale of a trace, measured on its preview.

#include "app/panels/import_parts.hpp"

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/panels/heat_widgets.hpp"
#include "app/panels/scale_fields.hpp"
#include "app/tools/import_tool.hpp"
#include "app/tools/scale_tool.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

using document::Scale;

/// Short where the fields below ask for it already: the list of what was found wants the room.
void told_scale(const Ui& ui, const std::optional<Scale>& scale, bool is_asked_for) {
    if (!scale)
        verdict(ui, Tone::Danger, "No scale is known.",
                is_asked_for ? ""
                             : "The trace states no physical size. Set it now from two points or a part of known "
                               "size; until then nothing can be read in mm.");
    else if (scale->relative_uncertainty >= svg::kGuessedScale)
        verdict(ui, Tone::Unknown, "The scale is a guess.",
                is_asked_for ? "" : "The trace states its size in px. Measure it below.");
}

/// The pointer measures exactly while the fields are in sight.
void hand_pointer(Session& s, ImportDesk& desk, ImportPanelState& state, bool measures) {
    if (state.measures == measures) return;
    state.measures = measures;
    ScaleDesk& scale = s.desks.get<ScaleDesk>();
    scale.forget_picks();
    s.use_tool(measures ? make_scale_tool(scale) : make_import_tool(desk));
}

} // namespace

void import_scale_section(Ui& ui, Session& s, ImportDesk& desk, ImportPanelState& state) {
    if (!desk.outcome()->result) return hand_pointer(s, desk, state, false);
    const document::Chart& chart = desk.outcome()->result->chart;
    const bool known = chart.scale.has_value();
    told_scale(ui, chart.scale, state.scale_open && !desk.is_correction());
    if (state.taken != desk.scale()) {
        state.taken = desk.scale();
        state.scale_open = state.scale_open && !state.taken; // taken: the pointer is wanted for shapes again
    }
    const std::string summary =
        known ? fmt::format("within {:.2g} %", chart.scale->relative_uncertainty * 100) : "not known";
    const bool open = section(ui, "Scale", summary, state.scale_open);
    hand_pointer(s, desk, state, open && !desk.is_correction());
    if (!open) return;
    if (known) muted(ui, analysis::scale_words(*chart.scale));
    if (desk.is_correction()) return muted(ui, "A corrected trace takes the scale of the chart where that is surer.");
    ScaleDesk& scale = s.desks.get<ScaleDesk>();
    scale_fields(ui, s, scale, chart);
    const bool ready = scale_outcome(ui, scale, chart);
    const float half = share_of_line(2);
    const bool can_take = ready && !desk.is_making();
    if (button(ui, "Take this scale", ButtonKind::Outlined, half, can_take) || (can_take && scale.is_entered))
        run(*find_action("take-scale"), s);
    ImGui::SameLine();
    if (button(ui, "The trace's own", ButtonKind::Outlined, half, desk.scale().has_value())) {
        desk.set_scale(std::nullopt);
        s.wants_fit = true;
    }
}

} // namespace padchart::app
