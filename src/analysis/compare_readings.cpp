#include "analysis/compare_readings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace padchart::analysis {
namespace {

using document::Chart;
using document::Id;
using document::Reading;
using geometry::Vec2;

constexpr double kSamePoint_mm = 1.0;

/// Where and what, apart from places without a part, which are compared by distance.
using Key = std::tuple<std::string, std::string, document::Quantity, std::string, document::WhichBoard>;

struct Measured {
    const Reading* reading = nullptr;
    Vec2 at; ///< first chart's frame
    document::Side side = document::Side::Top;
};

using ByKey = std::map<Key, std::vector<Measured>>;

Key key_of(const Reading& reading, const Id& target) {
    return {target.text, target.is_empty() ? std::string() : reading.pad, reading.quantity, reading.reference,
            reading.board};
}

bool is_same_point(const Measured& a, const Measured& b) {
    if (!a.reading->target.is_empty()) return true; // the key says so
    return a.side == b.side && geometry::distance(a.at, b.at) <= kSamePoint_mm;
}

/// Leads the other way, or power on, is another measurement: a diode drop both ways are two readings.
bool is_same_way(const Measured& a, const Measured& b) {
    return a.reading->leads == b.reading->leads && a.reading->power == b.reading->power;
}

/// Keeps the later of two at the same point, taken the same way.
void add_last(std::vector<Measured>& list, const Measured& measured) {
    for (Measured& known : list) {
        if (!is_same_point(known, measured) || !is_same_way(known, measured)) continue;
        if (measured.reading->date >= known.reading->date) known = measured;
        return;
    }
    list.push_back(measured);
}

document::Side other(document::Side side) {
    return side == document::Side::Top ? document::Side::Bottom : document::Side::Top;
}

struct PrefixedUnit {
    double factor = 1.0;
    std::string_view unit;
};

/// "mV" is a thousandth of "V"; a unit of one letter has no prefix.
PrefixedUnit split(std::string_view text) {
    static constexpr std::pair<std::string_view, double> kPrefixes[] = {{"p", 1e-12},     {"n", 1e-9},      {"u", 1e-6},
                                                                        {"\u00b5", 1e-6}, {"\u03bc", 1e-6}, {"m", 1e-3},
                                                                        {"k", 1e3},       {"M", 1e6}};
    static constexpr std::string_view kUnits[] = {"V", "A", "F", "ohm", "\u03a9", "\u2126"};
    for (const std::string_view unit : kUnits) {
        if (text.size() < unit.size() || text.substr(text.size() - unit.size()) != unit) continue;
        const std::string_view prefix = text.substr(0, text.size() - unit.size());
        const std::string_view plain = unit == "\u03a9" || unit == "\u2126" ? "ohm" : unit;
        if (prefix.empty()) return {1.0, plain};
        for (const auto& [letter, factor] : kPrefixes)
            if (prefix == letter) return {factor, plain};
    }
    return {1.0, text};
}

std::string why_not_comparable(const Reading& before, const Reading& after) {
    if (before.leads != after.leads) return "leads the other way";
    if (before.power != after.power) return "other power state";
    if (before.meter != after.meter) return "other meter";
    if (before.parts_removed != after.parts_removed) return "other parts off the board";
    if (before.meter.empty()) return "meter not stated";
    return unit_factor(before.unit, after.unit) ? "" : "units differ in kind";
}

std::string what_was_measured(const Reading& reading) {
    std::string text(document::to_text(reading.quantity));
    if (!reading.pad.empty()) text += " at pad " + reading.pad;
    return text + " to " + reading.reference;
}

ReadingChange change_between(const Reading& before, const Reading& after) {
    ReadingChange change;
    change.why_not = why_not_comparable(before, after);
    change.comparable = change.why_not.empty();
    const double* was = std::get_if<double>(&before.value);
    const double* is = std::get_if<double>(&after.value);
    const std::optional<double> factor = unit_factor(before.unit, after.unit);
    if (was == nullptr || is == nullptr || !factor) return change;
    change.difference = *is * *factor - *was;
    if (*was != 0.0) change.percent = 100.0 * *change.difference / std::abs(*was);
    return change;
}

bool is_same_value(const Reading& before, const Reading& after) {
    const double* was = std::get_if<double>(&before.value);
    const double* is = std::get_if<double>(&after.value);
    if (was == nullptr || is == nullptr) return before.value == after.value;
    const std::optional<double> factor = unit_factor(before.unit, after.unit);
    // One rounding of the prefix's factor is no change of the voltage.
    return factor && std::abs(*is * *factor - *was) <= 1e-12 * std::abs(*was);
}

bool measured_another_way(const Reading& before, const Reading& after) {
    return before.leads != after.leads || before.power != after.power || before.meter != after.meter ||
           before.parts_removed != after.parts_removed;
}

std::string same_value_sentence(const std::string& where, const Reading& after, const ReadingChange& change) {
    return fmt::format("{}: {} is {} again, but was measured another way: {}.", where, what_was_measured(after),
                       value_in_words(after), change.why_not);
}

std::string sentence(const std::string& where, const Reading& before, const Reading& after,
                     const ReadingChange& change) {
    std::string text = fmt::format("{}: {} was {} and is {}", where, what_was_measured(before), value_in_words(before),
                                   value_in_words(after));
    if (change.difference)
        text += fmt::format(" ({:+.4g}{}", *change.difference, before.unit.empty() ? "" : " " + before.unit);
    if (change.percent) text += fmt::format(", {:+.1f} %", *change.percent);
    if (change.difference) text += ')';
    if (!change.comparable) text += "; not to be compared: " + change.why_not;
    return text + '.';
}

class ReadingComparer {
public:
    ReadingComparer(const Chart& before, const Chart& after, std::vector<Change>& out)
        : before_(before), after_(after), out_(out) {}

    std::size_t run(const IdBefore& id_before, const geometry::Affine& before_from_after, bool sides_swapped) {
        ByKey earlier;
        ByKey later;
        for (const Reading& reading : before_.readings)
            add_last(earlier[key_of(reading, reading.target)], {&reading, reading.at, reading.side});
        for (const Reading& reading : after_.readings)
            add_last(later[key_of(reading, id_before(reading.target))],
                     {&reading, before_from_after(reading.at), sides_swapped ? other(reading.side) : reading.side});
        for (const auto& [key, list] : earlier) {
            // Those taken the same way first, so that each meets its like.
            std::vector<Measured> left;
            for (const Measured& measured : list)
                if (!compare_with(measured, later[key], is_same_way)) left.push_back(measured);
            for (const Measured& measured : left)
                if (!compare_with(measured, later[key], [](const Measured&, const Measured&) { return true; }))
                    report_missing(*measured.reading);
        }
        for (const auto& [key, list] : later)
            for (const Measured& measured : list)
                report_new(*measured.reading);
        return compared_;
    }

private:
    /// False where nothing among the candidates is its like.
    template <class Alike>
    bool compare_with(const Measured& was, std::vector<Measured>& candidates, Alike alike) {
        const auto found = std::find_if(candidates.begin(), candidates.end(), [&](const Measured& candidate) {
            return is_same_point(was, candidate) && alike(was, candidate);
        });
        if (found == candidates.end()) return false;
        const Reading& after = *found->reading;
        candidates.erase(found);
        ++compared_;
        compare(was, after);
        return true;
    }

    void compare(const Measured& was, const Reading& after) {
        const ReadingChange reading = change_between(*was.reading, after);
        const bool same_value = is_same_value(*was.reading, after);
        if (same_value && !measured_another_way(*was.reading, after)) return;
        Change change = change_of(ChangeKind::Reading, *was.reading);
        change.after_id = after.id;
        change.after = value_in_words(after);
        change.message = same_value ? same_value_sentence(change.name, after, reading)
                                    : sentence(change.name, *was.reading, after, reading);
        // Another meter that shows the same is good news; other leads that show the same are a question.
        change.harmless = same_value && was.reading->leads == after.leads && was.reading->power == after.power;
        change.reading = reading;
        out_.push_back(std::move(change));
    }

    void report_missing(const Reading& reading) {
        Change change = change_of(ChangeKind::ReadingMissing, reading);
        change.message = fmt::format("{}: {} was {} and was not measured again.", change.name,
                                     what_was_measured(reading), value_in_words(reading));
        out_.push_back(std::move(change));
    }

    void report_new(const Reading& reading) {
        Change change = change_of(ChangeKind::Reading, reading);
        std::swap(change.before_id, change.after_id);
        std::swap(change.before, change.after);
        change.harmless = true;
        change.message = fmt::format("{}: {} is {}; it was not measured before.", change.name,
                                     what_was_measured(reading), value_in_words(reading));
        out_.push_back(std::move(change));
    }

    [[nodiscard]] Change change_of(ChangeKind kind, const Reading& reading) const {
        Change change;
        change.kind = kind;
        change.before_id = reading.id;
        change.name = place_in_words(reading);
        change.field = what_was_measured(reading);
        change.before = value_in_words(reading);
        return change;
    }

    [[nodiscard]] std::string place_in_words(const Reading& reading) const {
        for (const Chart* chart : {&before_, &after_})
            if (const auto at = document::find_part(*chart, reading.target); at && !chart->parts[*at].name.empty())
                return chart->parts[*at].name;
        return fmt::format("Reading at {:.1f}, {:.1f}", reading.at.x, reading.at.y);
    }

    const Chart& before_;
    const Chart& after_;
    std::vector<Change>& out_;
    std::size_t compared_ = 0;
};

} // namespace

std::string value_in_words(const Reading& reading) {
    if (const auto* word = std::get_if<document::SpecialValue>(&reading.value))
        return std::string(document::to_text(*word));
    const std::string number = fmt::format("{}", std::get<double>(reading.value));
    return reading.unit.empty() ? number : number + ' ' + reading.unit;
}

std::optional<double> unit_factor(std::string_view to, std::string_view from) {
    if (to == from) return 1.0;
    const PrefixedUnit a = split(to);
    const PrefixedUnit b = split(from);
    if (a.unit != b.unit) return std::nullopt;
    return b.factor / a.factor;
}

std::size_t compare_readings(const Chart& before, const Chart& after, const IdBefore& id_before,
                             const geometry::Affine& before_from_after, bool sides_swapped, std::vector<Change>& out) {
    return ReadingComparer(before, after, out).run(id_before, before_from_after, sides_swapped);
}

} // namespace padchart::analysis
