#include "app/canvas.hpp"

#include "app/access_desk.hpp"
#include "app/inspect_edits.hpp"
#include "app/inspect_picture.hpp"
#include "app/layers_desk.hpp"
#include "app/measures.hpp"
#include "app/orient_desk.hpp"
#include "app/survey_desk.hpp"
#include "scene/access_overlay.hpp"
#include "scene/labels.hpp"

#include <cmath>

namespace padchart::app {
namespace {

constexpr double kWheelZoom = 1.15;
// Labels are laid out anew only when the zoom has changed by more than this; in between the painter leaves out what
// does not fit.
constexpr double kLayoutStep = 1.25;

// With less, names would only hide the parts they stand for.
constexpr double kReadableZoom = 11.0;

// As far beside the board as its names reach.
constexpr double kNames_px = 90.0;

double layout_zoom(double px_per_mm) {
    return std::pow(kLayoutStep, std::round(std::log(px_per_mm) / std::log(kLayoutStep)));
}

scene::ViewOptions options_of(const Session& s, double px_per_mm) {
    scene::ViewOptions options;
    options.stage = s.stage;
    options.seen_from = s.seen_from;
    options.selection = s.editor.selection();
    options.show_zones = s.show_zones;
    options.show_pad_numbers = s.show_pad_numbers;
    options.px_per_mm = px_per_mm;
    options.show_labels = px_per_mm >= kReadableZoom;
    if (const LayersDesk* layers = s.desks.find<LayersDesk>()) {
        options.show_far_side = layers->shows(s.stage, scene::Layer::FarSide);
        options.show_zones = options.show_zones && layers->shows(s.stage, scene::Layer::Zones);
    }
    return options;
}

/// What the heat stage draws over the chart. Requires: the answers live as long as the reports are used.
void add_heat(const Session& s, scene::Reports& reports, scene::ViewOptions& options) {
    if (s.stage != scene::Stage::Heat || !s.heat.has_plan()) return;
    reports.plan = &s.heat.plan();
    if (s.heat.estimate() && s.heat.estimate()->report) reports.heat = &*s.heat.estimate()->report;
    if (const NoAimAnswer* map = s.heat.map(); map != nullptr && map->report) reports.no_aim = &*map->report;
    if (const Estimate* second = s.heat.second()) reports.compared = &second->question.plan;
    options.heat_time_s = s.heat.time_s;
    options.heat_is_stale = s.heat.is_stale();
    options.no_aim_is_stale = s.heat.is_map_stale();
}

scene::Scene scene_of(Session& s, const scene::Reports& reports, const scene::ViewOptions& options) {
    if (s.stage != scene::Stage::Access) return scene::chart_scene(s.editor.shown(), reports, options);
    return scene::access_scene(s.editor.shown(), reports, options, s.desks.get<AccessDesk>().report());
}

std::uint64_t layers_revision(const Session& s) {
    const LayersDesk* layers = s.desks.find<LayersDesk>();
    return layers != nullptr ? layers->revision() : 0;
}

} // namespace

bool Canvas::refresh(Session& s) {
    s.background.update(s.editor.snapshot());
    s.update_heat();
    update_access(s);
    update_inspection(s);
    const Computed* computed = s.computed();
    const double zoom = layout_zoom(s.camera.px_per_mm() / s.ui_scale);
    const SceneKey key{s.editor.version(),
                       computed,
                       s.stage,
                       s.seen_from,
                       s.show_zones,
                       s.show_pad_numbers,
                       zoom,
                       s.stage == scene::Stage::Heat ? s.heat.revision() : 0,
                       s.stage == scene::Stage::Access ? s.desks.get<AccessDesk>().revision() : 0,
                       layers_revision(s),
                       inspect_revision(s)};
    if (built_ == key) return false;
    built_ = key;
    scene::Reports reports;
    // While a trace is brought in, what was computed speaks of another chart than the one shown.
    if (computed != nullptr && s.panel != Panel::Import) reports = {&computed->clearance, fit_shown(s)};
    scene::ViewOptions options = options_of(s, zoom);
    add_heat(s, reports, options);
    auto made = std::make_shared<scene::Scene>(scene_of(s, reports, options));
    if (const LayersDesk* layers = s.desks.find<LayersDesk>())
        scene::hide(*made, s.editor.shown(), layers->hidden(s.stage), layers->parts());
    std::optional<scene::Scene> instead = inspect_picture(s, options, *made);
    hits_ = std::make_shared<scene::HitTest>(*made);
    hit_scene_ = made;
    scene_ = instead ? std::make_shared<scene::Scene>(std::move(*instead)) : std::move(made);
    return true;
}

geometry::Box Canvas::whole(const Session& s) const {
    const geometry::Box board = bounds_of(s.editor.shown());
    geometry::Box box;
    if (board.is_empty()) return box;
    for (const geometry::Vec2 corner : {board.min, board.max})
        box.add(scene::scene_from_board(corner, s.seen_from));
    // Names stand beside their parts, a few letters at the most; zones and lines of temperature may run off the board
    // without end.
    const geometry::Box near = box.grown(kNames_px * s.ui_scale / s.camera.px_per_mm());
    for (const scene::Text& text : scene_->texts) {
        const geometry::Box words = scene::box_of(text, s.camera.px_per_mm() / s.ui_scale);
        if (near.overlaps(words)) box.add(words);
    }
    return box;
}

Pointer Canvas::pointer(const Session& s) const {
    return {s.camera.scene_from_screen(at_px_), s.camera.px_per_mm(), s.ui_scale, shift_, ctrl_};
}

ToolContext Canvas::context(Session& s) const {
    return {s.editor, s.seen_from, *hit_scene_, *hits_};
}

std::optional<geometry::Vec2> Canvas::pointer_scene(const Session& s) const {
    if (!inside_) return std::nullopt;
    return s.camera.scene_from_screen(at_px_);
}

std::shared_ptr<const scene::Scene> Canvas::overlay(Session& s) const {
    auto made = std::make_shared<scene::Scene>();
    const ToolContext here = context(s);
    const Pointer at = pointer(s);
    if (const MeasureDesk* measures = s.desks.find<MeasureDesk>())
        add_pinned(*made, *measures, s.editor.shown(), at.px_per_mm / at.ui_scale, s.seen_from);
    if (inside_ && !is_dragging() && s.tool->is_selecting()) {
        const document::Id id = here.part_at(at);
        const auto part = document::find_part(s.editor.chart(), id);
        if (part && !s.editor.is_selected(id)) {
            const auto ring = document::extent_on_board(s.editor.chart().parts[*part]);
            made->add(scene::Role::Hover, scene::Line{geometry::transformed(ring, scene::scene_from_board(s.seen_from)),
                                                      true, scene::Weight::Bold});
        }
    }
    if (s.stage == scene::Stage::Survey) add_survey_overlay(s, *made);
    // What a trace holds that nothing is known of stays in sight while its panel is used.
    if (inside_ || s.tool->is_selecting() || s.panel == Panel::Import || s.panel == Panel::Proposals)
        s.tool->overlay(here, at, *made);
    return made;
}

void Canvas::finish_tool(Session& s) {
    if (s.tool->is_done()) s.use_tool(s.resting_tool());
}

void Canvas::press(const InputEvent& event, Session& s) {
    if (is_dragging()) return; // a second button in the middle of a gesture means nothing
    drag_button_ = event.button;
    const bool pans = event.button != MouseButton::Left || space_;
    if (pans) {
        panning_ = true;
        return;
    }
    tool_drag_ = true;
    const bool selects = s.tool->is_selecting();
    s.tool->press(context(s), pointer(s));
    // Whoever clicks a part while the findings are listed wants to see the part.
    if (selects && s.panel == Panel::Findings && !s.editor.selection().empty()) s.panel = Panel::Stage;
    finish_tool(s);
}

void Canvas::release(const InputEvent& event, Session& s) {
    if (event.button != drag_button_) return;
    if (panning_) {
        panning_ = false;
        return;
    }
    if (!tool_drag_) return;
    tool_drag_ = false;
    s.tool->release(context(s), pointer(s));
    finish_tool(s);
}

void Canvas::move(const InputEvent& event, Session& s) {
    const geometry::Vec2 by = event.at_px - at_px_;
    at_px_ = event.at_px;
    if (panning_)
        s.camera.pan(by);
    else if (tool_drag_)
        s.tool->move(context(s), pointer(s));
}

void Canvas::handle(const InputEvent& event, Session& s, bool is_over) {
    shift_ = event.shift;
    ctrl_ = event.ctrl;
    switch (event.kind) {
    case InputEvent::Kind::Move:
        inside_ = is_over || is_dragging();
        move(event, s);
        break;
    case InputEvent::Kind::Button:
        move({.kind = InputEvent::Kind::Move, .at_px = event.at_px}, s);
        inside_ = is_over || is_dragging();
        if (event.down && is_over) press(event, s);
        if (!event.down) release(event, s);
        break;
    case InputEvent::Kind::Wheel:
        at_px_ = event.at_px;
        if (is_over) s.camera.zoom_at(event.at_px, std::pow(kWheelZoom, event.wheel));
        break;
    case InputEvent::Kind::Left: inside_ = is_dragging(); break;
    case InputEvent::Kind::LostFocus:
        if (tool_drag_) s.tool->cancel(context(s));
        panning_ = tool_drag_ = space_ = false;
        finish_tool(s);
        break;
    case InputEvent::Kind::KeyChange:
    case InputEvent::Kind::Text: break;
    }
}

bool Canvas::key(const Chord& chord, Session& s) {
    if (chord.key == Key::Escape && s.tool->cancel(context(s))) {
        tool_drag_ = false;
        finish_tool(s);
        return true;
    }
    const bool used = s.tool->key(context(s), chord);
    finish_tool(s);
    return used;
}

} // namespace padchart::app
