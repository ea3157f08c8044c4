#include "app/survey_desk.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

#include "analysis/check.hpp"
#include "analysis/coverage.hpp"
#include "app/click_first.hpp"
#include "app/today.hpp"
#include "app/tools/pin_tool.hpp"
#include "app/trace_log.hpp"
#include "cli/frozen.hpp"
#include "document/edits.hpp"
#include "document/thing_side.hpp"
#include "document/things.hpp"
#include "scene/labels.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::Condition;
using document::Footprint;
using document::Id;
using document::Presence;
using document::Quantity;
using document::Reading;
using document::Side;
using document::SpecialValue;

Side far_side(Side side) {
    return side == Side::Top ? Side::Bottom : Side::Top;
}

std::optional<Id> unchecked_behind(const Chart& chart, const std::vector<Id>& order, const Id& after) {
    const auto at = std::find(order.begin(), order.end(), after);
    const auto start = static_cast<std::size_t>(at == order.end() ? 0 : at - order.begin() + 1);
    for (std::size_t i = 0; i < order.size(); ++i) {
        const Id& id = order[(start + i) % order.size()];
        const auto part = document::find_part(chart, id);
        if (id != after && part && chart.parts[*part].condition.presence == Presence::NotChecked) return id;
    }
    return std::nullopt;
}

bool is_word(std::string_view text, std::string_view word) {
    return text.size() == word.size() && std::equal(text.begin(), text.end(), word.begin(), [](char a, char b) {
               return std::tolower(static_cast<unsigned char>(a)) == std::tolower(static_cast<unsigned char>(b));
           });
}

std::string without_blanks(std::string_view text) {
    std::string plain;
    for (const char c : text)
        if (c != ' ') plain += c == ',' ? '.' : c;
    return plain;
}

/// What may stand between number and unit.
std::optional<double> factor_of(std::string_view prefix) {
    if (prefix.empty()) return 1.0;
    if (prefix == "k" || prefix == "K") return 1e3;
    if (prefix == "M") return 1e6;
    if (prefix == "m") return 1e-3;
    if (prefix == "u" || prefix == "\u00b5" || prefix == "\u03bc") return 1e-6;
    if (prefix == "n") return 1e-9;
    if (prefix == "p") return 1e-12;
    return std::nullopt;
}

constexpr double kDraft_px = 8.0, kDraftRing_px = 13.0;

void show_survey(Session& s) {
    s.show_stage(scene::Stage::Survey);
    s.panel = Panel::Stage;
}

} // namespace

Condition good(Condition condition) {
    const auto answer = [](auto& field) {
        using Enum = std::remove_reference_t<decltype(field)>;
        if (field == Enum::NotChecked) field = Enum::Good;
    };
    condition.presence = Presence::Present;
    answer(condition.seating);
    answer(condition.joint);
    answer(condition.body);
    return condition;
}

std::optional<Id> next_unchecked(const Chart& chart, const Id& after, Side side) {
    if (const auto here = unchecked_behind(chart, analysis::reading_order(chart, side), after)) return here;
    return unchecked_behind(chart, analysis::reading_order(chart, far_side(side)), after);
}

namespace {

bool is_good(const Condition& condition) {
    return condition.presence == Presence::Present && condition.seating == document::Seating::Good &&
           condition.joint == document::JointState::Good && condition.body == document::BodyState::Good;
}

} // namespace

std::string lifted_land_stays(const Footprint& part) {
    const bool is_lifted = part.condition.land == document::LandState::Lifted ||
                           std::any_of(part.pads.begin(), part.pads.end(), [](const document::Pad& pad) {
                               return pad.land == document::LandState::Lifted;
                           });
    return is_lifted ? ", a land stays lifted" : "";
}

void mark_good_and_go_on(Session& s) {
    show_survey(s);
    const Footprint* part = s.editor.selected_part();
    const Id id = part == nullptr ? Id{} : part->id;
    const Side side = part == nullptr ? s.seen_from : part->placement.side;
    std::string told;
    if (part != nullptr) {
        Footprint marked = *part;
        if (!scene::is_absent(*part)) marked.condition = good(part->condition);
        const std::string name = part->name.empty() ? "The part" : part->name;
        const bool leaves_nothing = is_good(marked.condition);
        if (!leaves_nothing) told = fmt::format("{} stays as it is: {}. ", name, scene::condition_in_words(marked));
        if (!scene::is_absent(*part))
            s.editor.commit(document::set_condition(s.editor.chart(), id, marked.condition),
                            fmt::format("Mark {} as present{}{}", name, leaves_nothing ? " and good" : "",
                                        lifted_land_stays(*part)));
    }
    if (const auto next = next_unchecked(s.editor.chart(), id, side)) {
        const Side seen = s.seen_from;
        s.go_to(*next);
        if (const Footprint* there = s.editor.selected_part(); there != nullptr && s.seen_from != seen)
            told += fmt::format("Turn the board over: {} is on the {}.",
                                there->name.empty() ? "the next part" : there->name, document::to_text(s.seen_from));
    } else {
        told += "Every part has been looked at: " + analysis::in_words(analysis::coverage(s.editor.chart())) + ".";
    }
    if (!told.empty()) s.editor.tell(Severity::Note, told);
}

std::string pad_in_words(const Footprint& part, std::size_t pad) {
    const std::string& number = part.pads[pad].number;
    return fmt::format("Pad {} of {}", number.empty() ? fmt::format("#{}", pad + 1) : number, part.name);
}

void begin_lifted_land(Session& s, const Id& part) {
    s.go_to(part); // its pads are to be clicked
    SurveyDesk& desk = s.desks.get<SurveyDesk>();
    desk.lifting = part;
    desk.wants_pads = true;
    const auto clicked = [&s, part](const PinnedPlace& place) {
        const bool is_pad = place.part == part && place.pad_index;
        if (is_pad)
            put_down_lifted_land(s, part, *place.pad_index);
        else
            s.editor.tell(Severity::Note, "That is no pad of the selected part. Click one of its pads; Esc leaves.");
        return is_pad;
    };
    const auto entered = [&s, part] {
        const ChosenPad chosen = s.desks.get<SurveyDesk>().pad;
        if (chosen.part == part)
            put_down_lifted_land(s, part, chosen.pad);
        else
            s.editor.tell(Severity::Note, std::string(kClickPad));
        return chosen.part == part;
    };
    s.use_tool(
        make_pin_tool("Click the pad whose land is lifted, Enter takes the chosen one, Esc leaves", clicked, entered));
    s.editor.tell(Severity::Note, std::string(kClickPad));
}

bool awaits_lifted_land(const Session& s, const Id& part) {
    const auto* desk = s.desks.find<SurveyDesk>();
    return desk != nullptr && desk->lifting == part && s.tool->awaits_click();
}

void put_down_lifted_land(Session& s, const Id& part, std::size_t pad) {
    const auto at = document::find_part(s.editor.chart(), part);
    if (!at || pad >= s.editor.chart().parts[*at].pads.size()) return;
    const Footprint& of = s.editor.chart().parts[*at];
    SurveyDesk& desk = s.desks.get<SurveyDesk>();
    desk.pad = {part, pad};
    desk.lifting = {};
    std::string of_pad = pad_in_words(of, pad);
    of_pad.front() = 'p';
    const std::string label = "Land of " + of_pad + " lifted";
    s.editor.clear_notice();
    s.editor.commit(
        document::set_pad_state(s.editor.chart(), part, pad, document::LandState::Lifted, of.pads[pad].joint), label);
}

namespace {

void change_state(Session& s, const char* label, const std::function<void(Condition&)>& by) {
    const Footprint& part = *s.editor.selected_part();
    Condition condition = part.condition;
    by(condition);
    const std::string name = name_of(s.editor.chart(), s.editor.selection());
    s.editor.commit(document::set_condition(s.editor.chart(), Id(part.id), std::move(condition)),
                    fmt::format(fmt::runtime(label), name));
}

} // namespace

void mark_good(Session& s) {
    const std::string stays = lifted_land_stays(*s.editor.selected_part());
    change_state(s, ("Mark {} as present and good" + stays).c_str(),
                 [](Condition& condition) { condition = good(condition); });
}

void mark_loose(Session& s) {
    change_state(s, "Mark {} as loose", [](Condition& condition) {
        condition.presence = document::Presence::Present;
        condition.seating = document::Seating::Loose;
    });
}

void mark_land_lifted(Session& s) {
    const Footprint& part = *s.editor.selected_part();
    const ChosenPad chosen = s.desks.get<SurveyDesk>().pad;
    if (chosen.part == part.id && chosen.pad < part.pads.size())
        put_down_lifted_land(s, Id(part.id), chosen.pad);
    else
        begin_lifted_land(s, Id(part.id));
}

void begin_not_needed(Session& s) {
    show_survey(s);
    SurveyDesk& desk = s.desks.get<SurveyDesk>();
    desk.deciding = s.editor.selected_part()->id;
    desk.wants_reason = true;
}

void go_along(Session& s, int by) {
    const Footprint* part = s.editor.selected_part();
    const Side side = part == nullptr ? s.seen_from : part->placement.side;
    const std::vector<Id> order = analysis::reading_order(s.editor.chart(), side);
    if (order.empty()) return;
    const auto count = static_cast<std::ptrdiff_t>(order.size());
    const auto found = part == nullptr ? order.end() : std::find(order.begin(), order.end(), part->id);
    const std::ptrdiff_t from = found == order.end() ? (by > 0 ? -1 : 0) : found - order.begin();
    s.go_to(order[static_cast<std::size_t>(((from + by) % count + count) % count)]);
}

void show_attention(Session& s) {
    if (s.computed() == nullptr)
        return s.editor.tell(Severity::Note, "The chart is still being looked at; again in a moment.");
    show_survey(s);
    s.findings = analysis::check(s.editor.chart(), s.computed()->clearance, s.computed()->fit);
    const Diagnostics before = cli::before_findings(s.editor.chart(), s.editor.path());
    s.findings.insert(s.findings.begin(), before.begin(), before.end());
    s.findings_title.clear();
    s.panel = Panel::Findings;
}

void show_part_list(Session& s) {
    show_survey(s);
    s.editor.select({});
    set_pin_aside(s);
}

namespace {

geometry::Vec2 middle_of(const Footprint& part) {
    return document::board_from_part(part.placement)(document::centre_in_part(part));
}

} // namespace

void begin_note_on_part(Session& s) {
    const Footprint& part = *s.editor.selected_part();
    begin_note(s, middle_of(part), part.placement.side, part.id);
}

void begin_reading_at_part(Session& s) {
    const Footprint& part = *s.editor.selected_part();
    begin_reading(s, middle_of(part), part.placement.side, part.id, "");
}

void search_parts(Session& s) {
    show_part_list(s);
    s.desks.get<SurveyDesk>().wants_search = true;
}

bool is_typed(const PinDraft& pin) {
    const auto says = [](const std::string& text) { return text.find_first_not_of(" \t\n") != std::string::npos; };
    return (pin.note && says(pin.note->text)) || (pin.reading && says(pin.value));
}

std::vector<PinDraft> typed_pins(const Session& s) {
    std::vector<PinDraft> pins;
    const SurveyDesk* desk = s.desks.find<SurveyDesk>();
    if (desk == nullptr) return pins;
    if (is_typed(desk->pin)) pins.push_back(desk->pin);
    pins.insert(pins.end(), desk->waiting.begin(), desk->waiting.end());
    return pins;
}

std::string name_of_pin(const Session& s, const PinDraft& pin) {
    const Id& target = pin.note ? pin.note->target : pin.reading->target;
    const geometry::Vec2 at = pin.note ? pin.note->at : pin.reading->at;
    const std::string where =
        target.is_empty() ? fmt::format("at {:.1f}, {:.1f} {}", at.x, at.y, s.editor.chart().scale ? "mm" : "units")
                          : (pin.note ? "about " : "at ") + document::spoken_name(s.editor.chart(), target);
    const std::string pad = pin.reading && !pin.reading->pad.empty() ? ", pad " + pin.reading->pad : "";
    return (pin.note ? "the note " : "the reading ") + where + pad;
}

std::string why_incomplete(const PinDraft& pin) {
    if (pin.note) return is_typed(pin) ? "" : "Write what there is to be said.";
    const auto value = read_measured(pin.value, pin.reading->unit);
    return value ? why_impossible(pin.reading->quantity, *value, pin.reading->unit) : value.error().message;
}

bool is_pin_shown(const Session& s) {
    const SurveyDesk* desk = s.desks.find<SurveyDesk>();
    if (desk == nullptr || desk->pin.is_aside || (!desk->pin.note && !desk->pin.reading)) return false;
    if (s.stage != scene::Stage::Survey || s.panel != Panel::Stage) return false;
    const Id& target = desk->pin.note ? desk->pin.note->target : desk->pin.reading->target;
    const auto& selected = s.editor.selection();
    return selected == desk->pin.begun_with || (selected.size() == 1 && selected.front() == target);
}

void go_on_with_pin(Session& s) {
    show_survey(s);
    PinDesk& pin = s.desks.get<SurveyDesk>().pin;
    const Id target = pin.note ? pin.note->target : pin.reading->target;
    const Side side = pin.note ? pin.note->side : pin.reading->side;
    if (document::is_part(s.editor.chart(), target))
        s.go_to(target);
    else
        s.editor.select({});
    if (s.seen_from != side) s.flip_side();
    pin.begun_with = s.editor.selection();
    pin.is_aside = false;
    pin.wants_focus = true;
}

void set_pin_aside(Session& s) {
    PinDesk& pin = s.desks.get<SurveyDesk>().pin;
    if (!is_typed(pin)) return drop_pin(s);
    pin.is_aside = true;
    pin.wants_focus = false;
}

namespace {

std::string begun_name_of_pin(const Session& s, const PinDraft& pin) {
    std::string name = name_of_pin(s, pin);
    name.front() = 'T';
    return name;
}

/// A new form, and with it fields that have nothing of the last one's letters.
void give_form(PinDesk& pin, PinDraft draft) {
    static_cast<PinDraft&>(pin) = std::move(draft);
    pin.error.clear();
    ++pin.number;
}

/// What is typed waits for its part while the form goes to another.
void let_wait(Session& s) {
    SurveyDesk& desk = s.desks.get<SurveyDesk>();
    if (!is_typed(desk.pin)) return;
    desk.waiting.push_back(desk.pin);
    s.editor.tell(Severity::Note, begun_name_of_pin(s, desk.pin) + " waits; it is not on the chart yet.");
    give_form(desk.pin, {});
}

/// Of the same kind, for the same place.
bool is_same_errand(const PinDraft& a, const PinDraft& b) {
    if (a.note && b.note)
        return a.note->target == b.note->target && (!a.note->target.is_empty() || a.note->at == b.note->at);
    if (!a.reading || !b.reading || a.reading->target != b.reading->target) return false;
    return a.reading->pad == b.reading->pad && (!a.reading->target.is_empty() || a.reading->at == b.reading->at);
}

/// True where one was begun for the same place before: it is gone on with.
bool goes_on_with_same(Session& s, const PinDraft& wanted) {
    SurveyDesk& desk = s.desks.get<SurveyDesk>();
    if (is_typed(desk.pin) && is_same_errand(desk.pin, wanted)) {
        go_on_with_pin(s);
        return true;
    }
    const auto found = std::find_if(desk.waiting.begin(), desk.waiting.end(),
                                    [&](const PinDraft& one) { return is_same_errand(one, wanted); });
    if (found == desk.waiting.end()) return false;
    take_up_pin(s, static_cast<std::size_t>(found - desk.waiting.begin()));
    return true;
}

void begin_pin(Session& s, PinDraft draft) {
    if (goes_on_with_same(s, draft)) return;
    let_wait(s);
    show_survey(s);
    PinDesk& pin = s.desks.get<SurveyDesk>().pin;
    give_form(pin, std::move(draft));
    pin.begun_with = s.editor.selection();
    pin.is_aside = false;
    pin.wants_focus = true;
}

} // namespace

void take_up_pin(Session& s, std::size_t waiting) {
    SurveyDesk& desk = s.desks.get<SurveyDesk>();
    assert(waiting < desk.waiting.size());
    PinDraft taken = desk.waiting[waiting];
    desk.waiting.erase(desk.waiting.begin() + static_cast<std::ptrdiff_t>(waiting));
    let_wait(s);
    give_form(desk.pin, std::move(taken));
    go_on_with_pin(s);
}

void leave_pin(Session& s) {
    const PinDesk pin = s.desks.get<SurveyDesk>().pin;
    set_pin_aside(s);
    trace("pin left", is_typed(pin) ? name_of_pin(s, pin) : "nothing typed");
    if (is_typed(pin))
        s.editor.tell(Severity::Note, begun_name_of_pin(s, pin) +
                                          " waits; it is not on the chart yet. The survey's panel goes on with it or "
                                          "drops it.");
}

void begin_note(Session& s, geometry::Vec2 at, Side side, Id target) {
    document::Note note;
    note.at = at;
    note.side = side;
    note.target = std::move(target);
    note.author = s.desks.get<SurveyDesk>().pin.by;
    note.date = today();
    begin_pin(s, {std::move(note), {}, {}});
}

void begin_reading(Session& s, geometry::Vec2 at, Side side, Id target, std::string pad) {
    Reading reading = s.desks.get<SurveyDesk>().pin.last;
    reading.at = at;
    reading.side = side;
    reading.target = std::move(target);
    reading.pad = std::move(pad);
    reading.date = today();
    if (reading.unit.empty()) reading.unit = usual_unit(reading.quantity);
    begin_pin(s, {{}, std::move(reading), {}});
}

namespace {

/// The id on the chart; nothing where the chart refuses it. Requires: the draft is complete.
std::optional<Id> put_on_chart(Session& s, document::Note note) {
    note.id = document::free_id(s.editor.chart(), "note", note.text);
    const Id id = note.id;
    const std::string author = note.author;
    if (!s.editor.commit(document::put(s.editor.chart(), std::move(note)), "Pin a note")) return std::nullopt;
    s.desks.get<SurveyDesk>().pin.by = author;
    return id;
}

/// What the bench stays the same in.
Reading bench_of(const Reading& reading) {
    Reading next;
    next.quantity = reading.quantity;
    next.unit = reading.unit;
    next.reference = reading.reference;
    next.leads = reading.leads;
    next.power = reading.power;
    next.parts_removed = reading.parts_removed;
    next.meter = reading.meter;
    next.board = reading.board;
    return next;
}

std::optional<Id> put_on_chart(Session& s, Reading reading, const std::string& typed) {
    reading.value = *read_measured(typed, reading.unit);
    reading.id = document::free_id(s.editor.chart(), "reading", reading.target.text + reading.pad + typed);
    const Id id = reading.id;
    const Reading next = bench_of(reading);
    const std::string label = "Put down a reading of " + scene::value_in_words(reading);
    if (!s.editor.commit(document::put(s.editor.chart(), std::move(reading)), label)) return std::nullopt;
    s.desks.get<SurveyDesk>().pin.last = next;
    return id;
}

std::optional<Id> put_on_chart(Session& s, const PinDraft& pin) {
    return pin.note ? put_on_chart(s, *pin.note) : put_on_chart(s, *pin.reading, pin.value);
}

bool put_down_pin(Session& s) {
    PinDesk& pin = s.desks.get<SurveyDesk>().pin;
    pin.error = why_incomplete(pin);
    if (!pin.error.empty()) return false;
    const std::optional<Id> id = put_on_chart(s, pin);
    if (!id) return false;
    drop_pin(s);
    s.editor.select({*id});
    return true;
}

} // namespace

bool put_down_note(Session& s) {
    return s.desks.get<SurveyDesk>().pin.note && put_down_pin(s);
}

bool put_down_reading(Session& s) {
    return s.desks.get<SurveyDesk>().pin.reading && put_down_pin(s);
}

void put_down_complete_pins(Session& s) {
    SurveyDesk& desk = s.desks.get<SurveyDesk>();
    const auto goes_down = [&](const PinDraft& pin) { return why_incomplete(pin).empty() && put_on_chart(s, pin); };
    if (is_typed(desk.pin) && goes_down(desk.pin)) drop_pin(s);
    std::erase_if(desk.waiting, goes_down);
}

void drop_pin(Session& s) {
    PinDesk& pin = s.desks.get<SurveyDesk>().pin;
    pin.note.reset();
    pin.reading.reset();
    pin.value.clear();
    pin.error.clear();
    pin.is_aside = false;
}

void drop_pins(Session& s) {
    drop_pin(s);
    s.desks.get<SurveyDesk>().waiting.clear();
}

std::string_view usual_unit(Quantity quantity) {
    switch (quantity) {
    case Quantity::DiodeDrop:
    case Quantity::Voltage: return "V";
    case Quantity::ResistanceToGround:
    case Quantity::Resistance:
    case Quantity::SeriesResistance: return "ohm";
    case Quantity::Current: return "A";
    case Quantity::Capacitance: return "F";
    case Quantity::Temperature: return "\u00b0C";
    case Quantity::Continuity: break;
    }
    return "";
}

Result<std::variant<double, SpecialValue>> read_measured(std::string_view text, std::string_view unit) {
    const std::string plain = without_blanks(text);
    const Error refused{
        "\"" + std::string(text) + "\" is no reading; right is a number such as 0.482, or OL, short or unstable.", ""};
    if (plain.empty()) return Error{"Type what the meter shows: a number, OL, short or unstable.", ""};
    for (const auto& word : document::words<SpecialValue>())
        if (is_word(plain, word.text)) return std::variant<double, SpecialValue>(word.value);
    double number = 0.0;
    const char* begin = plain.data() + (plain.front() == '+' ? 1 : 0);
    const auto [end, fault] = std::from_chars(begin, plain.data() + plain.size(), number);
    if (fault != std::errc{} || !std::isfinite(number)) return refused;
    std::string rest(end, plain.data() + plain.size());
    if (!unit.empty() && rest.ends_with(unit)) rest.resize(rest.size() - unit.size());
    // "1k2": the prefix stands for the point, as it is printed on parts.
    const std::size_t digits = rest.find_first_of("0123456789");
    if (digits != std::string::npos && digits > 0 && plain.find_first_of(".eE") == std::string::npos &&
        rest.find_first_not_of("0123456789", digits) == std::string::npos) {
        const std::string whole(begin, static_cast<std::size_t>(end - begin));
        const std::string pointed = whole + "." + rest.substr(digits);
        std::from_chars(pointed.data(), pointed.data() + pointed.size(), number);
        rest.resize(digits);
    }
    const std::optional<double> factor = factor_of(rest);
    if (!factor) return refused;
    return std::variant<double, SpecialValue>(number * *factor);
}

std::string why_impossible(Quantity quantity, const std::variant<double, SpecialValue>& value, std::string_view unit) {
    const double* number = std::get_if<double>(&value);
    if (number == nullptr) return "";
    // A meter's diode test gives a few volts (common practice, no source).
    constexpr double kMostDrop_V = 10.0, kAbsoluteZero_C = -273.15;
    if (quantity == Quantity::DiodeDrop && unit == "V" && std::abs(*number) > kMostDrop_V)
        return fmt::format("A diode drop of {:g} V cannot be: the meter's test gives a few volts. Is it a resistance?",
                           *number);
    if (quantity == Quantity::Temperature && unit == "\u00b0C" && *number < kAbsoluteZero_C)
        return fmt::format("{:g} °C cannot be: nothing is colder than -273.15 °C.", *number);
    return "";
}

std::string_view what_it_says(const Reading& reading) {
    if (reading.quantity != Quantity::DiodeDrop) return "";
    if (const double* value = std::get_if<double>(&reading.value); value != nullptr && *value == 0.0)
        return "A diode drop of zero is a short to the reference.";
    if (const auto* word = std::get_if<SpecialValue>(&reading.value);
        word != nullptr && *word == SpecialValue::OverLimit)
        return "OL is over limit: the path is open, not shorted.";
    return "";
}

bool survey_key(Session& s, const Chord& chord) {
    SurveyDesk& desk = s.desks.get<SurveyDesk>();
    if (chord.key != Key::Escape) return false;
    if (is_pin_shown(s)) {
        leave_pin(s);
        return true;
    }
    if (desk.wishes.text.empty() || !s.editor.selection().empty()) return false;
    desk.wishes.text.clear();
    return true;
}

namespace {

/// Where the words stand whole in what is to be seen; where it is too narrow for them, as they stood.
double held_in(const geometry::Box& seen, const scene::Text& words, double px_per_mm) {
    const double half = scene::box_of(words, px_per_mm).width() / 2.0 + 4.0 / px_per_mm;
    const double low = seen.min.x + half, high = seen.max.x - half;
    const bool is_near = words.at.x >= seen.min.x && words.at.x <= seen.max.x && low <= high;
    return is_near ? std::clamp(words.at.x, low, high) : words.at.x;
}

} // namespace

void add_survey_overlay(const Session& s, scene::Scene& out) {
    const auto* desk = s.desks.find<SurveyDesk>();
    if (desk == nullptr) return;
    const Chart& chart = s.editor.shown();
    const auto at = document::find_part(chart, desk->pad.part);
    const bool is_shown = at && s.editor.is_selected(desk->pad.part) && chart.parts[*at].placement.side == s.seen_from;
    if (is_shown && desk->pad.pad < chart.parts[*at].pads.size()) {
        const Footprint& part = chart.parts[*at];
        geometry::Ring ring = geometry::transformed(document::outline_on_board(part, part.pads[desk->pad.pad]),
                                                    scene::scene_from_board(s.seen_from));
        out.add(scene::Role::Selection, scene::Line{std::move(ring), true, scene::Weight::Bold});
    }
    // A dashed ring tells it from one that is on the chart.
    const auto pin = [&](geometry::Vec2 place, Side side, scene::Sign sign, scene::Role role) {
        if (side != s.seen_from) return;
        const geometry::Vec2 seen = scene::scene_from_board(place, s.seen_from);
        const double px = s.ui_scale / s.camera.px_per_mm();
        out.add(role, scene::Symbol{seen, sign, kDraft_px});
        out.add(scene::Role::Marquee, scene::Line{geometry::transformed(geometry::circle(kDraftRing_px * px, 0.5 * px),
                                                                        geometry::Affine::translation(seen)),
                                                  true, scene::Weight::Normal});
        scene::Text words{.at = {seen.x, seen.y + 2 * kDraftRing_px * px},
                          .text = "not on the chart yet",
                          .strong = true,
                          .halo = true};
        words.at.x = held_in(s.camera.visible(), words, s.camera.px_per_mm() / s.ui_scale);
        out.add(scene::Role::Selection, std::move(words));
    };
    const auto draw = [&](const PinDraft& draft) {
        if (draft.note) pin(draft.note->at, draft.note->side, scene::Sign::NoteSign, scene::Role::SelectionHandle);
        if (draft.reading) pin(draft.reading->at, draft.reading->side, scene::Sign::Cross, scene::Role::Measure);
    };
    if (is_pin_shown(s) && !is_typed(desk->pin)) draw(desk->pin);
    for (const PinDraft& draft : typed_pins(s))
        draw(draft);
}

void go_to_thing(Session& s, const Id& id) {
    const Chart& chart = s.editor.chart();
    if (document::is_part(chart, id)) return s.go_to(id);
    const std::optional<Side> side = document::side_of(chart, id);
    if (!side) return;
    if (*side != s.seen_from) s.flip_side();
    s.editor.select({id});
    const geometry::Box place = document::place_of(chart, id);
    geometry::Box box;
    box.add(scene::scene_from_board(place.min, s.seen_from));
    box.add(scene::scene_from_board(place.max, s.seen_from));
    s.camera.show(box, 60 * s.ui_scale);
}

} // namespace padchart::app
