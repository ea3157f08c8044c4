// The part in hand: before beside now, what is told of it, same or different.

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/inspect_photos.hpp"
#include "app/panels/body.hpp"
#include "app/panels/inspect_parts.hpp"
#include "app/panels/side_by_side.hpp"
#include "app/photo_edits.hpp"
#include "app/tip.hpp"
#include "app/widgets.hpp"
#include "document/edits.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using analysis::SweepStep;
using analysis::SweepZone;
using document::Condition;
using document::Footprint;

const Footprint* find(const document::Chart& chart, const document::Id& id) {
    const auto at = document::find_part(chart, id);
    return at ? &chart.parts[*at] : nullptr;
}

Pane pane_of(const Footprint* part, const char* title, const char* without) {
    if (part == nullptr) return {nullptr, title, {without, "", ""}};
    return {part,
            title,
            {part->value.empty() ? scene::in_words(part->part_class) : part->value,
             part->orientation.state == document::RecordState::Recorded
                 ? scene::mark_place(*part) + ": " + scene::mark_and_meaning(part->orientation)
             : part->orientation.state == document::RecordState::NoMark ? "no mark to be seen"
                                                                        : "mark not recorded",
             scene::condition_in_words(*part)},
            scene::is_absent(*part)};
}

std::string why_here(const SweepStep& step) {
    switch (step.zone) {
    case SweepZone::Neighbour: return "beside the heat";
    case SweepZone::NeighbourThrough: return "behind the heat";
    case SweepZone::Target: return "reworked";
    case SweepZone::Rest: return "away from the heat";
    }
    return {};
}

void told(Ui& ui, const Inspection& inspection, const SweepStep& step) {
    for (const std::size_t i : step.changes) {
        const analysis::Change& change = inspection.report.changes[i];
        dot(ui, change.harmless ? Tone::Fine : Tone::Danger, !change.harmless);
        ImGui::SameLine(0, ui.px(8));
        wrapped(ui, change.message);
    }
    if (step.changes.empty()) muted(ui, "The charts tell no difference; what do your eyes say?");
}

template <class Enum>
void state_field(Ui& ui, Session& s, const Footprint& part, const char* label, Enum Condition::*field) {
    const document::Id id = part.id;
    word_field<Enum>(ui, label, part.condition.*field, [&s, id, field, label](Enum value) {
        const Footprint* now = find(s.editor.chart(), id);
        if (now == nullptr) return;
        Condition condition = now->condition;
        condition.*field = value;
        s.editor.commit(document::set_condition(s.editor.chart(), id, std::move(condition)), label);
    });
}

/// What can be said of a part that differs.
void difference_fields(Ui& ui, Session& s, const SweepStep& step, const document::Tick& tick) {
    const std::string note = tick.note;
    if (std::exchange(s.desks.get<InspectDesk>().wants_words, false)) {
        ImGui::SetScrollHereY();
        ImGui::SetKeyboardFocusHere();
        ui.await_focus();
    }
    text_field(
        ui, "What differs", note, [&s](const std::string& text) { mark_differs(s, text); }, "sits 0.3 mm to the left");
    const Footprint* now = find(s.editor.chart(), step.after_id);
    if (now == nullptr) return;
    const Footprint part = *now; // a commit replaces the chart
    state_field(ui, s, part, "On the board", &Condition::presence);
    state_field(ui, s, part, "Seating", &Condition::seating);
    state_field(ui, s, part, "Joints", &Condition::joint);
    state_field(ui, s, part, "Body", &Condition::body);
    state_field(ui, s, part, "Lands", &Condition::land);
}

std::string seen_words(const document::Tick& tick) {
    std::string text = tick.done ? "As before" : "Differs";
    if (!tick.by.empty()) text += ", says " + tick.by;
    if (!tick.date.empty()) text += ", " + tick.date;
    return text + ".";
}

/// At the left end of the last item, a filled button. A shape: not every font of the panels has such a letter.
void done_sign(const Ui& ui) {
    const ImVec2 min = ImGui::GetItemRectMin(), max = ImGui::GetItemRectMax();
    const float x = min.x + ui.px(10), y = std::round((min.y + max.y) / 2);
    const ImVec2 points[] = {{x, y}, {x + ui.px(4), y + ui.px(4)}, {x + ui.px(11), y - ui.px(5)}};
    ImGui::GetWindowDrawList()->AddPolyline(points, 3, packed(ui.colours().panel), 0, ui.px(2));
}

void answers(Ui& ui, Session& s, const SweepStep& step) {
    const document::Tick* tick = analysis::sweep_tick(s.editor.chart(), step.subject());
    const float half = share_of_line(2);
    const Action& same = *find_action("same");
    const Action& differs = *find_action("differs");
    const bool is_same = tick != nullptr && tick->done;
    const bool is_other = tick != nullptr && !tick->done;
    const char* const same_label = is_same ? "As before (S)" : "Same as before (S)"; // leaves room for the sign
    if (button(ui, same_label, is_other ? ButtonKind::Outlined : ButtonKind::Filled, half,
               same.enabled(s) && !step.after_id.is_empty()))
        run(same, s);
    if (is_same) done_sign(ui);
    ImGui::SameLine();
    if (button(ui, "Differs (D)", is_other ? ButtonKind::Filled : ButtonKind::Outlined, half, differs.enabled(s)))
        run(differs, s);
}

/// What a person has said of it.
void said(Ui& ui, Session& s, const SweepStep& step) {
    const document::Tick* tick = analysis::sweep_tick(s.editor.chart(), step.subject());
    if (tick == nullptr) return;
    muted(ui, seen_words(*tick));
    if (tick->done) return;
    const document::Tick kept = *tick;
    difference_fields(ui, s, step, kept);
}

void walk_buttons(Ui& ui, Session& s) {
    const float third = share_of_line(3);
    for (const auto& [id, label] : {std::pair{"last-step", "Back"}, {"next-step", "Next"}, {"unsee", "Not seen"}}) {
        const Action& action = *find_action(id);
        if (id != std::string_view("last-step")) ImGui::SameLine();
        if (button(ui, label, ButtonKind::Plain, third, action.enabled(s))) run(action, s);
        if (ImGui::IsItemHovered() && !action.keys.empty())
            tip(ui, std::string(action.label) + ": " + to_text(action.keys.front()));
    }
}

std::optional<std::size_t> step_in_hand(Session& s, const Inspection& inspection) {
    const auto at = s.desks.get<InspectDesk>().current(s.editor.chart());
    return at && *at < inspection.steps.size() ? at : std::nullopt;
}

} // namespace

void inspect_footer(Ui& ui, Session& s, const Inspection& inspection) {
    const auto at = step_in_hand(s, inspection);
    begin_footer(ui);
    if (at) {
        const SweepStep step = inspection.steps[*at];
        answers(ui, s, step);
        walk_buttons(ui, s);
    }
    end_footer(ui, s.desks.get<InspectDesk>().footer_height);
}

void inspect_step(Ui& ui, Session& s, const Inspection& inspection) {
    const auto at = step_in_hand(s, inspection);
    if (!at) return;
    const SweepStep step = inspection.steps[*at];
    const std::string name = step.name.empty() ? "Part without a name" : step.name;
    title(ui, fmt::format("{}, part {} of {}", name, *at + 1, inspection.steps.size()));
    ImGui::SameLine();
    muted(ui, why_here(step));
    side_by_side(ui, pane_of(find(*inspection.before, step.before_id), "before", "not there"),
                 pane_of(find(s.editor.chart(), step.after_id), "now", "not on the chart"));
    told(ui, inspection, step);
    said(ui, s, step);
}

namespace {

/// Which photos lie below the drawing, or what it takes that two do.
void photos_in_words(const Ui& ui, const Session& s, InspectView view) {
    if (view == InspectView::Changes || s.editor.chart().photos.empty()) return;
    const auto pair = inspected_photos(s);
    if (!pair)
        return muted(ui, "For photos in turns, place one of this side from before and one from now on the board.");
    const std::string names = photo_name(pair->photos.before) + " before, " + photo_name(pair->photos.after) + " now";
    muted(ui, view == InspectView::Difference
                  ? "Photos: " + names + ". Grey: the same. Lighter, darker: what it is now. Another light shows too."
                  : "Photos: " + names + '.');
}

} // namespace

void inspect_views(const Ui& ui, Session& s) {
    gap(ui, 2);
    InspectDesk& desk = s.desks.get<InspectDesk>();
    struct Way {
        const char* label;
        const char* action;
        InspectView view;
    };
    static constexpr std::array kWays{Way{"Changes", "see-changes", InspectView::Changes},
                                      Way{"Before", "see-before", InspectView::Before},
                                      Way{"In turns", "see-flicker", InspectView::Flicker},
                                      Way{"Overlaid", "see-difference", InspectView::Difference}};
    muted(ui, "The board shows");
    const float width = (ImGui::GetContentRegionAvail().x - 3 * ui.px(6)) / 4;
    for (const Way& way : kWays) {
        if (&way != kWays.data()) ImGui::SameLine(0, ui.px(6));
        const Action& action = *find_action(way.action);
        const ButtonKind kind = desk.view() == way.view ? ButtonKind::Filled : ButtonKind::Plain;
        if (button(ui, way.label, kind, width, action.enabled(s), ui.px(30))) run(action, s);
        if (ImGui::IsItemHovered()) tip(ui, to_text(action.keys.front()));
    }
    if (desk.view() == InspectView::Flicker)
        muted(ui, desk.shows_before() ? "Just now: before." : "Just now: as it is.");
    if (desk.view() == InspectView::Difference) muted(ui, "Dashed: before. Solid: now.");
    photos_in_words(ui, s, desk.view());
}

} // namespace padchart::app
