// Notes and readings: before they are put down, and afterwards.

#include <utility>

#include <fmt/format.h>
#include <imgui.h>
#include <imgui_stdlib.h>

#include "app/panels/survey_parts.hpp"
#include "app/panels/thing_edit.hpp"
#include "app/tip.hpp"
#include "app/widgets.hpp"
#include "document/edits.hpp"
#include "document/things.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using document::Id;
using document::Note;
using document::Reading;

std::string about(const document::Chart& chart, const Id& target, const std::string& pad, geometry::Vec2 at) {
    std::string text = target.is_empty() ? fmt::format("at {:.1f}, {:.1f} {}", at.x, at.y, chart.scale ? "mm" : "units")
                                         : "about " + document::spoken_name(chart, target);
    if (!pad.empty()) text += ", pad " + pad;
    return text;
}

/// What comes first has the pen from the start.
void hand_pen(Ui& ui, PinDesk& pin) {
    if (std::exchange(pin.wants_focus, false)) {
        ImGui::SetKeyboardFocusHere();
        ui.await_focus();
    }
}

/// Escape has taken the pen from the field just drawn, the form's first. It may have put back what stood there when the
/// field got the pen.
bool is_left_by_escape(PinDesk& pin) {
    const bool has_pen = ImGui::IsItemActive();
    return std::exchange(pin.has_pen, has_pen) && !has_pen &&
           ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape), false);
}

void refused(const Ui& ui, const PinDesk& pin) {
    if (!pin.error.empty()) verdict(ui, Tone::Danger, pin.error, "");
}

/// The buttons below a draft. 1: put down, -1: left.
int draft_buttons(const Ui& ui, const char* put_down) {
    const float half = share_of_line(2);
    int answer = 0;
    if (button(ui, "Cancel", ButtonKind::Outlined, half)) answer = -1;
    ImGui::SameLine();
    if (button(ui, put_down, ButtonKind::Filled, half)) answer = 1;
    return answer;
}

void note_draft(Ui& ui, Session& s, PinDesk& pin) {
    Note& note = *pin.note;
    heading(ui, "New note");
    muted(ui, about(s.editor.chart(), note.target, "", note.at) + ".");
    gap(ui, 4);
    hand_pen(ui, pin);
    const std::string typed = note.text;
    bool done = note_entry(ui, "##first", note.text, "what is there to be said?");
    if (is_left_by_escape(pin)) {
        note.text = typed;
        return leave_pin(s);
    }
    text_field(ui, "Who", note.author, [&pin](const std::string& text) {
        if (pin.note) pin.note->author = text;
    });
    text_field(ui, "When", note.date, [&pin](const std::string& text) {
        if (pin.note) pin.note->date = text;
    });
    refused(ui, pin);
    gap(ui, 4);
    const int answer = draft_buttons(ui, "Pin it");
    if (answer > 0) done = true;
    if (answer < 0) return leave_pin(s);
    if (!done) return;
    ui.commit_draft();
    if (!put_down_note(s)) pin.wants_focus = true;
}

/// Everything a reading needs beside its value: without these it is worth little. `change` gets a copy to alter.
void reading_fields(Ui& ui, const Reading& reading,
                    const std::function<void(const std::function<void(Reading&)>&)>& change) {
    word_field<document::Quantity>(ui, "Quantity", reading.quantity, [change](document::Quantity value) {
        change([value](Reading& r) {
            if (r.unit.empty() || r.unit == usual_unit(r.quantity)) r.unit = usual_unit(value);
            r.quantity = value;
        });
    });
    const auto text = [&](const char* label, std::string Reading::*field, const char* hint) {
        text_field(
            ui, label, reading.*field,
            [change, field](const std::string& typed) { change([&](Reading& r) { r.*field = typed; }); }, hint);
    };
    text("Unit", &Reading::unit, "");
    text("Against", &Reading::reference, "GND");
    word_field<document::Leads>(ui, "Leads", reading.leads,
                                [change](document::Leads value) { change([value](Reading& r) { r.leads = value; }); });
    text("Meter", &Reading::meter, "which one it was");
    word_field<document::PowerState>(ui, "Power", reading.power, [change](document::PowerState value) {
        change([value](Reading& r) { r.power = value; });
    });
    word_field<document::WhichBoard>(ui, "Board", reading.board, [change](document::WhichBoard value) {
        change([value](Reading& r) { r.board = value; });
    });
    text("Pad", &Reading::pad, "");
    text("Parts off at the time", &Reading::parts_removed, "");
    text("When", &Reading::date, "2026-03-14");
    note_field(ui, "Remark", reading.note,
               [change](const std::string& typed) { change([&](Reading& r) { r.note = typed; }); });
}

void reading_draft(Ui& ui, Session& s, PinDesk& pin) {
    Reading& reading = *pin.reading;
    heading(ui, "New reading");
    muted(ui, about(s.editor.chart(), reading.target, reading.pad, reading.at) + ".");
    gap(ui, 4);
    hand_pen(ui, pin);
    ImGui::SetNextItemWidth(-1);
    const std::string typed = pin.value;
    bool done = ImGui::InputTextWithHint("##first", "what the meter shows: 0.482, OL, short ...", &pin.value,
                                         ImGuiInputTextFlags_EnterReturnsTrue);
    if (is_left_by_escape(pin)) {
        pin.value = typed;
        return leave_pin(s);
    }
    if (const auto value = read_measured(pin.value, reading.unit)) {
        Reading read = reading;
        read.value = *value;
        const std::string_view says = what_it_says(read);
        if (!says.empty()) muted(ui, says);
    }
    reading_fields(ui, reading, [&pin](const std::function<void(Reading&)>& by) {
        if (pin.reading) by(*pin.reading);
    });
    refused(ui, pin);
    gap(ui, 4);
    const int answer = draft_buttons(ui, "Put it down");
    if (answer > 0) done = true;
    if (answer < 0) return leave_pin(s);
    if (!done) return;
    ui.commit_draft();
    if (!put_down_reading(s)) pin.wants_focus = true;
}

/// A line of a list. True when it is pressed.
bool line(const Ui& ui, const Session& s, const Id& id, const std::string& name, const std::string& text) {
    ImGui::PushID(id.text.c_str());
    const ImVec2 pen = ImGui::GetCursorPos();
    const bool pressed = ImGui::Selectable("##line", s.editor.is_selected(id), 0, {0, ui.px(20)});
    const bool hovered = ImGui::IsItemHovered();
    keep_clear_here();
    const ImVec2 after = ImGui::GetCursorPos();
    ImGui::SetCursorPos(pen);
    ImGui::PushFont(ui.fonts().strong);
    ImGui::TextUnformatted(name.c_str());
    ImGui::PopFont();
    ImGui::SameLine(pen.x + ui.px(44));
    fitted_with_tip(ui, text, hovered);
    ImGui::SetCursorPos(after);
    ImGui::PopID();
    return pressed;
}

} // namespace

namespace {

enum class Answer { None, GoOn, Drop };

Answer waiting_one(Ui& ui, const Session& s, const PinDraft& pin, int number) {
    ImGui::PushID(number);
    std::string name = name_of_pin(s, pin);
    name.front() = 'T';
    verdict(ui, Tone::Unknown, name + " waits.", "It is typed, but not on the chart yet.");
    const float half = share_of_line(2);
    Answer answer = button(ui, "Drop it", ButtonKind::Outlined, half) ? Answer::Drop : Answer::None;
    ImGui::SameLine();
    if (button(ui, "Go on with it", ButtonKind::Filled, half)) answer = Answer::GoOn;
    gap(ui, 6);
    ImGui::PopID();
    return answer;
}

} // namespace

void waiting_pin(Ui& ui, Session& s) {
    SurveyDesk& desk = s.desks.get<SurveyDesk>();
    if (!is_pin_shown(s) && is_typed(desk.pin)) {
        const Answer answer = waiting_one(ui, s, desk.pin, -1);
        if (answer == Answer::GoOn) return go_on_with_pin(s);
        if (answer == Answer::Drop) drop_pin(s);
    }
    for (std::size_t i = 0; i < desk.waiting.size(); ++i) {
        const Answer answer = waiting_one(ui, s, desk.waiting[i], static_cast<int>(i));
        if (answer == Answer::GoOn) return take_up_pin(s, i);
        if (answer == Answer::Drop) {
            desk.waiting.erase(desk.waiting.begin() + static_cast<std::ptrdiff_t>(i));
            return;
        }
    }
}

bool pin_form(Ui& ui, Session& s) {
    PinDesk& pin = s.desks.get<SurveyDesk>().pin;
    if (!is_pin_shown(s)) {
        if (!is_typed(pin)) drop_pin(s); // nothing would be missed
        return false;
    }
    if (!pin.note && !pin.reading) return false;
    ImGui::PushID(pin.number);
    if (pin.note)
        note_draft(ui, s, pin);
    else
        reading_draft(ui, s, pin);
    ImGui::PopID();
    return true;
}

void note_rows(Ui& ui, Session& s, const Id& of_part) {
    std::optional<Id> pressed;
    std::size_t number = 0;
    for (const Note& note : s.editor.chart().notes) {
        ++number;
        if (!of_part.is_empty() && note.target != of_part) continue;
        if (line(ui, s, note.id, fmt::format("N{}", number), note.text)) pressed = note.id;
    }
    if (pressed) go_to_thing(s, *pressed);
}

void reading_rows(Ui& ui, Session& s, const Id& of_part) {
    std::optional<Id> pressed;
    std::size_t number = 0;
    for (const Reading& reading : s.editor.chart().readings) {
        ++number;
        if (!of_part.is_empty() && reading.target != of_part) continue;
        std::string text = fmt::format("{}, {}", scene::value_in_words(reading), scene::plain_words(reading.quantity));
        if (of_part.is_empty() && !reading.target.is_empty())
            text = document::spoken_name(s.editor.chart(), reading.target) + ": " + text;
        if (!reading.pad.empty()) text += ", pad " + reading.pad;
        if (line(ui, s, reading.id, fmt::format("M{}", number), text)) pressed = reading.id;
    }
    if (pressed) go_to_thing(s, *pressed);
}

void note_form(Ui& ui, Session& s, const Note& note) {
    const ThingEdit<Note> edit(s, note.id, document::find_note);
    heading(ui, "Note");
    muted(ui, about(s.editor.chart(), note.target, "", note.at) + ". Drag its sign to another place.");
    gap(ui, 4);
    edit.note(ui, note, "Text", &Note::text);
    edit.text(ui, note, "Who", &Note::author, "");
    edit.text(ui, note, "When", &Note::date, "2026-03-14");
}

void reading_form(Ui& ui, Session& s, const Reading& reading) {
    const ThingEdit<Reading> edit(s, reading.id, document::find_reading);
    heading(ui, "Reading");
    muted(ui, about(s.editor.chart(), reading.target, reading.pad, reading.at) + ". Drag its sign to another place.");
    gap(ui, 4);
    const bool is_number = std::holds_alternative<double>(reading.value);
    const std::string value = is_number
                                  ? fmt::format("{:.10g}", std::get<double>(reading.value))
                                  : std::string(document::to_text(std::get<document::SpecialValue>(reading.value)));
    text_field(ui, "Value", value, [&s, edit, unit = reading.unit, of = reading.quantity](const std::string& text) {
        const auto read = read_measured(text, unit);
        if (!read) return s.editor.tell(Severity::Warning, read.error().message);
        if (const std::string why = why_impossible(of, *read, unit); !why.empty())
            return s.editor.tell(Severity::Warning, why);
        edit.change("Value", [&](Reading& r) { r.value = *read; });
    });
    if (const std::string_view says = what_it_says(reading); !says.empty()) muted(ui, says);
    reading_fields(ui, reading, [edit](const std::function<void(Reading&)>& by) { edit.change("Reading", by); });
}

} // namespace padchart::app
