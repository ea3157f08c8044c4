#include "app/orient_actions.hpp"

#include "app/orient_desk.hpp"

namespace padchart::app {
namespace {

constexpr std::string_view kGroup = "Orient";

const Need has_open_part =
    Need{[](const Session& s) { return s.stage == scene::Stage::Orient && s.panel == Panel::Stage; }, "go to Orient"}
        .and_then({[](const Session& s) { return s.editor.selected_part() != nullptr; }, "select one part"});

const Need has_place =
    has_open_part.and_then({can_record, "choose the place of the mark, by a click or a digit of the number pad"});

const Need has_reports{[](const Session& s) { return s.computed() != nullptr; }, "the chart is still being looked at"};

void show_zero(Session& s) {
    ZeroShown& zero = s.desks.get<OrientDesk>().zero;
    zero = zero == ZeroShown::None     ? ZeroShown::LevelA
           : zero == ZeroShown::LevelA ? ZeroShown::LevelB
                                       : ZeroShown::None;
}

} // namespace

void add_orient_actions(std::vector<Action>& list) {
    list.push_back(
        {"next-unrecorded", "Next part without a record", kGroup, {{Key::U}}, has_reports, go_to_next_unrecorded});
    list.push_back({"record-mark", "Record the mark, next part", kGroup, {{Key::Enter}}, has_place, [](Session& s) {
                        record_mark(s);
                    }});
    list.push_back(
        {"record-no-mark", "No mark to be seen, next part", kGroup, {ctrl(Key::Enter)}, has_open_part, [](Session& s) {
             record_no_mark(s);
         }});
    list.push_back({"zero-orientation", "Angles from zero orientation A or B", kGroup, {}, has_open_part, show_zero});
}

} // namespace padchart::app
