#include "app/session.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "app/trace_log.hpp"

namespace padchart::app {

using document::Side;

const analysis::PartFit* Session::fit_of(const document::Id& id) const {
    const Computed* reports = computed();
    if (reports == nullptr) return nullptr;
    const auto& parts = reports->fit.parts;
    const auto found = std::find_if(parts.begin(), parts.end(), [&](const auto& fit) { return fit.part == id; });
    return found == parts.end() ? nullptr : &*found;
}

void Session::show_stage(scene::Stage wanted) {
    panel = Panel::Stage;
    if (stage == wanted) return;
    stage = wanted;
    for (const StageInfo& info : stages())
        if (info.stage == wanted) trace("stage", info.word);
}

void Session::use_tool(std::unique_ptr<Tool> wanted) {
    editor.drop_preview();
    tool = std::move(wanted);
}

void Session::flip_side() {
    editor.drop_preview();
    seen_from = seen_from == Side::Top ? Side::Bottom : Side::Top;
    // The picture is mirrored; look at the same spot of the board.
    camera.look_at({-camera.centre().x, camera.centre().y}, camera.px_per_mm());
    trace("side", document::to_text(seen_from));
}

void Session::go_to(const document::Id& id) {
    const auto at = document::find_part(editor.chart(), id);
    if (!at) return;
    const document::Footprint& part = editor.chart().parts[*at];
    if (part.placement.side != seen_from) flip_side();
    editor.select({id});
    const geometry::Box board = bounds_of(part);
    if (board.is_empty()) return;
    geometry::Box box;
    box.add(scene::scene_from_board(board.min, seen_from));
    box.add(scene::scene_from_board(board.max, seen_from));
    camera.show(box, 60 * ui_scale);
}

document::Chart new_chart() {
    document::Chart chart;
    document::Scale scale;
    scale.source = document::ScaleSource::Drawn;
    scale.relative_uncertainty = 0.02;
    scale.note = "drawn by hand in mm";
    chart.scale = scale;
    return chart;
}

std::span<const StageInfo> stages() {
    static constexpr std::array kStages = {
        StageInfo{scene::Stage::Survey, "Survey", "survey", "icons/survey.svg"},
        StageInfo{scene::Stage::Orient, "Orient", "orient", "icons/orient.svg"},
        StageInfo{scene::Stage::HandOver, "Hand over", "hand-over", "icons/hand-over.svg"},
    };
    return kStages;
}

} // namespace padchart::app
