#include "app/actions.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "app/access_actions.hpp"
#include "app/click_first.hpp"
#include "app/common_needs.hpp"
#include "app/conflict_actions.hpp"
#include "app/documents.hpp"
#include "app/edit_actions.hpp"
#include "app/heat_actions.hpp"
#include "app/hidden_parts.hpp"
#include "app/import_flow.hpp"
#include "app/inspect_actions.hpp"
#include "app/layers_desk.hpp"
#include "app/layout_hold.hpp"
#include "app/legend_plan.hpp"
#include "app/orient_actions.hpp"
#include "app/part_actions.hpp"
#include "app/photo_actions.hpp"
#include "app/plain_words.hpp"
#include "app/scale_desk.hpp"
#include "app/start_actions.hpp"
#include "app/start_desk.hpp"
#include "app/survey_actions.hpp"
#include "app/survey_desk.hpp"
#include "app/trace_actions.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

using document::Presence;
using geometry::Vec2;

// What the arrow keys move, mm: a hair, a step, a stride.
constexpr double kHair_mm = 0.01, kStep_mm = 0.05, kStride_mm = 0.5;

/// To the right is to the right on the screen, whichever side is seen.
void nudge(Session& s, Vec2 on_screen) {
    s.editor.nudge(scene::scene_from_board(on_screen, s.seen_from));
}

Action nudge_action(std::string_view id, std::string_view label, Chord chord, Vec2 by) {
    return {id, label, "Selected parts", {chord}, has_selection, [by](Session& s) { nudge(s, by); }};
}

void add_nudges(std::vector<Action>& list) {
    struct Way {
        std::string_view id, label, hair_id, hair, stride_id, stride;
        Key key;
        Vec2 way;
    };
    constexpr Way kWays[] = {
        {"left",
         "Left by 0.05 mm",
         "left-hair",
         "Left by 0.01 mm",
         "left-stride",
         "Left by 0.5 mm",
         Key::Left,
         {-1, 0}},
        {"right",
         "Right by 0.05 mm",
         "right-hair",
         "Right by 0.01 mm",
         "right-stride",
         "Right by 0.5 mm",
         Key::Right,
         {1, 0}},
        {"up", "Up by 0.05 mm", "up-hair", "Up by 0.01 mm", "up-stride", "Up by 0.5 mm", Key::Up, {0, -1}},
        {"down",
         "Down by 0.05 mm",
         "down-hair",
         "Down by 0.01 mm",
         "down-stride",
         "Down by 0.5 mm",
         Key::Down,
         {0, 1}}};
    for (const Way& way : kWays) {
        list.push_back(nudge_action(way.id, way.label, {way.key}, way.way * kStep_mm));
        list.push_back(nudge_action(way.hair_id, way.hair, ctrl(way.key), way.way * kHair_mm));
        list.push_back(nudge_action(way.stride_id, way.stride, shift(way.key), way.way * kStride_mm));
    }
}

Action turn_action(std::string_view id, std::string_view label, Chord chord, double by_deg) {
    return {id,      label,         "Selected parts",
            {chord}, has_selection, [by_deg](Session& s) { s.editor.turn(Angle::degrees(by_deg), s.seen_from); }};
}

/// Where presence is looked at. Elsewhere a digit may be meant for anything.
void mark_presence(Session& s, Presence presence) {
    if (s.stage == scene::Stage::Survey || s.stage == scene::Stage::Inspect) return s.editor.set_presence(presence);
    s.editor.tell(Severity::Note,
                  fmt::format("{} was not marked as {}: that is done in Survey or Inspect.",
                              name_of(s.editor.chart(), s.editor.selection()), in_speech(document::to_text(presence))));
}

Action presence_action(std::string_view id, std::string_view label, Key key, Presence presence) {
    return {id,      label,         "Selected parts",
            {{key}}, has_selection, [presence](Session& s) { mark_presence(s, presence); }};
}

void add_part_actions(std::vector<Action>& list) {
    list.push_back(turn_action("turn-left", "Turn 15 degrees counter-clockwise", {Key::LeftBracket}, 15));
    list.push_back(turn_action("turn-right", "Turn 15 degrees clockwise", {Key::RightBracket}, -15));
    list.push_back(turn_action("quarter-left", "Turn 90 degrees counter-clockwise", shift(Key::LeftBracket), 90));
    list.push_back(turn_action("quarter-right", "Turn 90 degrees clockwise", shift(Key::RightBracket), -90));
    add_nudges(list);
    list.push_back(presence_action("not-checked", "Mark as not checked", Key::Digit0, Presence::NotChecked));
    list.push_back(presence_action("present", "Mark as present", Key::Digit1, Presence::Present));
    list.push_back(presence_action("missing", "Mark as missing", Key::Digit2, Presence::Missing));
    list.push_back(presence_action("removed", "Mark as removed", Key::Digit3, Presence::Removed));
    list.push_back({"other-side", "Move to the other side", "Selected parts", {}, has_selection, [](Session& s) {
                        s.editor.move_to_other_side();
                    }});
    list.push_back({"delete", "Delete", "Selected parts", {{Key::Delete}}, has_selection, [](Session& s) {
                        s.editor.remove_selected();
                    }});
}

void select_all_shown(Session& s) {
    s.editor.select_all(s.seen_from);
    if (const std::string words = leave_out_hidden(s); !words.empty()) s.editor.tell(Severity::Note, words);
}

void add_chart_actions(std::vector<Action>& list) {
    list.push_back({"new", "New chart", "Chart", {ctrl(Key::N)}, always, [](Session& s) { ask_then_start(s, {}); }});
    list.push_back(
        {"open", "Open a chart", "Chart", {ctrl(Key::O)}, always, [](Session& s) { ask_or_do(s, AfterSaving::Open); }});
    list.push_back({"save", "Save", "Chart", {ctrl(Key::S)}, always, [](Session& s) { save(s); }});
    list.push_back({"save-as", "Save as", "Chart", {ctrl_shift(Key::S)}, always, [](Session& s) {
                        show_file_dialog(s, FileTask::SaveAs);
                    }});
    list.push_back({"import", "Import a trace", "Chart", {ctrl(Key::I)}, always, [](Session& s) {
                        ask_or_do(s, AfterSaving::Import);
                    }});
    list.push_back({"undo",
                    "Undo",
                    "Chart",
                    {ctrl(Key::Z)},
                    {[](const Session& s) { return s.editor.history().can_undo(); }, "nothing was done yet"},
                    [](Session& s) {
                        // What was told of an import is not so any longer once that is taken back.
                        const bool takes_back_import = s.editor.history().current().label.starts_with(kCorrectedTrace);
                        if (undo_shown(s) && takes_back_import) leave_import_report(s);
                    }});
    list.push_back({"redo",
                    "Redo",
                    "Chart",
                    {ctrl(Key::Y), ctrl_shift(Key::Z)},
                    {[](const Session& s) { return s.editor.history().can_redo(); }, "nothing was taken back"},
                    redo_shown});
    list.push_back({"add-part", "Add part", "Chart", {{Key::Insert}}, always, [](Session& s) {
                        s.panel = Panel::AddPart;
                        s.add_part.wants_focus = true;
                    }});
    list.push_back({"draw-part", "Draw a part", "Chart", {shift(Key::Insert)}, always, [](Session& s) {
                        s.use_tool(make_draw_tool());
                        s.editor.select({});
                    }});
    list.push_back({"select-all", "Select all of this side", "Chart", {ctrl(Key::A)}, always, select_all_shown});
    list.push_back(
        {"quit", "Quit", "Chart", {ctrl(Key::Q)}, always, [](Session& s) { ask_or_do(s, AfterSaving::Quit); }});
}

void zoom(Session& s, double factor) {
    s.camera.zoom_at(s.camera.viewport().centre(), factor);
}

/// Short, whole, in pages where it takes them, hidden.
void next_legend(Session& s) {
    int& page = s.desks.get<LegendDesk>().page;
    if (s.show_legend && s.legend_is_cut) {
        page = s.shows_whole_legend ? page + 1 : 0;
        s.shows_whole_legend = true;
        return;
    }
    s.show_legend = !s.show_legend;
    s.shows_whole_legend = false;
}

void add_view_actions(std::vector<Action>& list) {
    list.push_back({"flip-side", "Flip side", "View", {{Key::O}}, always, [](Session& s) { s.flip_side(); }});
    list.push_back(
        {"fit", "Show the whole chart", "View", {{Key::Home}}, always, [](Session& s) { s.wants_fit = true; }});
    list.push_back(
        {"zoom-in", "Nearer", "View", {{Key::Plus}, shift(Key::Plus)}, always, [](Session& s) { zoom(s, 1.25); }});
    list.push_back({"zoom-out", "Farther", "View", {{Key::Minus}}, always, [](Session& s) { zoom(s, 0.8); }});
    list.push_back({"zones", "Show or hide the no-aim zones", "View", {{Key::Z}}, always, [](Session& s) {
                        s.show_zones = !s.show_zones;
                    }});
    list.push_back({"legend", "Legend: short, whole, hidden", "View", {{Key::K}}, always, next_legend});
    list.push_back({"pad-numbers", "Show or hide pad numbers", "View", {{Key::N}}, always, [](Session& s) {
                        s.show_pad_numbers = !s.show_pad_numbers;
                    }});
    list.push_back({"theme", "Light, dark or grey", "View", {{Key::F11}}, always, [](Session& s) {
                        s.theme = s.theme == "paper" ? "dark-room" : s.theme == "dark-room" ? "grey-print" : "paper";
                    }});
    list.push_back({"actions", "All actions", "View", {{Key::Slash}, shift(Key::Slash)}, always, [](Session& s) {
                        s.dialog = ActionsDialog{};
                    }});
    list.push_back({"help", "Help", "View", {{Key::F1}}, always, [](Session& s) { s.dialog = HelpDialog{}; }});
}

void add_stage_actions(std::vector<Action>& list) {
    Key key = Key::F2;
    for (const StageInfo& info : stages()) {
        list.push_back({info.word, info.name, "Stages", {{key}}, always, [stage = info.stage](Session& s) {
                            s.show_stage(stage);
                        }});
        key = static_cast<Key>(static_cast<int>(key) + 1);
    }
}

std::vector<Action> make_actions() {
    std::vector<Action> list;
    add_stage_actions(list);
    add_chart_actions(list);
    add_start_actions(list);
    add_part_actions(list);
    add_view_actions(list);
    add_edit_actions(list);
    add_one_part_actions(list);
    add_orient_actions(list);
    add_survey_actions(list);
    add_heat_actions(list);
    add_access_actions(list);
    add_photo_actions(list);
    add_trace_actions(list);
    add_inspect_actions(list);
    add_conflict_actions(list);
    for (Action& action : list)
        action = held_where_it_must_not(std::move(action));
    for (Action& action : list)
        if (!is_live_while_importing(action.id))
            action.enabled =
                Need{[](const Session& s) { return !is_importing(s); }, "take the trace or give it up"}.and_then(
                    std::move(action.enabled));
    return list;
}

std::vector<Action>& table() {
    static std::vector<Action> all = make_actions();
    return all;
}

} // namespace

std::span<const Action> actions() {
    return table();
}

void set_keys(std::string_view id, std::vector<Chord> keys) {
    for (Action& action : table()) {
        if (action.id != id) continue;
        action.keys = std::move(keys);
        return;
    }
}

const Action* find_action(std::string_view id) {
    const auto all = actions();
    const auto found = std::find_if(all.begin(), all.end(), [&](const Action& action) { return action.id == id; });
    return found == all.end() ? nullptr : &*found;
}

const Action* action_for(const Chord& chord) {
    for (const Action& action : actions())
        if (std::find(action.keys.begin(), action.keys.end(), chord) != action.keys.end()) return &action;
    return nullptr;
}

namespace {

/// A new note or reading on show. Its field has lost the keys by a click elsewhere; what is typed is meant for it.
PinDesk* open_form(Session& session) {
    PinDesk& pin = session.desks.get<SurveyDesk>().pin;
    return is_pin_shown(session) ? &pin : nullptr;
}

bool is_of_number(const Chord& chord) {
    return !chord.shift && ((chord.key >= Key::Digit0 && chord.key <= Key::Digit9) || chord.key == Key::Period ||
                            chord.key == Key::Comma);
}

} // namespace

bool is_meant_for_field(const Session& session) {
    const auto* scale = session.desks.find<ScaleDesk>();
    const auto* survey = session.desks.find<SurveyDesk>();
    return (scale != nullptr && scale->wants_focus) || (survey != nullptr && survey->pin.wants_focus);
}

namespace {

/// Plain Enter records in Orient; elsewhere nothing has asked for a mark.
bool is_idle_enter(const Session& session, const Chord& chord) {
    if (chord != Chord{Key::Enter}) return false;
    const Action* action = action_for(chord);
    const bool is_asked = session.stage == scene::Stage::Orient && session.panel == Panel::Stage;
    return action != nullptr && action->id == "record-mark" && !is_asked;
}

} // namespace

bool held_back(Session& session, const Chord& chord) {
    if (chord.key == Key::Enter && is_importing(session)) {
        // Elsewhere it records of a part, and of the chart behind nobody speaks now.
        session.editor.tell(Severity::Note, fmt::format("Enter takes no trace; {} does.", word_of_taking(session)));
        return true;
    }
    const bool awaits_place = session.tool->awaits_click() && chord == Chord{Key::Enter};
    if (!awaits_place && is_idle_enter(session, chord)) return true;
    if (!is_typing(chord) && !awaits_place) return false;
    if (session.tool->awaits_click()) {
        session.editor.tell(Severity::Note, std::string(kClickFirst));
        return true;
    }
    ScaleDesk& scale = session.desks.get<ScaleDesk>();
    const bool lists_actions = chord.key == Key::Slash && !chord.shift;
    if (session.panel == Panel::Scale && !session.tool->is_selecting() && scale.points.size() == 2 && !lists_actions) {
        session.editor.tell(Severity::Note, "The measured distance takes the digits; Esc drops the points.");
        if (is_of_number(chord)) {
            scale.wants_focus = true;
            scale.distance_mm.reset(); // what is typed now is not to be put behind it
        }
        return true;
    }
    PinDesk* const pin = open_form(session);
    if (pin == nullptr) return false;
    pin->wants_focus = true;
    session.editor.tell(Severity::Note,
                        fmt::format("The open {} takes the keys; Esc leaves it.", pin->note ? "note" : "reading"));
    return true;
}

namespace {

std::string why_not(const Action& action, const Session& s) {
    if (is_importing(s) && !is_live_while_importing(action.id))
        return fmt::format("{} waits until the trace is taken or given up: the chart behind it is not touched "
                           "meanwhile.",
                           action.label);
    return fmt::format("{} is not possible just now: {}.", action.label, action.enabled.missing(s));
}

} // namespace

void run(const Action& action, Session& session) {
    if (!action.enabled(session)) return session.editor.tell(Severity::Note, why_not(action, session));
    trace("action", action.id);
    action.run(session);
}

} // namespace padchart::app
