#include <utility>

#include "app/actions.hpp"
#include "app/panels/survey_parts.hpp"
#include "app/room.hpp"
#include "app/widgets.hpp"
#include "document/edits.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using document::Condition;
using document::Footprint;
using document::Id;
using document::Presence;
using document::Seating;

class StateEdit {
public:
    StateEdit(Session& session, const Footprint& part) : s_(&session), id_(part.id) {}

    void change(const char* what, const std::function<void(Condition&)>& by) const {
        const auto at = document::find_part(s_->editor.chart(), id_);
        if (!at) return;
        Condition condition = s_->editor.chart().parts[*at].condition;
        by(condition);
        const std::string name = name_of(s_->editor.chart(), std::span(&id_, 1));
        s_->editor.commit(document::set_condition(s_->editor.chart(), id_, std::move(condition)),
                          std::string(what) + " of " + name);
    }

private:
    Session* s_;
    Id id_;
};

template <class Enum>
void answer(Ui& ui, const StateEdit& edit, const Footprint& part, const char* label, Enum Condition::*field) {
    word_field<Enum>(ui, label, part.condition.*field, [edit, field, label](Enum value) {
        edit.change(label, [&](Condition& condition) { condition.*field = value; });
    });
}

/// A decision with its reason: asked for where something is wrong with the part, or it is wanted.
void not_needed(Ui& ui, Session& s, const StateEdit& edit, const Footprint& part) {
    const std::string& reason = part.condition.not_needed_because;
    SurveyDesk& desk = s.desks.get<SurveyDesk>();
    const bool is_asked = desk.deciding == part.id;
    if (!is_asked && !scene::is_absent(part) && !scene::has_fault(part) && reason.empty()) return;
    if (is_asked && std::exchange(desk.wants_reason, false)) {
        ImGui::SetKeyboardFocusHere();
        ui.await_focus();
    }
    text_field(
        ui, "Not needed, because", reason,
        [edit](const std::string& text) {
            edit.change("Decision", [&](Condition& condition) { condition.not_needed_because = text; });
        },
        "one of four in parallel");
    muted(ui, reason.empty() ? "A decision with its reason: the board works without it. Empty: not decided."
                             : "Decided: not needed for function.");
}

} // namespace

void usual_answers(Ui& ui, Session& s, const Footprint& part) {
    const float half = share_of_line(2), tall = is_low(ui) ? ui.px(28) : 0.0F;
    const auto action_button = [&](std::string_view id, const char* label) {
        const Action& action = *find_action(id);
        if (button(ui, label, ButtonKind::Outlined, half, action.enabled(s), tall)) run(action, s);
    };
    action_button("state-good", "Present and good");
    ImGui::SameLine();
    action_button("missing", "Missing");
    action_button("state-loose", "Loose");
    ImGui::SameLine();
    const ChosenPad chosen = s.desks.get<SurveyDesk>().pad;
    const bool has_pad = chosen.part == part.id && chosen.pad < part.pads.size();
    action_button("state-lifted", has_pad ? "Land lifted here" : "Land lifted ...");
}

void state_section(Ui& ui, Session& s, const Footprint& part) {
    const StateEdit edit(s, part);
    title(ui, "State");
    if (!is_low(ui)) usual_answers(ui, s, part);
    answer(ui, edit, part, "Is it there?", &Condition::presence);
    // Of what is not on the board nobody asks how it sits.
    if (!scene::is_absent(part)) {
        answer(ui, edit, part, "How it sits", &Condition::seating);
        answer(ui, edit, part, "Joints", &Condition::joint);
        answer(ui, edit, part, "Body", &Condition::body);
    }
    answer(ui, edit, part, "Lands", &Condition::land);
    not_needed(ui, s, edit, part);
    note_field(ui, "Note", part.condition.note, [edit](const std::string& text) {
        edit.change("Condition note", [&](Condition& condition) { condition.note = text; });
    });
}

} // namespace padchart::app
