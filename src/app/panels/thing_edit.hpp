#pragma once
// Fields of a thing that is no part: each change is one step of the chart, by the id, since something else may be
// selected when the pen leaves a field.

#include <functional>
#include <string>

#include "app/refused_field.hpp"
#include "app/session.hpp"
#include "app/widgets.hpp"
#include "document/edits.hpp"
#include "document/things.hpp"

namespace padchart::app {

template <class T>
class ThingEdit {
public:
    using Find = const T* (*)(const document::Chart&, const document::Id&);

    ThingEdit(Session& session, document::Id id, Find find) : s_(&session), id_(std::move(id)), find_(find) {}

    void change(const char* what, const std::function<void(T&)>& by) const {
        const T* thing = find_(s_->editor.chart(), id_);
        if (thing == nullptr) return;
        T changed = *thing;
        by(changed);
        const std::string label = std::string(what) + " of " + document::spoken_name(s_->editor.chart(), id_);
        Result<document::Chart> edited = document::put(s_->editor.chart(), std::move(changed));
        if (!edited) keep_pen();
        s_->editor.commit(std::move(edited), label);
    }
    void text(Ui& ui, const T& thing, const char* label, std::string T::*field, const char* hint) const {
        text_field(
            ui, label, thing.*field,
            [edit = *this, field, label](const std::string& typed) {
                edit.change(label, [&](T& changed) { changed.*field = typed; });
            },
            hint);
    }
    void note(Ui& ui, const T& thing, const char* label, std::string T::*field) const {
        note_field(ui, label, thing.*field, [edit = *this, field, label](const std::string& typed) {
            edit.change(label, [&](T& changed) { changed.*field = typed; });
        });
    }
    template <class Enum>
    void word(Ui& ui, const T& thing, const char* label, Enum T::*field) const {
        word_field<Enum>(ui, label, thing.*field, [edit = *this, field, label](Enum value) {
            edit.change(label, [&](T& changed) { changed.*field = value; });
        });
    }
    void number(Ui& ui, const T& thing, const char* label, std::optional<double> T::*field, const char* unit) const {
        number_field(
            ui, label, thing.*field, unit,
            [edit = *this, field, label](std::optional<double> value) {
                edit.change(label, [&](T& changed) { changed.*field = value; });
            },
            [s = s_](std::string text) { s->editor.tell(Severity::Warning, std::move(text)); });
    }

private:
    Session* s_;
    document::Id id_;
    Find find_;
};

void note_form(Ui& ui, Session& session, const document::Note& note);
void reading_form(Ui& ui, Session& session, const document::Reading& reading);

} // namespace padchart::app
