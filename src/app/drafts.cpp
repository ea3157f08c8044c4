#include "app/drafts.hpp"

#include <fmt/format.h>

#include "app/orient_desk.hpp"
#include "app/survey_desk.hpp"
#include "document/things.hpp"

namespace padchart::app {

std::vector<Draft> drafts_in_hand(const Session& s) {
    std::vector<Draft> drafts;
    const SurveyDesk* survey = s.desks.find<SurveyDesk>();
    if (survey != nullptr && is_typed(survey->pin))
        drafts.push_back({name_of_pin(s), survey->pin.note ? "note not pinned" : "reading not put down"});
    for (const document::Id& part : parts_with_drafts(s))
        drafts.push_back({"the mark of " + document::spoken_name(s.editor.chart(), part), "mark not recorded"});
    return drafts;
}

std::string names_of(const std::vector<Draft>& drafts) {
    std::string names;
    for (std::size_t i = 0; i < drafts.size(); ++i)
        names += (i == 0 ? "" : i + 1 == drafts.size() ? " and " : ", ") + drafts[i].name;
    return names;
}

bool is_all_kept(const Session& s) {
    return s.editor.is_saved() && drafts_in_hand(s).empty();
}

bool put_down_drafts(Session& s) {
    const SurveyDesk* survey = s.desks.find<SurveyDesk>();
    if (survey != nullptr && is_typed(survey->pin)) {
        const bool is_down = survey->pin.note ? put_down_note(s) : put_down_reading(s);
        if (!is_down) {
            go_on_with_pin(s);
            return false;
        }
    }
    return record_drafts(s);
}

} // namespace padchart::app
