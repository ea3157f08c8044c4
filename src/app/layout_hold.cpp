#include "app/layout_hold.hpp"

#include <algorithm>
#include <utility>

#include "app/out_of_view.hpp"
#include "document/things.hpp"

namespace padchart::app {
namespace {

using document::Id;

/// At once and by a key, or beside others that are.
constexpr std::string_view kChanges[] = {"left",
                                         "left-hair",
                                         "left-stride",
                                         "right",
                                         "right-hair",
                                         "right-stride",
                                         "up",
                                         "up-hair",
                                         "up-stride",
                                         "down",
                                         "down-hair",
                                         "down-stride",
                                         "turn-left",
                                         "turn-right",
                                         "quarter-left",
                                         "quarter-right",
                                         "delete",
                                         "cut",
                                         "other-side",
                                         "duplicate",
                                         "line-left",
                                         "line-centre",
                                         "line-right",
                                         "line-top",
                                         "line-middle",
                                         "line-bottom",
                                         "spread-centres-across",
                                         "spread-centres-down",
                                         "spread-gaps-across",
                                         "spread-gaps-down"};
/// By numbers that are typed: the fields of these are Survey's.
constexpr std::string_view kByNumbers[] = {"move-by", "fold", "copy-grid", "copy-ring"};
/// They bring parts, whatever is selected.
constexpr std::string_view kAdds[] = {"add-part", "draw-part", "load-pattern"};

bool is_in(std::span<const std::string_view> list, std::string_view id) {
    return std::find(list.begin(), list.end(), id) != list.end();
}

constexpr const char* kGoToSurvey = "go to Survey to change parts";

/// The page a window begins with belongs to no stage.
const Need stage_takes_parts{[](const Session& s) { return lays_out(s.stage) || s.panel == Panel::Start; },
                             kGoToSurvey};

/// Shields and keep-outs belong to other stages as well; a part's place belongs to one.
const Need stage_lays_out{[](const Session& s) {
                              const auto& ids = s.editor.selection();
                              return lays_out(s.stage) || std::none_of(ids.begin(), ids.end(), [&](const Id& id) {
                                         return document::is_part(s.editor.chart(), id);
                                     });
                          },
                          kGoToSurvey};

const Need is_in_view{[](const Session& s) { return !is_all_out_of_view(s.editor, s.seen_from); },
                      "what is selected lies on the other side, O turns the board"};

Action held_to_survey(Action action) {
    action.enabled = stage_takes_parts.and_then(std::move(action.enabled));
    action.run = [run = std::move(action.run)](Session& s) {
        if (!lays_out(s.stage)) s.show_stage(scene::Stage::Survey);
        run(s);
    };
    return action;
}

} // namespace

bool lays_out(scene::Stage stage) {
    return stage == scene::Stage::Survey;
}

Action held_where_it_must_not(Action action) {
    if (is_in(kAdds, action.id)) return held_to_survey(std::move(action));
    const bool changes = is_in(kChanges, action.id);
    if (!changes && !is_in(kByNumbers, action.id)) return action;
    action.enabled = (changes ? stage_lays_out.and_then(is_in_view) : is_in_view).and_then(std::move(action.enabled));
    action.run = [run = std::move(action.run)](Session& s) {
        const std::vector<Id> away = selected_out_of_view(s.editor, s.seen_from);
        const auto before = s.editor.snapshot();
        const std::string names = away.empty() ? "" : name_of(s.editor.chart(), away);
        run(s);
        if (!away.empty() && s.editor.snapshot() != before) tell_went_along(s.editor, names);
    };
    return action;
}

} // namespace padchart::app
