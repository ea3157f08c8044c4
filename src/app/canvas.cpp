#include "app/canvas.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "app/access_desk.hpp"
#include "app/import_desk.hpp"
#include "app/import_flow.hpp"
#include "app/inspect_edits.hpp"
#include "app/layers_desk.hpp"
#include "app/lock_signs.hpp"
#include "app/measures.hpp"
#include "app/photo_place.hpp"
#include "app/survey_desk.hpp"
#include "app/tools/import_tool.hpp"
#include "app/trace_log.hpp"
#include "geometry/box_overlap.hpp"
#include "scene/labels.hpp"
#include "scene/overlay_words.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

constexpr double kWheelZoom = 1.15;
// Labels are laid out anew only when the zoom has changed by more than this; in between the painter leaves out what
// does not fit.
constexpr double kLayoutStep = 1.25;

// With less, names beside parts would only hide others; with less still, there are no parts to be told apart.
constexpr double kReadableZoom = 11.0;
constexpr double kLeastNamedZoom = 3.0;

// More than these a hand does not follow one by one; the picture is waited for.
constexpr std::size_t kDrawnApart = 50;

// As far beside the board as its names reach.
constexpr double kNames_px = 90.0;
// Beside the words of access the board keeps more: they find room on it as well.
constexpr double kAccessShare = 0.75;
// On a narrow canvas the board comes nearer to its edge.
constexpr double kNarrow_px = 320.0, kRoundNarrow_px = 8.0, kNarrowMargin_px = 6.0;
// The view of the access stage counts in steps, so that not every pixel of a pan asks for another picture; letters may
// be a little larger than they were laid out.
constexpr double kViewStep_px = 24.0, kViewMargin_px = 10.0;
// Words beside the board leave it half of the width, the margins of the whole view taken off.
constexpr double kLeastShare = 0.5, kMargin_px = 14.0;
// Letters keep their size until the next layout.
constexpr double kSlack = 1 / kLayoutStep;
// The board keeps its distance from the edge of the canvas; a name beside it may come nearer.
constexpr double kRoundBoard_px = 26.0;

using Clock = std::chrono::steady_clock;

double layout_zoom(double px_per_mm) {
    return std::pow(kLayoutStep, std::round(std::log(px_per_mm) / std::log(kLayoutStep)));
}

/// What stands for a millimetre where no scale is known: parts of a region that is reworked are 2.5 mm long on average.
/// Common practice, no source.
double millimetre_of(const document::Chart& chart) {
    constexpr std::size_t kMostAsked = 200;
    constexpr double kUsualPart_mm = 2.5;
    if (chart.scale) return 1.0;
    double sum = 0.0;
    std::size_t asked = 0;
    for (std::size_t i = 0; i < chart.parts.size(); i += chart.parts.size() / kMostAsked + 1) {
        const geometry::Box box = bounds_of(chart.parts[i]);
        if (box.is_empty()) continue;
        sum += std::max(box.width(), box.height());
        ++asked;
    }
    return sum > 0.0 ? sum / static_cast<double>(asked) / kUsualPart_mm : 1.0;
}

scene::ViewOptions options_of(const Session& s, double px_per_mm) {
    scene::ViewOptions options;
    options.stage = s.stage;
    options.seen_from = s.seen_from;
    options.selection = s.editor.selection();
    options.show_zones = s.show_zones;
    options.show_pad_numbers = s.show_pad_numbers;
    options.px_per_mm = px_per_mm;
    const double zoom = px_per_mm * millimetre_of(s.editor.shown());
    options.show_labels = zoom >= kLeastNamedZoom;
    options.only_names_that_fit = zoom < kReadableZoom;
    if (const LayersDesk* layers = s.desks.find<LayersDesk>()) {
        options.show_far_side = layers->shows(s.stage, scene::Layer::FarSide);
        options.show_zones = options.show_zones && layers->shows(s.stage, scene::Layer::Zones);
    }
    return options;
}

bool is_narrow(const Session& s) {
    return s.camera.viewport().width() < kNarrow_px * s.ui_scale;
}

double round_board_px(const Session& s) {
    return is_narrow(s) ? kRoundNarrow_px : kRoundBoard_px;
}

/// As far beside the board as words are seen whole, px of scale 1.
double words_reach_px(const Session& s) {
    const bool is_access = s.stage == scene::Stage::Access;
    if (!is_access && s.stage != scene::Stage::Inspect) return kNames_px;
    const double share = is_access ? kAccessShare : kLeastShare;
    const double side_px = s.camera.viewport().width() / s.ui_scale * (1.0 - share) / 2;
    return std::clamp(side_px - view_margin_px(s), round_board_px(s), kNames_px);
}

/// What is seen above legend and scale bar, px of scale 1 rounded to steps, as scene mm of a layout.
geometry::Box view_in_steps(const Session& s, double key_height_px, double px_per_mm) {
    geometry::Box seen = s.camera.visible();
    seen.max.y -= key_height_px / s.camera.px_per_mm();
    seen = seen.grown(-kViewMargin_px / px_per_mm);
    const double step = kViewStep_px / px_per_mm;
    const auto up = [&](double value) { return std::ceil(value / step) * step; };
    const auto down = [&](double value) { return std::floor(value / step) * step; };
    return {{up(seen.min.x), up(seen.min.y)}, {down(seen.max.x), down(seen.max.y)}};
}

/// The board with its parts and photos, scene mm.
geometry::Box board_of(const Session& s, PartBoxes& boxes) {
    geometry::Box board = boxes.bounds(s.editor.shown());
    board.add(bounds_of_photos(s));
    if (is_importing(s)) board.add(s.desks.find<ImportDesk>()->extent_not_understood());
    geometry::Box box;
    if (board.is_empty()) return box;
    for (const geometry::Vec2 corner : {board.min, board.max})
        box.add(scene::scene_from_board(corner, s.seen_from));
    return box;
}

/// What the heat stage draws over the chart.
void add_heat(const Session& s, PictureOrder& order) {
    if (s.stage != scene::Stage::Heat || !s.heat.has_plan()) return;
    order.plan = s.heat.plan();
    order.estimate = s.heat.estimate();
    order.map = s.heat.held_map();
    order.second = s.heat.held_second();
    order.options.heat_time_s = s.heat.time_s;
    order.options.heat_is_stale = s.heat.is_stale();
    order.options.no_aim_is_stale = s.heat.is_map_stale();
}

std::uint64_t layers_revision(const Session& s) {
    const LayersDesk* layers = s.desks.find<LayersDesk>();
    return layers != nullptr ? layers->revision() : 0;
}

} // namespace

double view_margin_px(const Session& s) {
    return is_narrow(s) ? kNarrowMargin_px : kMargin_px;
}

paint::View view_of(const Session& s) {
    return {s.camera.centre(), s.camera.viewport(), s.camera.px_per_mm(), s.ui_scale};
}

Canvas::Canvas()
    : job_([](const PictureOrder& order, const std::stop_token&, const auto& give) { give(make_picture(order)); }) {}

Canvas::Wanted Canvas::wanted_of(Session& s) const {
    Wanted wanted{s.editor.shown_snapshot(),
                  s.editor.selection(),
                  {},
                  s.background.latest(),
                  s.stage,
                  s.seen_from,
                  s.show_zones,
                  s.show_pad_numbers,
                  s.panel == Panel::Import,
                  layout_zoom(s.camera.px_per_mm() / s.ui_scale),
                  words_reach_px(s),
                  s.stage == scene::Stage::Heat ? s.heat.revision() : 0,
                  s.stage == scene::Stage::Access ? s.desks.get<AccessDesk>().revision() : 0,
                  layers_revision(s),
                  inspect_revision(s),
                  {}};
    if (s.stage == scene::Stage::Access) wanted.view = view_in_steps(s, key_height_px_, wanted.px_per_mm);
    // A trace being brought in is no gesture on the chart behind it.
    if (!s.editor.has_preview() || wanted.imports || is_drawn_at_once(*wanted.chart)) return wanted;
    // One picture without them serves the whole gesture.
    std::vector<document::Id> moved = changed_parts(s.editor.chart(), *wanted.chart);
    const bool adds_none = wanted.chart->parts.size() == s.editor.chart().parts.size();
    if (!adds_none || moved.empty() || moved.size() > kDrawnApart) return wanted;
    wanted.chart = s.editor.snapshot();
    wanted.in_hand = std::move(moved);
    return wanted;
}

PictureOrder Canvas::order_of(Session& s, const Wanted& wanted) const {
    PictureOrder order;
    order.number = number_;
    order.sitting = s.editor.sitting();
    order.chart = wanted.chart;
    order.in_hand = wanted.in_hand;
    order.options = options_of(s, wanted.px_per_mm);
    // No frame stays where a part has been.
    std::erase_if(order.options.selection, [&](const document::Id& id) {
        return std::find(order.in_hand.begin(), order.in_hand.end(), id) != order.in_hand.end();
    });
    // While a trace is brought in, what was computed speaks of another chart than the one shown.
    if (!wanted.imports) {
        order.computed = wanted.computed;
        order.fit_in_hand = fit_in_hand(s);
    }
    if (theme_ != nullptr && !is_drawn_at_once(*order.chart)) order.seen = PictureView{view_of(s), theme_};
    add_heat(s, order);
    if (s.stage == scene::Stage::Access) order.access = s.desks.get<AccessDesk>().answer();
    order.inspect = inspect_look(s);
    if (const geometry::Box board = board_of(s, boxes_); !board.is_empty())
        order.inspect.words_within = board.grown(kSlack * wanted.reach_px / wanted.px_per_mm);
    if (wanted.view && order.inspect.words_within)
        order.inspect.words_within = geometry::common(*order.inspect.words_within, *wanted.view);
    if (const LayersDesk* layers = s.desks.find<LayersDesk>()) {
        order.hidden = layers->hidden(s.stage);
        order.hidden_parts = layers->parts();
    }
    return order;
}

bool Canvas::collect() {
    std::optional<std::shared_ptr<const Picture>> came = job_.take();
    if (!came || !may_show(*came)) return false;
    if ((*came)->ground) {
        next_ = std::move(*came);
        return false;
    }
    show(std::move(*came));
    return true;
}

bool Canvas::may_show(const std::shared_ptr<const Picture>& picture) const {
    return picture && picture->order.number > picture_->order.number && picture->order.number >= earliest_;
}

void Canvas::show(std::shared_ptr<const Picture> picture) {
    picture_ = std::move(picture);
    if (next_ && !may_show(next_)) next_.reset();
    if (!is_behind())
        trace("picture", fmt::format("{:.0f} ms after it was asked for",
                                     std::chrono::duration<double, std::milli>(Clock::now() - asked_at_).count()));
}

bool Canvas::misleads(const Session& s) const {
    return picture_->order.sitting != s.editor.sitting() || picture_->order.options.seen_from != s.seen_from;
}

void Canvas::show_nothing(const PictureOrder& instead_of) {
    PictureOrder none;
    none.number = picture_->order.number;
    none.sitting = instead_of.sitting;
    none.chart = std::make_shared<const document::Chart>();
    none.options = instead_of.options;
    none.options.selection.clear();
    picture_ = make_picture(std::move(none));
    earliest_ = instead_of.number;
}

bool Canvas::refresh(Session& s) {
    s.background.update(s.editor.snapshot());
    s.update_heat();
    update_access(s);
    update_inspection(s);
    const bool came = collect();
    Wanted wanted = wanted_of(s);
    if (wanted_ == wanted) return came;
    ++number_;
    asked_at_ = Clock::now();
    PictureOrder order = order_of(s, wanted);
    wanted_ = std::move(wanted);
    if (at_once_ || is_drawn_at_once(*order.chart)) {
        job_.drop();
        picture_ = make_picture(std::move(order));
        return true;
    }
    if (misleads(s)) show_nothing(order);
    job_.ask(std::move(order));
    return true;
}

void Canvas::add_what_is_missing(const Session& s, scene::Scene& overlay) const {
    const document::Chart& chart = s.editor.shown();
    const PictureOrder& seen = picture_->order;
    std::vector<document::Id> ids =
        seen.chart == s.editor.shown_snapshot() ? std::vector<document::Id>() : changed_parts(*seen.chart, chart);
    if (seen.options.selection != s.editor.selection())
        for (const document::Id& id : s.editor.selection())
            if (std::find(ids.begin(), ids.end(), id) == ids.end() && ids.size() <= kDrawnApart) ids.push_back(id);
    // Far more than that is another chart: to look each of them up would take longer than the picture.
    if (ids.size() > 4 * kDrawnApart || seen.chart->parts.empty()) return;
    std::erase_if(ids, [&](const document::Id& id) {
        const auto at = document::find_part(chart, id);
        return !at || chart.parts[*at].placement.side != s.seen_from;
    });
    if (ids.size() > kDrawnApart) return;
    if (!ids.empty()) {
        PictureOrder order = seen;
        order.options.selection = s.editor.selection();
        order.options.px_per_mm = layout_zoom(s.camera.px_per_mm() / s.ui_scale);
        overlay = picture_of_parts(order, chart, ids);
    }
    cover_what_has_gone(s, overlay);
}

void Canvas::cover_what_has_gone(const Session& s, scene::Scene& overlay) const {
    const PictureOrder& seen = picture_->order;
    if (seen.chart == s.editor.shown_snapshot()) return;
    const std::vector<document::Id> gone = changed_parts(s.editor.shown(), *seen.chart);
    if (gone.size() > kDrawnApart) return;
    const geometry::Affine view = scene::scene_from_board(s.seen_from);
    const scene::Role ground = seen.chart->board.outline ? scene::Role::Board : scene::Role::Paper;
    const std::size_t before = overlay.items.size();
    for (const document::Id& id : gone) {
        if (std::find(seen.in_hand.begin(), seen.in_hand.end(), id) != seen.in_hand.end()) continue;
        const document::Footprint& part = seen.chart->parts[*document::find_part(*seen.chart, id)];
        if (part.placement.side != s.seen_from) continue;
        const auto cover = [&](const geometry::Ring& ring) {
            overlay.add(ground, scene::Fill{{geometry::transformed(ring, view), {}}});
        };
        cover(document::extent_on_board(part));
        for (const document::Pad& pad : part.pads)
            cover(document::outline_on_board(part, pad));
    }
    // Below what stands there now.
    std::rotate(overlay.items.begin(), overlay.items.begin() + static_cast<std::ptrdiff_t>(before),
                overlay.items.end());
}

geometry::Box Canvas::whole(const Session& s) const {
    geometry::Box box = board_of(s, boxes_);
    if (box.is_empty()) return box;
    // Names stand beside their parts, a few letters at the most; zones and lines of temperature may run off the board
    // without end.
    const double mm_per_px = s.ui_scale / s.camera.px_per_mm();
    const geometry::Box near = box.grown(words_reach_px(s) * mm_per_px);
    box = box.grown(round_board_px(s) * mm_per_px);
    for (const scene::Text& text : picture_->shown->texts) {
        const geometry::Box words = scene::box_of(text, s.camera.px_per_mm() / s.ui_scale);
        // The end of a very long name is no reason to see the board from far away.
        if (!near.overlaps(words)) continue;
        box.add(geometry::Vec2{std::clamp(words.min.x, near.min.x, near.max.x),
                               std::clamp(words.min.y, near.min.y, near.max.y)});
        box.add(geometry::Vec2{std::clamp(words.max.x, near.min.x, near.max.x),
                               std::clamp(words.max.y, near.min.y, near.max.y)});
    }
    return box;
}

Pointer Canvas::pointer(const Session& s) const {
    return {s.camera.scene_from_screen(at_px_), s.camera.px_per_mm(), s.ui_scale, shift_, ctrl_};
}

ToolContext Canvas::context(Session& s) const {
    Pointer from = pointer(s);
    if (!inside_) from.scene = s.camera.centre();
    return {s.editor, s.seen_from, *picture_->own, *picture_->hits, from};
}

std::optional<geometry::Vec2> Canvas::pointer_scene(const Session& s) const {
    if (!inside_) return std::nullopt;
    return s.camera.scene_from_screen(at_px_);
}

std::shared_ptr<const scene::Scene> Canvas::overlay(Session& s) const {
    auto made = std::make_shared<scene::Scene>();
    if (!picture_->order.in_hand.empty() || is_behind()) add_what_is_missing(s, *made);
    const ToolContext here = context(s);
    const Pointer at = pointer(s);
    if (const MeasureDesk* measures = s.desks.find<MeasureDesk>())
        add_pinned(*made, *measures, s.editor.shown(), at.px_per_mm / at.ui_scale, s.seen_from);
    if (inside_ && !is_dragging() && s.tool->is_selecting()) {
        const document::Id id = here.part_at(at);
        const auto part = document::find_part(s.editor.chart(), id);
        if (part && !s.editor.is_selected(id)) {
            const document::Footprint& under = s.editor.chart().parts[*part];
            // A part that is not there stays dashed.
            const scene::Role role = scene::is_absent(under) ? scene::Role::Marquee : scene::Role::Hover;
            made->add(role, scene::Line{geometry::transformed(document::extent_on_board(under),
                                                              scene::scene_from_board(s.seen_from)),
                                        true, scene::Weight::Bold});
        }
    }
    add_photo_words(s, *made);
    add_lock_signs(*made, s.editor, s.seen_from, s.ui_scale / s.camera.px_per_mm());
    if (s.stage == scene::Stage::Survey) add_survey_overlay(s, *made);
    if (is_importing(s)) add_found_shapes(s.desks.get<ImportDesk>(), here, *made);
    // What a panel speaks of stays in sight while it is used.
    if (inside_ || s.tool->is_selecting() || s.tool->is_led_by_keys() || s.panel == Panel::Import ||
        s.panel == Panel::Proposals || s.panel == Panel::Scale)
        s.tool->overlay(here, at, *made);
    scene::lay_words_off(*made, *picture_->shown, s.camera.visible(), at.px_per_mm / at.ui_scale);
    return made;
}

void Canvas::finish_tool(Session& s) {
    if (!s.tool->is_done()) return;
    s.use_tool(s.resting_tool());
    // These speak of their tool alone: left open they would name keys that mean something else by now.
    const bool goes_along = s.panel == Panel::Trace || s.panel == Panel::Scale || s.panel == Panel::Proposals;
    if (goes_along) s.panel = Panel::Stage;
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
    else if (by != geometry::Vec2{})
        s.tool->hover();
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
    if (chord.key == Key::Escape) s.editor.clear_notice(); // it spoke of what is given up now
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
