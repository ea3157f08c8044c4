#include "app/pad_numbering.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <map>

#include "analysis/grouping.hpp"
#include "analysis/pad_numbers.hpp"
#include "base/counted.hpp"
#include "document/edits.hpp"
#include "document/mark_spot.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::Footprint;
using document::Meaning;
using Numbers = std::vector<std::string>;

bool knows_first_pin(const Footprint& part) {
    return part.orientation.state == document::RecordState::Recorded &&
           (part.orientation.meaning == Meaning::Pin1 || part.orientation.meaning == Meaning::CornerA1);
}

/// As numbered when the part is looked at turned by quarters: a symmetric one then begins elsewhere.
Numbers seen_turned(Footprint part, int quarters) {
    const Angle turn = Angle::degrees(90.0 * quarters);
    for (document::Pad& pad : part.pads) {
        pad.at = geometry::Affine::rotation(turn)(pad.at);
        pad.turn = (pad.turn + turn).wrapped();
    }
    return analysis::numbers_by_rule(part);
}

double first_from(const Footprint& part, const Numbers& numbers, geometry::Vec2 spot) {
    for (std::size_t i = 0; i < numbers.size(); ++i)
        if (numbers[i] == "1" || numbers[i] == "A1") return geometry::distance(part.pads[i].at, spot);
    return std::numeric_limits<double>::infinity();
}

Numbers numbers_for(const Footprint& part) {
    Numbers best = analysis::numbers_by_rule(part);
    const auto spot = document::mark_spot(part);
    if (!spot || !knows_first_pin(part)) return best;
    for (int quarters = 1; quarters < 4; ++quarters) {
        Numbers other = seen_turned(part, quarters);
        if (first_from(part, other, *spot) < first_from(part, best, *spot)) best = std::move(other);
    }
    return best;
}

/// What the readings of the part are to call its pads. Of numbers that several pads bore nobody knows which was meant.
std::map<std::string, std::string> new_names(const Footprint& part, const Numbers& numbers) {
    std::map<std::string, std::string> names;
    std::map<std::string, int> count;
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        names[part.pads[i].number] = numbers[i];
        ++count[part.pads[i].number];
    }
    std::erase_if(names, [&](const auto& name) { return name.first.empty() || count[name.first] > 1; });
    return names;
}

void rename_in_readings(Chart& chart, const document::Id& part, const std::map<std::string, std::string>& names) {
    for (std::size_t i = 0; i < chart.readings.size(); ++i) {
        document::Reading reading = chart.readings[i];
        const auto name = names.find(reading.pad);
        if (reading.target != part || name == names.end()) continue;
        reading.pad = name->second;
        chart.readings.replace(i, std::move(reading));
    }
}

std::string words_for(const Chart& chart, const Footprint& part) {
    std::string words = fmt::format("{} of {} numbered counter-clockwise by rule. ", counted(part.pads.size(), "pad"),
                                    part.name.empty() ? "the part" : part.name);
    words += knows_first_pin(part) ? "Pad 1 is the one nearest to the mark on record."
                                   : "Where pad 1 is, only the board tells: look for the mark.";
    for (const Diagnostic& finding : analysis::mirrored_numbering(chart))
        if (finding.target != part.id.text)
            return words + " Other parts' numbers run clockwise: is the picture mirrored?";
    return words;
}

} // namespace

Result<Numbered> numbered_by_rule(const Chart& chart, const document::Id& id) {
    const auto at = document::find_part(chart, id);
    if (!at) return Error{"There is no such part on the chart.", id.text};
    const Footprint& part = chart.parts[*at];
    if (part.locked) return Error{part.name + " is locked; unlock it first.", ""};
    if (part.pads.empty()) return Error{part.name + " has no pads; draw them first.", ""};
    const Numbers numbers = numbers_for(part);
    if (std::any_of(numbers.begin(), numbers.end(), [](const std::string& number) { return number.empty(); }))
        return Error{"A place of its rows has no pad: draw it first, or give the numbers by hand.", ""};
    Result<Chart> next = document::change_part(chart, id, [&](Footprint& changed) {
        for (std::size_t i = 0; i < numbers.size(); ++i)
            changed.pads[i].number = numbers[i];
    });
    if (!next) return next.error();
    rename_in_readings(*next, id, new_names(part, numbers));
    std::string words = words_for(*next, part);
    return Numbered{std::move(*next), std::move(words)};
}

bool lacks_numbers(const Footprint& part) {
    const auto is_bare = [](const document::Pad& pad) { return pad.number.empty(); };
    const bool is_heap = !part.trace_key.empty() && analysis::is_left_loose(part);
    return !part.locked && !is_heap && std::any_of(part.pads.begin(), part.pads.end(), is_bare);
}

void number_selected_pads(Editor& editor) {
    const Footprint part = *editor.selected_part();
    Result<Numbered> numbered = numbered_by_rule(editor.chart(), part.id);
    if (!numbered) return editor.tell(Severity::Warning, numbered.error().message);
    const bool is_new = numbered->chart != editor.chart();
    if (is_new) editor.commit(std::move(numbered->chart), "Number the pads of " + part.name);
    editor.tell(Severity::Note, is_new ? numbered->words : "Its pads are numbered by rule already.");
}

} // namespace padchart::app
