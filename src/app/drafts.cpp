#include "app/drafts.hpp"

#include <fmt/format.h>

#include "app/orient_desk.hpp"
#include "app/survey_desk.hpp"
#include "document/things.hpp"

namespace padchart::app {

std::vector<Draft> drafts_in_hand(const Session& s) {
    std::vector<Draft> drafts;
    for (const PinDraft& pin : typed_pins(s))
        drafts.push_back(
            {name_of_pin(s, pin), pin.note ? "note not pinned" : "reading not put down", why_incomplete(pin)});
    for (const document::Id& part : parts_with_drafts(s))
        drafts.push_back({"the mark of " + document::spoken_name(s.editor.chart(), part), "mark not recorded",
                          has_drafted_place(s, part) ? "" : "Its place is not chosen yet."});
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
    put_down_complete_pins(s);
    SurveyDesk& desk = s.desks.get<SurveyDesk>();
    if (!is_typed(desk.pin) && !desk.waiting.empty()) take_up_pin(s, 0);
    if (is_typed(desk.pin)) {
        desk.pin.error = why_incomplete(desk.pin);
        go_on_with_pin(s);
        return false;
    }
    return record_drafts(s);
}

void put_down_complete_drafts(Session& s) {
    if (s.editor.has_preview()) return;
    put_down_complete_pins(s);
    record_complete_drafts(s);
}

} // namespace padchart::app
