#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/layers_desk.hpp"
#include "app/panels/edit_panels.hpp"
#include "app/panels/heat_widgets.hpp"
#include "app/part_snap.hpp"
#include "app/refused_field.hpp"
#include "app/widgets.hpp"

namespace padchart::app {
namespace {

std::string_view stage_name(const Session& s) {
    for (const StageInfo& info : stages())
        if (info.stage == s.stage) return info.name;
    return "this stage";
}

void layer_toggles(Ui& ui, Session& s, LayersDesk& desk) {
    for (std::size_t i = 0; i < scene::kLayerCount; ++i) {
        const auto layer = static_cast<scene::Layer>(i);
        if (layer == scene::Layer::Photos && s.editor.chart().photos.empty()) continue;
        bool on = desk.shows(s.stage, layer);
        if (toggle(ui, std::string(scene::label_of(layer)).c_str(), on)) desk.show(s.stage, layer, on);
    }
    gap(ui, 2);
    const Action& all = *find_action("show-everything");
    if (button(ui, "Show everything", ButtonKind::Outlined, -1, all.enabled(s), ui.px(30))) run(all, s);
}

void hidden_parts(Ui& ui, Session& s, LayersDesk& desk) {
    if (desk.parts().empty()) return muted(ui, "No part is hidden by itself.");
    const std::size_t count = desk.parts().size();
    wrapped(ui, fmt::format("Hidden: {}", name_of(s.editor.chart(), desk.parts())));
    if (button(ui, count == 1 ? "Show it again" : "Show them again", ButtonKind::Outlined, -1, true, ui.px(30)))
        run(*find_action("show-hidden"), s);
}

void snap_fields(Ui& ui, Session& s) {
    SnapDesk& snap = s.desks.get<SnapDesk>();
    toggle(ui, "Middles of other pads", snap.pads);
    toggle(ui, "In line with neighbours", snap.alignment);
    ImGui::BeginDisabled(!snap.alignment);
    toggle(ui, "Same pitch, midway, opposite", snap.pitch);
    ImGui::EndDisabled();
    number_field(
        ui, "Step of moves", snap.grid_mm, "mm",
        [&s](std::optional<double> typed) {
            if (!typed || *typed < 0 || *typed > 100) {
                keep_pen();
                return s.editor.tell(Severity::Warning, "A step is from 0 (none) to 100 mm.");
            }
            s.desks.get<SnapDesk>().grid_mm = *typed;
        },
        [&s](std::string why) { s.editor.tell(Severity::Warning, std::move(why)); });
    muted(ui, "Ctrl held while dragging lets nothing be met.");
}

} // namespace

void layers_panel(Ui& ui, Session& s) {
    LayersDesk& desk = s.desks.get<LayersDesk>();
    heading(ui, "What is shown");
    muted(ui, fmt::format("In {}; every stage keeps its own choice. The chart stays as it is.", stage_name(s)));
    gap(ui, 4);
    if (button(ui, "Back", ButtonKind::Plain, share_of_line(3))) s.panel = Panel::Stage;
    rule(ui);
    layer_toggles(ui, s, desk);
    rule(ui);
    title(ui, "Single parts");
    hidden_parts(ui, s, desk);
    rule(ui);
    title(ui, "What a moved part meets");
    snap_fields(ui, s);
}

} // namespace padchart::app
