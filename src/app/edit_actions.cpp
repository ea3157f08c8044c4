#include "app/edit_actions.hpp"

#include <utility>

#include <fmt/format.h>

#include "app/arrange_desk.hpp"
#include "app/common_needs.hpp"
#include "app/copy_places.hpp"
#include "app/key_file.hpp"
#include "app/layers_desk.hpp"
#include "app/layout_hold.hpp"
#include "app/part_snap.hpp"
#include "app/selection_edits.hpp"
#include "app/tools/measure_tool.hpp"
#include "app/tools/part_tools.hpp"
#include "scene/chart_scene.hpp"

namespace padchart::app {
namespace {

using document::Axis;
using document::Line;
using document::Spread;
using geometry::Vec2;

constexpr std::string_view kArrange = "Arrange";
constexpr std::string_view kHidden = " hidden from view only.";

const Need has_two{[](const Session& s) { return s.editor.selection().size() > 1; }, "select two or more"};
const Need has_three{[](const Session& s) { return s.editor.selection().size() > 2; }, "select three or more"};

ArrangeDesk& desk(Session& s) {
    return s.desks.get<ArrangeDesk>();
}

Vec2 on_board(const Session& s, Vec2 seen) {
    return scene::scene_from_board(seen, s.seen_from);
}

void add_lines(std::vector<Action>& list) {
    struct Way {
        std::string_view id, label;
        Line line;
    };
    constexpr Way kWays[] = {{"line-left", "Bring left edges in line", Line::Left},
                             {"line-centre", "Bring centres in line, across", Line::Centre},
                             {"line-right", "Bring right edges in line", Line::Right},
                             {"line-top", "Bring top edges in line", Line::Top},
                             {"line-middle", "Bring centres in line, down", Line::Middle},
                             {"line-bottom", "Bring bottom edges in line", Line::Bottom}};
    for (const Way& way : kWays)
        list.push_back({way.id, way.label, kArrange, {}, has_two, [line = way.line](Session& s) {
                            align_selected(s.editor, line, desk(s).extent, s.seen_from);
                        }});
}

void add_spreads(std::vector<Action>& list) {
    struct Way {
        std::string_view id, label;
        Axis axis;
        Spread what;
    };
    constexpr Way kWays[] = {{"spread-centres-across", "Spread centres evenly across", Axis::X, Spread::Centres},
                             {"spread-centres-down", "Spread centres evenly down", Axis::Y, Spread::Centres},
                             {"spread-gaps-across", "Spread gaps evenly across", Axis::X, Spread::Gaps},
                             {"spread-gaps-down", "Spread gaps evenly down", Axis::Y, Spread::Gaps}};
    for (const Way& way : kWays)
        list.push_back({way.id, way.label, kArrange, {}, has_three, [axis = way.axis, what = way.what](Session& s) {
                            spread_selected(s.editor, axis, what, desk(s).extent);
                        }});
}

/// Shows the numbers and gives the first field the pen. False where they have been seen: the action may act on them.
bool shows_numbers(Session& s, ArrangeForm form, bool ArrangeDesk::*section, std::string_view what) {
    ArrangeDesk& d = desk(s);
    const bool is_pressed = std::exchange(d.pressed, ArrangeForm::None) == form;
    const bool is_repeated = d.asked == form && d.asked_of == s.editor.selection();
    d.asked = ArrangeForm::None;
    if (is_pressed || is_repeated) return false;
    d.asked = form;
    d.asked_of = s.editor.selection();
    if (s.stage != scene::Stage::Survey) s.show_stage(scene::Stage::Survey);
    s.panel = Panel::Stage;
    d.*section = true;
    d.wants_focus = form;
    s.editor.tell(Severity::Note, fmt::format("Type the numbers for \"{}\", then Enter; or press its button.", what));
    return true;
}

void copy_grid(Session& s) {
    if (shows_numbers(s, ArrangeForm::Grid, &ArrangeDesk::show_grid, "Copies in a grid")) return;
    const ArrangeDesk& d = desk(s);
    copy_selected_to_grid(s.editor, {d.columns, d.rows, on_board(s, {d.column_step_mm, 0}), {0, d.row_step_mm}});
}

void copy_ring(Session& s) {
    if (shows_numbers(s, ArrangeForm::Ring, &ArrangeDesk::show_ring, "Copies in a ring")) return;
    const ArrangeDesk& d = desk(s);
    copy_selected_to_ring(s.editor,
                          {d.places, Angle::degrees(d.step_deg), ring_about(s.editor, d), d.turns, s.seen_from});
}

void fold(Session& s) {
    if (shows_numbers(s, ArrangeForm::Fold, &ArrangeDesk::show_fold, "Over to the far side")) return;
    const ArrangeDesk& d = desk(s);
    auto line = fold_line_through(s.editor, d.fold_along);
    if (!line) return;
    if (d.fold_at_mm) line->at_mm = *d.fold_at_mm;
    fold_selected(s.editor, *line);
}

void move_by(Session& s) {
    if (shows_numbers(s, ArrangeForm::Move, &ArrangeDesk::show_move, "Move by")) return;
    move_selected(s.editor, {desk(s).right_mm, desk(s).down_mm}, s.seen_from);
}

void add_copies(std::vector<Action>& list) {
    list.push_back({"duplicate", "Duplicate", kArrange, {shift(Key::D)}, has_selection, [](Session& s) {
                        duplicate_selected(s.editor, {1.0, 1.0}, s.seen_from);
                    }});
    list.push_back({"move-by", "Move by a distance", kArrange, {}, has_selection, move_by});
    list.push_back({"copy-grid", "Copies in a grid", kArrange, {}, has_selection, copy_grid});
    list.push_back({"copy-ring", "Copies in a ring", kArrange, {}, has_selection, copy_ring});
    list.push_back({"fold", "Fold to the far side, about a line", kArrange, {}, has_selection, fold});
}

void begin_paste(Session& s) {
    document::Fragment things = things_on(s.desks.get<Clipboard>(), s.editor);
    if (things.empty()) return;
    if (!things.parts.empty() && !lays_out(s.stage))
        return s.editor.tell(Severity::Note, "Paste is not possible just now: go to Survey to change parts.");
    // Their millimetres mean nothing among the units of a trace.
    if (!s.editor.chart().scale)
        return s.editor.tell(Severity::Warning, "This chart has no scale: set it before anything is pasted.");
    s.editor.select({});
    s.use_tool(make_paste_tool(std::move(things), s.desks.get<SnapDesk>()));
}

void add_clipboard(std::vector<Action>& list) {
    list.push_back({"copy", "Copy", kArrange, {ctrl(Key::C)}, has_selection, [](Session& s) {
                        copy_selected(s.editor, s.desks.get<Clipboard>());
                    }});
    list.push_back({"cut", "Cut", kArrange, {ctrl(Key::X)}, has_selection, [](Session& s) {
                        cut_selected(s.editor, s.desks.get<Clipboard>());
                    }});
    list.push_back({"paste", "Paste", kArrange, {ctrl(Key::V)}, always, begin_paste});
}

void hide_selected(Session& s) {
    s.desks.get<LayersDesk>().hide(s.editor.selection());
    s.editor.tell(Severity::Note, name_of(s.editor.chart(), s.editor.selection()) + std::string(kHidden));
    s.editor.select({});
}

/// What said that something is hidden would be wrong from now on.
void show_hidden(Session& s) {
    s.desks.get<LayersDesk>().show_parts();
    if (s.editor.notice() && s.editor.notice()->text.ends_with(kHidden)) s.editor.clear_notice();
}

const Need has_hidden{[](const Session& s) {
                          const LayersDesk* layers = s.desks.find<LayersDesk>();
                          return layers != nullptr && !layers->parts().empty();
                      },
                      "nothing is hidden"};

const Need hides_anything{[](const Session& s) {
                              const LayersDesk* layers = s.desks.find<LayersDesk>();
                              return layers != nullptr && (layers->hidden(s.stage).any() || !layers->parts().empty());
                          },
                          "nothing is hidden"};

void add_views(std::vector<Action>& list) {
    list.push_back({"lock", "Lock or unlock", kArrange, {{Key::B}}, has_selection, [](Session& s) {
                        lock_or_unlock_selected(s.editor);
                    }});
    list.push_back({"hide", "Hide from view", "View", {{Key::H}}, has_selection, hide_selected});
    list.push_back({"show-hidden", "Show hidden parts again", "View", {shift(Key::H)}, has_hidden, show_hidden});
    list.push_back({"show-everything", "Show all layers and parts", "View", {}, hides_anything, [](Session& s) {
                        show_hidden(s);
                        s.desks.get<LayersDesk>().show_all(s.stage);
                    }});
    list.push_back({"layers", "Layers: what is shown and what is met", "View", {{Key::Y}}, always, [](Session& s) {
                        s.panel = s.panel == Panel::Layers ? Panel::Stage : Panel::Layers;
                    }});
    list.push_back({"history", "History", "Chart", {{Key::J}}, always, [](Session& s) {
                        s.panel = s.panel == Panel::History ? Panel::Stage : Panel::History;
                    }});
}

const Need has_measured{[](const Session& s) {
                            const MeasureDesk* measures = s.desks.find<MeasureDesk>();
                            return measures != nullptr && !measures->pinned.empty();
                        },
                        "nothing was measured"};

Action measure_action(std::string_view id, std::string_view label, std::vector<Chord> keys, MeasureKind kind) {
    return {id,     label,
            "View", std::move(keys),
            always, [kind](Session& s) {
                s.use_tool(make_measure_tool(s.desks.get<MeasureDesk>(), kind)); }};
}

void add_measures(std::vector<Action>& list) {
    list.push_back(measure_action("measure", "Measure", {{Key::L}}, MeasureKind::Distance));
    list.push_back(measure_action("measure-angle", "Measure an angle", {}, MeasureKind::Angle));
    list.push_back(measure_action("measure-pitch", "Measure a pitch", {}, MeasureKind::Pitch));
    list.push_back(
        {"dismiss-measures", "Take all measured lengths away", "View", {shift(Key::L)}, has_measured, [](Session& s) {
             s.desks.get<MeasureDesk>().pinned.clear();
         }});
}

} // namespace

Vec2 ring_about(const Editor& editor, const ArrangeDesk& d) {
    if (editor.selection_bounds().is_empty()) return {};
    const Vec2 usual = ring_middle(editor.selection_bounds(), Angle::degrees(d.step_deg), bounds_of(editor.chart()));
    return {d.about_x_mm.value_or(usual.x), d.about_y_mm.value_or(usual.y)};
}

void add_edit_actions(std::vector<Action>& list) {
    add_clipboard(list);
    add_copies(list);
    add_lines(list);
    add_spreads(list);
    add_views(list);
    add_measures(list);
    list.push_back({"write-keys", "Write the key file: keys of your own", "View", {}, always, write_key_file});
}

} // namespace padchart::app
