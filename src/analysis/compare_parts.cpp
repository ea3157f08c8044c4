#include "analysis/compare_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "analysis/compare_frames.hpp"
#include "analysis/fit.hpp"
#include "patterns/labels.hpp"

namespace padchart::analysis {
namespace {

using document::Footprint;
using document::PartClass;
using document::RecordState;
using patterns::label_of;

/// One pair of parts and where its changes go.
struct PartCase {
    const Footprint& before;
    const Footprint& after;
    const PartContext& context;
    std::vector<Change>& out;

    Change& add(ChangeKind kind, std::string message) const {
        Change change;
        change.kind = kind;
        change.before_id = before.id;
        change.after_id = after.id;
        change.name = before.name.empty() ? after.name : before.name;
        change.message = spoken_name(before) + ' ' + std::move(message);
        return out.emplace_back(std::move(change));
    }
    Change& add(ChangeKind kind, std::string field, std::string_view was, std::string_view is,
                std::string message) const {
        Change& change = add(kind, std::move(message));
        change.field = std::move(field);
        change.before = was;
        change.after = is;
        return change;
    }
};

document::Side side_as_before(const PartCase& c) {
    const document::Side side = c.after.placement.side;
    if (!c.context.sides_swapped) return side;
    return side == document::Side::Top ? document::Side::Bottom : document::Side::Top;
}

void compare_text(const PartCase& c, ChangeKind kind, std::string_view what, const std::string& was,
                  const std::string& is) {
    if (was == is) return;
    std::string message;
    if (was.empty())
        message = fmt::format("has got a {}: \"{}\".", what, is);
    else if (is.empty())
        message = fmt::format("has lost its {}, which was \"{}\".", what, was);
    else if (kind == ChangeKind::Name)
        message = fmt::format("was renamed: \"{}\" before, \"{}\" now.", was, is);
    else
        message = fmt::format("has another {}: \"{}\" before, \"{}\" now.", what, was, is);
    c.add(kind, std::string(what), was, is, std::move(message));
}

void compare_words(const PartCase& c) {
    compare_text(c, ChangeKind::Name, "name", c.before.name, c.after.name);
    compare_text(c, ChangeKind::Role, "role", c.before.role, c.after.role);
    compare_text(c, ChangeKind::Value, "value", c.before.value, c.after.value);
    if (c.before.part_class != c.after.part_class)
        c.add(ChangeKind::Class, "class", document::to_text(c.before.part_class), document::to_text(c.after.part_class),
              fmt::format("was {} before and is {} now.", label_of(c.before.part_class), label_of(c.after.part_class)));
}

// Place ----------------------------------------------------------------------------------------------------------

/// Harmless for what the part is, by either chart's word on that.
bool is_harmless_turn(const PartCase& c, double by_deg) {
    const Footprint& known = c.before.part_class == PartClass::Unknown ? c.after : c.before;
    const std::vector<double> turns = harmless_turns(known);
    return std::any_of(turns.begin(), turns.end(), [&](double turn) {
        return std::abs(Angle::degrees(by_deg - turn).signed_turn().degrees()) <= c.context.options.turned_deg;
    });
}

/// "180.0 degrees", "91.0 degrees clockwise (a quarter turn clockwise and 1.0 clockwise)". Half a turn is one either
/// way.
std::string turn_in_words(double by_deg, const Turn& turn) {
    const bool has_rest = std::abs(turn.residual_deg) > 0.05;
    std::string text = fmt::format("{:.1f} degrees", std::abs(by_deg));
    if (turn.quarter_deg != 180.0 || has_rest) text += fmt::format(" {}", way_in_words(by_deg));
    if (turn.quarter_deg == 0.0 || !has_rest) return text;
    const std::string quarter = turn.quarter_deg == 180.0  ? "half a turn"
                                : turn.quarter_deg == 90.0 ? "a quarter turn counter-clockwise"
                                                           : "a quarter turn clockwise";
    return text +
           fmt::format(" ({} and {:.1f} {})", quarter, std::abs(turn.residual_deg), way_in_words(turn.residual_deg));
}

void report_turn(const PartCase& c, double by_deg) {
    const Turn turn = turn_of(by_deg);
    const bool harmless = is_harmless_turn(c, by_deg);
    std::string how = "sits turned by " + turn_in_words(by_deg, turn);
    how += c.before.placement.side == document::Side::Top ? ", seen from the top" : ", seen from the bottom";
    how += harmless ? ", which is harmless for what it is." : ".";
    Change& change = c.add(ChangeKind::Turned, std::move(how));
    change.turn = turn;
    change.harmless = harmless;
}

void compare_pattern(const PartCase& c, const OwnFrames& frames) {
    if (frames.same_pads) return;
    if (c.before.pads.size() != c.after.pads.size())
        c.add(ChangeKind::Pattern, "pads", std::to_string(c.before.pads.size()), std::to_string(c.after.pads.size()),
              fmt::format("is drawn with {} pads, before it was {}.", c.after.pads.size(), c.before.pads.size()));
    else
        c.add(ChangeKind::Pattern, fmt::format("has its pads drawn elsewhere, by up to {:.2f} mm.", frames.worst_mm))
            .field = "pads";
}

std::string extent_in_words(geometry::Vec2 mm) {
    return fmt::format("{:.2f} x {:.2f} mm", mm.x, mm.y);
}

/// One change for all pads and one for the body: a pattern that was drawn wider is one thing to look at, not a hundred.
void compare_sizes(const PartCase& c, const OwnFrames& frames, double tolerance_mm) {
    const std::vector<Resized> all = resized(c.before, c.after, frames, tolerance_mm);
    for (const bool is_body : {false, true}) {
        const auto is_wanted = [&](const Resized& one) { return (one.what == "body") == is_body; };
        const auto largest = std::find_if(all.begin(), all.end(), is_wanted);
        if (largest == all.end()) continue;
        const auto count = std::count_if(all.begin(), all.end(), is_wanted);
        const std::string how = count > 1
                                    ? fmt::format("has {} pads drawn in another size, {} most:", count, largest->what)
                                    : fmt::format("has its {} drawn in another size:", largest->what);
        c.add(ChangeKind::Pattern, is_body ? "body size" : "pad size", extent_in_words(largest->before_mm),
              extent_in_words(largest->after_mm),
              fmt::format("{} {} before, {} now.", how, extent_in_words(largest->before_mm),
                          extent_in_words(largest->after_mm)));
    }
}

/// As whoever pushes it back sees it on the board of the second chart, which may be turned: as large as it is in the
/// first one.
geometry::Vec2 as_it_is_seen(const PartCase& c, geometry::Vec2 by) {
    const geometry::Vec2 now = c.context.before_from_after.inverse().linear(by);
    const double length = geometry::length(now);
    if (length <= 0.0) return by;
    const geometry::Vec2 seen = now * (geometry::length(by) / length);
    const auto tidy = [](double mm) { return std::round(mm * 100.0) / 100.0 + 0.0; }; // no "-0.00"
    return {tidy(c.after.placement.side == document::Side::Bottom ? -seen.x : seen.x), tidy(seen.y)};
}

/// Gives how a direction in the second chart's own frame of the part is called in the first one's.
OwnFrames compare_place(const PartCase& c) {
    const double tolerance_mm = moved_tolerance(c.before, c.context.options);
    const OwnFrames frames = own_frames(c.before, c.after, {c.context.drawn_mirrored, c.context.scale}, tolerance_mm);
    if (c.before.placement.side != side_as_before(c))
        c.add(ChangeKind::Side, "side", document::to_text(c.before.placement.side),
              document::to_text(side_as_before(c)),
              fmt::format("was on the {} side and is on the {} side now.", document::to_text(c.before.placement.side),
                          document::to_text(side_as_before(c))));
    if (!c.context.places_compared) return frames;
    compare_pattern(c, frames);
    compare_sizes(c, frames, tolerance_mm);
    const Displacement shift = displacement(c.before, c.after, frames, c.context.before_from_after);
    const double distance_mm = geometry::length(shift.by_mm);
    if (distance_mm > tolerance_mm) {
        const geometry::Vec2 seen = as_it_is_seen(c, shift.by_mm);
        c.add(ChangeKind::Moved,
              fmt::format("has moved by {:.2f} mm ({:+.2f} right, {:+.2f} down{}).", distance_mm, seen.x, seen.y,
                          c.after.placement.side == document::Side::Bottom ? ", seen from the bottom" : ""))
            .move = Move{shift.by_mm, distance_mm, tolerance_mm};
    }
    if (shift.turn_deg && std::abs(*shift.turn_deg) > c.context.options.turned_deg) report_turn(c, *shift.turn_deg);
    return frames;
}

// Which way round ------------------------------------------------------------------------------------------------

std::string record_in_words(const document::Orientation& record) {
    if (record.state != RecordState::Recorded) return std::string(label_of(record.state));
    return fmt::format("{} at {:g} degrees = {}", label_of(record.mark), record.bearing.wrapped().degrees(),
                       label_of(record.meaning));
}

/// Both bearings lie in the part's own frame, so that a part that turned as a whole keeps its record.
bool is_same_record(const PartCase& c, const OwnFrames& frames) {
    const document::Orientation& was = c.before.orientation;
    const document::Orientation& is = c.after.orientation;
    if (was.state != is.state || was.mark != is.mark || was.meaning != is.meaning) return false;
    if (was.state != RecordState::Recorded) return true;
    const Angle bearing = geometry::bearing(frames.before_from_after.linear(geometry::direction(is.bearing)));
    return std::abs((bearing - was.bearing).signed_turn().degrees()) <= c.context.options.turned_deg;
}

void compare_orientation(const PartCase& c, const OwnFrames& frames) {
    if (is_same_record(c, frames)) return;
    const std::string was = record_in_words(c.before.orientation);
    const std::string is = record_in_words(c.after.orientation);
    const bool lost =
        c.before.orientation.state != RecordState::NotRecorded && c.after.orientation.state == RecordState::NotRecorded;
    if (lost)
        c.add(ChangeKind::NotCheckedAgain, "orientation", was, is,
              fmt::format("has its way round no longer on record; it was {}.", was));
    else
        c.add(ChangeKind::Orientation, "orientation", was, is,
              fmt::format("has another way round on record: {} before, {} now.", was, is))
            .harmless = c.before.orientation.state == RecordState::NotRecorded;
}

// State ----------------------------------------------------------------------------------------------------------

template <class State>
constexpr bool is_good(State state) {
    return state == State::Good;
}
template <>
constexpr bool is_good(document::Presence state) {
    return state == document::Presence::Present;
}

template <class State>
void compare_state(const PartCase& c, ChangeKind kind, const std::string& field, State was, State is) {
    if (was == is) return;
    if (is == State::NotChecked)
        c.add(ChangeKind::NotCheckedAgain, field, document::to_text(was), document::to_text(is),
              fmt::format("was not checked again: {} was {}.", field, label_of(was)));
    else
        c.add(kind, field, document::to_text(was), document::to_text(is),
              fmt::format("{}: {} before, {} now.", field, label_of(was), label_of(is)))
            .harmless = is_good(is);
}

void compare_condition(const PartCase& c) {
    const document::Condition& was = c.before.condition;
    const document::Condition& is = c.after.condition;
    compare_state(c, ChangeKind::State, "presence", was.presence, is.presence);
    compare_state(c, ChangeKind::State, "seating", was.seating, is.seating);
    compare_state(c, ChangeKind::State, "joint", was.joint, is.joint);
    compare_state(c, ChangeKind::State, "body", was.body, is.body);
    compare_state(c, ChangeKind::State, "land", was.land, is.land);
    compare_text(c, ChangeKind::State, "note on its state", was.note, is.note);
    compare_text(c, ChangeKind::State, "reason why it is not needed", was.not_needed_because, is.not_needed_because);
}

std::string pad_name(const document::Pad& pad, std::size_t index) {
    return "pad " + (pad.number.empty() ? "#" + std::to_string(index + 1) : pad.number);
}

/// The pad of that number, where one alone bears it; else of that position where both parts have as many.
const document::Pad* partner_of(const PartCase& c, std::size_t index) {
    const std::string& number = c.before.pads[index].number;
    const auto bears_it = [&](const document::Pad& pad) { return pad.number == number; };
    const bool is_own = !number.empty() && std::count_if(c.before.pads.begin(), c.before.pads.end(), bears_it) == 1 &&
                        std::count_if(c.after.pads.begin(), c.after.pads.end(), bears_it) == 1;
    if (is_own) return &*std::find_if(c.after.pads.begin(), c.after.pads.end(), bears_it);
    return c.before.pads.size() == c.after.pads.size() ? &c.after.pads[index] : nullptr;
}

bool same_states(const PartCase& c) {
    return c.before.pads.size() == c.after.pads.size() &&
           std::equal(c.before.pads.begin(), c.before.pads.end(), c.after.pads.begin(),
                      [](const auto& a, const auto& b) {
                          return a.number == b.number && a.land == b.land && a.joint == b.joint;
                      });
}

void compare_pads(const PartCase& c) {
    if (same_states(c)) return; // the usual case, and finding partners is slow on large parts
    for (std::size_t i = 0; i < c.before.pads.size(); ++i) {
        const document::Pad* after = partner_of(c, i);
        if (after == nullptr) continue;
        const std::string name = pad_name(c.before.pads[i], i);
        compare_state(c, ChangeKind::PadState, name + " land", c.before.pads[i].land, after->land);
        compare_state(c, ChangeKind::PadState, name + " joint", c.before.pads[i].joint, after->joint);
    }
}

} // namespace

std::string spoken_name(const Footprint& part) {
    if (!part.name.empty()) return part.name;
    return fmt::format("The part without name at {:.1f}, {:.1f}", part.placement.at.x, part.placement.at.y);
}

void compare_parts(const Footprint& before, const Footprint& after, const PartContext& context,
                   std::vector<Change>& out) {
    const PartCase c{before, after, context, out};
    const OwnFrames frames = compare_place(c);
    compare_words(c);
    compare_orientation(c, frames);
    compare_condition(c);
    compare_pads(c);
}

} // namespace padchart::analysis
