#include "app/survey_actions.hpp"

#include <fmt/format.h>

#include "app/common_needs.hpp"
#include "app/name_walk.hpp"
#include "app/survey_desk.hpp"
#include "app/tools/pin_tool.hpp"
#include "app/trace_log.hpp"

namespace padchart::app {
namespace {

constexpr std::string_view kGroup = "Survey";

const Need in_survey =
    Need{[](const Session& s) { return s.stage == scene::Stage::Survey; }, "go to Survey"}.and_then(has_pads);

/// `begin` where Enter may say so: on the selected part.
std::function<bool()> on_selected(Session& s, void (*begin)(Session&)) {
    if (s.editor.selected_part() == nullptr) return {};
    return [&s, begin] {
        if (s.editor.selected_part() != nullptr) begin(s);
        return true;
    };
}

std::string pin_hint(const Session& s, const char* click) {
    const document::Footprint* part = s.editor.selected_part();
    if (part == nullptr) return std::string(click) + ", or arrows and Enter, Esc leaves";
    return fmt::format("{}, Enter puts it on {}, Esc leaves", click, part->name.empty() ? "the part" : part->name);
}

void pin_note(Session& s) {
    s.use_tool(make_pin_tool(
        pin_hint(s, "Click where the note belongs"),
        [&s](const PinnedPlace& place) {
            begin_note(s, place.at, place.side, place.part);
            return true;
        },
        on_selected(s, begin_note_on_part)));
}

void pin_reading(Session& s) {
    s.use_tool(make_pin_tool(
        pin_hint(s, "Click the point that was measured"),
        [&s](const PinnedPlace& place) {
            begin_reading(s, place.at, place.side, place.part, place.pad);
            return true;
        },
        on_selected(s, begin_reading_at_part)));
}

void show_only(Session& s) {
    show_part_list(s);
    s.desks.get<SurveyDesk>().shows_filters = true;
}

void show_all_parts(Session& s) {
    show_part_list(s);
    PartWishes& wishes = s.desks.get<SurveyDesk>().wishes;
    PartWishes all;
    all.sort = wishes.sort;
    all.descending = wishes.descending;
    wishes = all;
}

/// Of the selected part, wrapping round. The board and the panel point it out.
void step_pad(Session& s, std::ptrdiff_t by) {
    const document::Footprint& part = *s.editor.selected_part();
    SurveyDesk& desk = s.desks.get<SurveyDesk>();
    const auto count = static_cast<std::ptrdiff_t>(part.pads.size());
    const bool has_one = desk.pad.part == part.id && desk.pad.pad < part.pads.size();
    const std::ptrdiff_t from = has_one ? static_cast<std::ptrdiff_t>(desk.pad.pad) : by > 0 ? -1 : 0;
    desk.pad = {part.id, static_cast<std::size_t>((from + by + count) % count)};
    desk.wants_pads = true;
    const std::string name = pad_in_words(part, desk.pad.pad);
    s.editor.tell(Severity::Note, awaits_lifted_land(s, part.id) ? name + " is chosen: Enter says that its land is "
                                                                          "lifted. Esc leaves."
                                                                 : name + " is chosen.");
    trace("pad", name);
}

Action sort_action(std::string_view id, std::string_view label, PartColumn column) {
    return {id, label, kGroup, {}, has_parts, [column](Session& s) {
                show_part_list(s);
                sort_by(s.desks.get<SurveyDesk>().wishes, column);
            }};
}

} // namespace

void add_survey_actions(std::vector<Action>& list) {
    list.push_back({"state-good", "Present and good", kGroup, {}, has_one_part, mark_good});
    list.push_back({"state-loose", "Loose", kGroup, {}, has_one_part, mark_loose});
    list.push_back({"state-lifted", "Land lifted", kGroup, {}, has_pads, mark_land_lifted});
    list.push_back({"pad-after", "Next pad of the part", kGroup, {ctrl(Key::Period)}, in_survey, [](Session& s) {
                        step_pad(s, 1);
                    }});
    list.push_back({"pad-before", "Pad before this one", kGroup, {ctrl(Key::Comma)}, in_survey, [](Session& s) {
                        step_pad(s, -1);
                    }});
    list.push_back({"state-not-needed", "Not needed, because ...", kGroup, {}, has_one_part, begin_not_needed});
    list.push_back({"good-next", "Present and good, next part", kGroup, {{Key::F}}, has_parts, mark_good_and_go_on});
    list.push_back(
        {"part-after", "Part after this one, as one reads", kGroup, {{Key::Period}}, has_parts, [](Session& s) {
             go_along(s, 1);
         }});
    list.push_back({"part-before", "Part before this one", kGroup, {{Key::Comma}}, has_parts, [](Session& s) {
                        go_along(s, -1);
                    }});
    list.push_back(
        {"name-parts", "Name the part, and one after the other", kGroup, {{Key::E}}, has_parts, begin_naming});
    list.push_back({"attention", "What needs attention", kGroup, {}, has_parts, show_attention});
    list.push_back({"search-parts", "Search the list of parts", kGroup, {ctrl(Key::F)}, always, search_parts});
    list.push_back({"show-only", "Show only some parts in the list", kGroup, {}, has_parts, show_only});
    list.push_back({"show-all-parts", "Show all parts in the list", kGroup, {}, has_parts, show_all_parts});
    list.push_back(sort_action("sort-by-name", "Sort the list by name", PartColumn::Name));
    list.push_back(sort_action("sort-by-kind", "Sort the list by what it is", PartColumn::What));
    list.push_back(sort_action("sort-by-state", "Sort the list by state", PartColumn::State));
    list.push_back({"note-on-part", "Note on the selected part", kGroup, {}, has_one_part, begin_note_on_part});
    list.push_back(
        {"reading-at-part", "Reading at the selected part", kGroup, {}, has_one_part, begin_reading_at_part});
    list.push_back({"pin-note", "Note on the board", kGroup, {shift(Key::N)}, always, pin_note});
    list.push_back({"pin-reading", "Reading of a meter", kGroup, {{Key::M}}, always, pin_reading});
}

} // namespace padchart::app
