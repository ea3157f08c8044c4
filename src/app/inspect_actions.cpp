#include "app/inspect_actions.hpp"

#include "app/inspect_edits.hpp"

namespace padchart::app {
namespace {

constexpr std::string_view kGroup = "Before and after";

const InspectDesk* desk_in_stage(const Session& s) {
    return s.stage == scene::Stage::Inspect ? s.desks.find<InspectDesk>() : nullptr;
}
const Need in_stage{[](const Session& s) { return desk_in_stage(s) != nullptr; }, "go to Inspect"};
const Need has_before =
    in_stage.and_then({[](const Session& s) { return desk_in_stage(s)->has_before(); }, "freeze or choose a before"});
const Need has_step =
    has_before.and_then({[](const Session& s) { return desk_in_stage(s)->current(s.editor.chart()).has_value(); },
                         "choose a part to look at"});
const Need has_lines =
    Need{[](const Session& s) { return s.stage == scene::Stage::Inspect; }, "go to Inspect"}.and_then(
        {[](const Session& s) { return !scene::checklist_of(s.editor.chart()).empty(); }, "chart a part"});
const Need has_chosen = in_stage.and_then(
    {[](const Session& s) { return desk_in_stage(s)->has_chosen(); }, "the before is the chart's own"});

void add_sources(std::vector<Action>& list) {
    list.push_back({"freeze", "Freeze as before", kGroup, {ctrl(Key::B)}, always, freeze_chart});
    list.push_back({"choose-before", "Choose another chart as before", kGroup, {}, always, ask_for_before});
    list.push_back({"own-before", "Back to the chart's own before", kGroup, {}, has_chosen, [](Session& s) {
                        s.desks.get<InspectDesk>().use_frozen();
                    }});
}

void add_walk(std::vector<Action>& list) {
    list.push_back({"same", "Same as before", kGroup, {{Key::S}}, has_step, mark_same});
    list.push_back({"differs", "Differs from before", kGroup, {{Key::D}}, has_step, begin_differing});
    list.push_back({"unsee", "Not looked at again", kGroup, {}, has_step, forget_mark});
    list.push_back(
        {"next-step", "Next part to look at", kGroup, {{Key::PageDown}}, has_step, [](Session& s) { step_by(s, 1); }});
    list.push_back(
        {"last-step", "Part looked at last", kGroup, {{Key::PageUp}}, has_step, [](Session& s) { step_by(s, -1); }});
}

void add_list(std::vector<Action>& list) {
    list.push_back(
        {"line-after", "Next line of the list after rework", kGroup, {ctrl(Key::PageDown)}, has_lines, [](Session& s) {
             step_line(s, 1);
         }});
    list.push_back({"line-before", "Line before this one", kGroup, {ctrl(Key::PageUp)}, has_lines, [](Session& s) {
                        step_line(s, -1);
                    }});
    list.push_back({"tick-line",
                    "Tick the line of the list, or take its tick back",
                    kGroup,
                    {ctrl(Key::K)},
                    has_lines,
                    tick_line});
}

void add_views(std::vector<Action>& list) {
    struct Way {
        std::string_view id, label;
        Key key;
        InspectView view;
    };
    static constexpr Way kWays[] = {
        {"see-changes", "See the changes", Key::C, InspectView::Changes},
        {"see-before", "See how it was", Key::W, InspectView::Before},
        {"see-flicker", "See before and now in turns", Key::T, InspectView::Flicker},
        {"see-difference", "See both drawings over each other", Key::X, InspectView::Difference},
    };
    for (const Way& way : kWays)
        list.push_back({way.id, way.label, kGroup, {{way.key}}, has_before, [view = way.view](Session& s) {
                            s.desks.get<InspectDesk>().show(view);
                        }});
}

} // namespace

bool inspect_key(Session& s, const Chord& chord) {
    const bool is_down = chord == Chord{Key::Down};
    if ((!is_down && chord != Chord{Key::Up}) || !has_step(s)) return false;
    run(*find_action(is_down ? "next-step" : "last-step"), s);
    return true;
}

void add_inspect_actions(std::vector<Action>& list) {
    add_sources(list);
    add_walk(list);
    add_list(list);
    add_views(list);
}

} // namespace padchart::app
