#include "app/survey_actions.hpp"

#include "app/common_needs.hpp"
#include "app/name_walk.hpp"
#include "app/survey_desk.hpp"
#include "app/tools/pin_tool.hpp"

namespace padchart::app {
namespace {

constexpr std::string_view kGroup = "Survey";

void pin_note(Session& s) {
    s.use_tool(make_pin_tool("Click where the note belongs, Esc leaves", [&s](const PinnedPlace& place) {
        begin_note(s, place.at, place.side, place.part);
        return true;
    }));
}

void pin_reading(Session& s) {
    s.use_tool(make_pin_tool("Click the point that was measured, Esc leaves", [&s](const PinnedPlace& place) {
        begin_reading(s, place.at, place.side, place.part, place.pad);
        return true;
    }));
}

} // namespace

void add_survey_actions(std::vector<Action>& list) {
    list.push_back({"state-good", "Present and good", kGroup, {}, has_one_part, mark_good});
    list.push_back({"state-loose", "Loose", kGroup, {}, has_one_part, mark_loose});
    list.push_back({"state-lifted", "Land lifted", kGroup, {}, has_pads, mark_land_lifted});
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
    list.push_back({"pin-note", "Note on the board", kGroup, {shift(Key::N)}, always, pin_note});
    list.push_back({"pin-reading", "Reading of a meter", kGroup, {{Key::M}}, always, pin_reading});
}

} // namespace padchart::app
