#include "analysis/pad_numbers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <optional>

#include "patterns/designation.hpp"
#include "patterns/numbering.hpp"

namespace padchart::analysis {
namespace {

using document::Chart;
using document::Footprint;
using document::Pad;
using geometry::Vec2;

std::optional<int> whole_number(const Pad& pad) {
    int number = 0;
    const char* const end = pad.number.data() + pad.number.size();
    const auto [stop, fault] = std::from_chars(pad.number.data(), end, number);
    if (fault != std::errc{} || stop != end) return std::nullopt;
    return number;
}

std::string called(const Footprint& part) {
    return part.name.empty() ? "a part without a name" : part.name;
}

/// Pads with whole numbers, in their order, without one in the middle.
std::vector<Vec2> numbered_ring(const Footprint& part) {
    std::map<int, Vec2> by_number;
    geometry::Box box;
    for (const Pad& pad : part.pads) {
        const std::optional<int> number = whole_number(pad);
        if (!number) continue;
        by_number.emplace(*number, pad.at);
        box.add(pad.at);
    }
    std::vector<Vec2> ring;
    for (const auto& [number, at] : by_number) {
        const Vec2 off = at - box.centre();
        const bool inside = std::abs(off.x) < 0.25 * box.width() && std::abs(off.y) < 0.25 * box.height();
        if (!inside || number < static_cast<int>(by_number.size())) ring.push_back(at);
    }
    return ring;
}

/// Makers number connectors as they like (patterns::ConnectorScheme): their numbers tell nothing of a mirror.
bool is_connector(document::PartClass part_class) {
    using enum document::PartClass;
    for (const document::PartClass one :
         {BoardConnector, FlatCableConnector, CardSocket, Receptacle, Connector, SpringContact, CellHolder, Switch})
        if (part_class == one) return true;
    return false;
}

bool is_connector(const Footprint& part) {
    if (part.part_class != document::PartClass::Unknown) return is_connector(part.part_class);
    const std::vector<patterns::ClassHint> hints = patterns::class_hints(part.name);
    const auto connectors =
        std::count_if(hints.begin(), hints.end(), [](const auto& hint) { return is_connector(hint.part_class); });
    // A letter that now and then is a connector's, X, tells nothing.
    return connectors > 0 && 2 * connectors >= std::ssize(hints);
}

/// One row drawn by a shaky hand goes round nothing.
bool is_one_row(const std::vector<Vec2>& ring) {
    constexpr double kThin = 0.1; // common practice, no source: no two rows are ten times as long as they are apart
    const geometry::Box box = geometry::bounds(ring);
    return std::min(box.width(), box.height()) < kThin * std::max(box.width(), box.height());
}

/// Pads 1 to n without one in the middle, each once; empty where one is lacking.
std::vector<Vec2> complete_ring(const Footprint& part) {
    std::vector<Vec2> ring = numbered_ring(part);
    std::size_t numbered = 0;
    int highest = 0;
    for (const Pad& pad : part.pads)
        if (const auto number = whole_number(pad)) {
            ++numbered;
            highest = std::max(highest, *number);
        }
    const bool complete = numbered == part.pads.size() && static_cast<std::size_t>(highest) == numbered &&
                          (ring.size() == numbered || ring.size() + 1 == numbered);
    return complete ? ring : std::vector<Vec2>{};
}

bool goes_round(const std::vector<Vec2>& ring) {
    const std::vector<int> rule = patterns::perimeter_numbers(ring, 0);
    for (std::size_t i = 0; i < ring.size(); ++i)
        if (rule[i] != static_cast<int>(i) + 1) return false;
    return true;
}

/// The last pad and pad 2 lie on either side of pad 1, in one line and as near.
bool begins_amid_a_row(const std::vector<Vec2>& ring) {
    constexpr double kSlack = 0.2; // of the pitch; common practice, no source
    const Vec2 next = ring[1] - ring[0];
    const Vec2 last = ring.back() - ring[0];
    return geometry::length(next + last) <= kSlack * geometry::length(next);
}

void find_twice(const Footprint& part, Diagnostics& findings) {
    std::map<int, int> count;
    for (const Pad& pad : part.pads)
        if (const auto number = whole_number(pad)) ++count[*number];
    for (const auto& [number, times] : count)
        if (times > 1)
            findings.push_back({Severity::Warning,
                                "pad-number-twice",
                                fmt::format("{} pads of {} bear the number {}; right would be a number of its own for "
                                            "each, unless they are lands of one terminal",
                                            times, called(part), number),
                                {},
                                part.id.text});
}

void find_order(const Footprint& part, Diagnostics& findings) {
    constexpr std::size_t kLeast = 5; // fewer are numbered in many ways
    const std::vector<Vec2> ring = complete_ring(part);
    if (ring.size() < kLeast || is_one_row(ring)) return;
    if (patterns::numbering_sense(ring) == patterns::NumberingSense::Clockwise) return; // told by mirrored_numbering
    if (!goes_round(ring))
        findings.push_back({Severity::Note,
                            "numbers-not-in-turn",
                            fmt::format("the pad numbers of {} do not go round it counter-clockwise as those of most "
                                        "packages: look at its marking",
                                        called(part)),
                            {},
                            part.id.text});
    else if (begins_amid_a_row(ring))
        findings.push_back({Severity::Note,
                            "first-pin-in-row",
                            fmt::format("pad 1 of {} lies amid a row; most packages begin at the end of one: look at "
                                        "its marking",
                                        called(part)),
                            {},
                            part.id.text});
}

} // namespace

Diagnostics mirrored_numbering(const Chart& chart) {
    Diagnostics findings;
    std::size_t can_tell = 0;
    for (const Footprint& part : chart.parts) {
        if (is_connector(part)) continue;
        const std::vector<Vec2> ring = numbered_ring(part);
        if (ring.empty() || is_one_row(ring)) continue;
        const patterns::NumberingSense sense = patterns::numbering_sense(ring);
        if (sense == patterns::NumberingSense::Unclear) continue;
        ++can_tell;
        if (sense == patterns::NumberingSense::CounterClockwise) continue;
        findings.push_back({Severity::Warning,
                            "pins-clockwise",
                            fmt::format("the pin numbers of {} run clockwise seen from its side; right would be "
                                        "counter-clockwise: mirrored picture, or wrong numbers",
                                        called(part)),
                            {},
                            part.id.text});
    }
    if (findings.size() >= 2 && findings.size() == can_tell)
        findings.push_back({Severity::Fault,
                            "picture-mirrored",
                            fmt::format("the pin numbers of all {} parts that can tell run clockwise: the picture "
                                        "was mirrored; mirror it and trace again, or set the side",
                                        can_tell),
                            {},
                            {}});
    return findings;
}

Diagnostics numbers_against_rule(const Chart& chart) {
    Diagnostics findings;
    for (const Footprint& part : chart.parts) {
        if (!part.family.empty()) continue;
        find_twice(part, findings);
        if (!is_connector(part)) find_order(part, findings);
    }
    return findings;
}

} // namespace padchart::analysis
