#pragma once
// What the survey stage works with: the list's wishes, the walk over the parts, the pad in hand, and the note or the
// reading that is about to be put down. Knows no panel.

#include <optional>
#include <string>
#include <variant>

#include "app/part_rows.hpp"
#include "app/session.hpp"

namespace padchart::app {

/// A pad of a part, pointed out on the board while it is spoken of.
struct ChosenPad {
    document::Id part;
    std::size_t pad = 0;
};

/// A note or a reading before it is on the chart.
struct PinDraft {
    std::optional<document::Note> note;
    std::optional<document::Reading> reading;
    std::string value; ///< of the reading, as typed
};

/// The one that has the form.
struct PinDesk : PinDraft {
    int number = 0;    ///< another one for another form: no field of it goes on with the letters of the last
    std::string error; ///< why it was refused
    bool wants_focus = false;
    bool has_pen = false;                 ///< its first field, when it was drawn last
    bool is_aside = false;                ///< typed, and something else is to be seen meanwhile
    std::vector<document::Id> begun_with; ///< the selection then: another one has its own panel
    document::Reading last;               ///< what the last reading was taken with: offered for the next one
    std::string by;                       ///< who wrote the last note
};

struct SurveyDesk {
    PartWishes wishes;
    PartRows rows;
    int cursor = 0;            ///< row of the list that Enter takes
    bool wants_search = false; ///< the search field should take the next letter
    bool shows_filters = false;
    ChosenPad pad;
    document::Id lifting;      ///< the part whose next clicked pad has a lifted land, while its tool waits
    bool wants_pads = false;   ///< the panel should show the pads
    document::Id deciding;     ///< the part that is about to be called not needed
    bool wants_reason = false; ///< the field for the reason should take the next letter
    PinDesk pin;
    std::vector<PinDraft> waiting; ///< typed for other things
};

// A lifted land ------------------------------------------------------------------------------------

/// "Pad 3 of U4". Requires: the part has a pad of this index.
[[nodiscard]] std::string pad_in_words(const document::Footprint& part, std::size_t pad);
/// The next pad of the part that is clicked, on the board or in the panel, has a lifted land; so has the chosen one at
/// Enter.
void begin_lifted_land(Session& session, const document::Id& part);
[[nodiscard]] bool awaits_lifted_land(const Session& session, const document::Id& part);
/// One step; the pad is the chosen one afterwards. Requires: the part has a pad of this index.
void put_down_lifted_land(Session& session, const document::Id& part, std::size_t pad);

// The state of the selected part ------------------------------------------------------------------

/// One step each. Requires: one part is selected; for a lifted land, that it has pads.
void mark_good(Session& session);
void mark_loose(Session& session);
/// The land of the chosen pad, else of the next one that is clicked.
void mark_land_lifted(Session& session);
/// Shows the field for the reason why the part is not needed, and gives it the pen.
void begin_not_needed(Session& session);

// The walk ----------------------------------------------------------------------------------------

/// Present, and every question that was not answered yet is "good", but for the lands: those lie under the joints.
[[nodiscard]] document::Condition good(document::Condition condition);
/// ", a land stays lifted" where one is: good() answers for the part, not for what lies under its joints.
[[nodiscard]] std::string lifted_land_stays(const document::Footprint& part);
/// The next part of the reading order that nobody has checked: behind `after` on its side, then from the top, then on
/// the other side. Nothing when all are checked.
[[nodiscard]] std::optional<document::Id> next_unchecked(const document::Chart& chart, const document::Id& after,
                                                         document::Side side);
/// Says that the selected part is present and good, and selects the next that is not checked. A part that is said to be
/// gone is only passed over.
void mark_good_and_go_on(Session& session);
/// `by` parts on in the reading order of the side.
void go_along(Session& session, int by);
/// All that is to be looked at, the worst first, in a panel of its own.
void show_attention(Session& session);
/// The list of parts is to be seen: nothing is selected, no form is open.
void show_part_list(Session& session);
/// At the middle of the selected part. Requires: one part is selected.
void begin_note_on_part(Session& session);
void begin_reading_at_part(Session& session);
/// Deselects, so that the list shows, and gives it the pen.
void search_parts(Session& session);

// Notes and readings ------------------------------------------------------------------------------

/// Begins a note there; the part it lies on, if any, is what it speaks of. What is typed of another waits, and the user
/// is told; one that waits for the same part is gone on with.
void begin_note(Session& session, geometry::Vec2 at, document::Side side, document::Id target);
/// Begins a reading there with what the last one was taken with.
void begin_reading(Session& session, geometry::Vec2 at, document::Side side, document::Id target, std::string pad);
/// Something was typed that would be missed.
[[nodiscard]] bool is_typed(const PinDraft& pin);
/// All that are typed: the one with the form first.
[[nodiscard]] std::vector<PinDraft> typed_pins(const Session& session);
/// "the note about U4", "the reading at U4, pad 3". Requires: there is one.
[[nodiscard]] std::string name_of_pin(const Session& session, const PinDraft& pin);
/// Why it cannot be put down yet; empty where it can.
[[nodiscard]] std::string why_incomplete(const PinDraft& pin);
/// The form stands in the panel of the survey: what it speaks of, or what was selected when it was begun, is selected.
[[nodiscard]] bool is_pin_shown(const Session& session);
/// Back to the form of what was typed. Requires: there is one.
void go_on_with_pin(Session& session);
/// The one that waits gets the form; what has it waits. Requires: waiting < the number of them.
void take_up_pin(Session& session, std::size_t waiting);
/// Out of the form, and the user is told: what was typed is dropped only where that is asked for.
void leave_pin(Session& session);
/// What was typed waits; what was not goes.
void set_pin_aside(Session& session);
/// Puts what is in hand on the chart and selects it. False, and an error at the desk, where it says nothing.
bool put_down_note(Session& session);
bool put_down_reading(Session& session);
/// Puts down all that is complete, whether it has the form or waits; what is selected stays so.
void put_down_complete_pins(Session& session);
void drop_pin(Session& session);
/// Also those that wait.
void drop_pins(Session& session);

/// "V" of a diode drop; empty where the answer has no unit.
[[nodiscard]] std::string_view usual_unit(document::Quantity quantity);
/// A number with the unit or one of its multiples ("482 mV", "4.7k", "0,482"), or a word of the meter: OL, short,
/// unstable. Errors: neither.
[[nodiscard]] Result<std::variant<double, document::SpecialValue>> read_measured(std::string_view text,
                                                                                 std::string_view unit);
/// Why no meter can have shown that: more volts than a diode test gives, less than absolute zero; empty where it can.
[[nodiscard]] std::string why_impossible(document::Quantity quantity,
                                         const std::variant<double, document::SpecialValue>& value,
                                         std::string_view unit);
/// What a zero or an OL of that quantity says, in one sentence; empty where it says nothing more.
[[nodiscard]] std::string_view what_it_says(const document::Reading& reading);

/// Escape leaves the form of the note or the reading, else drops what was searched for. True where the key
/// meant that.
bool survey_key(Session& session, const Chord& chord);

/// The pad in hand, and where a note or a reading is about to be put down, scene mm.
void add_survey_overlay(const Session& session, scene::Scene& out);

/// Selects the thing and brings it into view, on its side.
void go_to_thing(Session& session, const document::Id& id);

} // namespace padchart::app
