#include "analysis/grouping.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <set>

#include "analysis/grouping_shapes.hpp"
#include "document/edits.hpp"
#include "geometry/box_index.hpp"
#include "patterns/designation.hpp"
#include "patterns/fit_pattern.hpp"
#include "patterns/numbering.hpp"
#include "patterns/size_class.hpp"

namespace padchart::analysis {
namespace {

using document::Chart;
using document::Footprint;
using document::Pad;
using document::Side;
using geometry::Affine;
using geometry::Vec2;

/// Families are fitted to no more pads than this: larger arrays are numbered by their places alone.
constexpr std::size_t kMostFitted = 120;
constexpr std::size_t kSuggestions = 10;
/// How far lands may lie and measure off a family's own for a part to be called like it, rms: half the pitch of fine
/// leads. Common practice, no source.
constexpr double kAlike_mm = 0.25;

bool is_loose(const Footprint& part) {
    return part.name.empty() && !part.body && part.family.empty() && !part.locked;
}

/// From the board to what is seen from that side.
Affine seen_from(Side side) {
    return document::board_from_part({{}, {}, side}).inverse();
}

std::vector<Land> loose_lands(const Chart& chart, Side side) {
    std::vector<Land> lands;
    const Affine view = seen_from(side);
    for (std::size_t p = 0; p < chart.parts.size(); ++p) {
        const Footprint& part = chart.parts[p];
        if (!is_loose(part) || part.placement.side != side) continue;
        for (std::size_t i = 0; i < part.pads.size(); ++i)
            lands.push_back(
                land_of({p, i}, geometry::transformed(document::outline_on_board(part, part.pads[i]), view)));
    }
    return lands;
}

/// The pads as a part of its own, not turned, about the middle of their centres.
Footprint part_of(const Chart& chart, const std::vector<LoosePad>& pads, Side side) {
    const auto on_board = [&](LoosePad from) {
        const Footprint& part = chart.parts[from.part];
        return document::board_from_part(part.placement)(part.pads[from.pad].at);
    };
    geometry::Box box;
    for (const LoosePad from : pads)
        box.add(on_board(from));
    Footprint part;
    part.placement = {box.centre(), {}, side};
    const Affine to_part = document::board_from_part(part.placement).inverse();
    for (const LoosePad from : pads) {
        const Footprint& old = chart.parts[from.part];
        Pad pad = old.pads[from.pad];
        pad.at = to_part(on_board(from));
        pad.turn = (pad.turn + old.placement.turn).wrapped();
        part.pads.push_back(std::move(pad));
    }
    return part;
}

std::string label_of_family(const std::string& key) {
    for (const patterns::SizeClass& size : patterns::size_classes())
        if (size.family == key) return patterns::label_of(size);
    const patterns::Family* family = patterns::find_family(key);
    return family == nullptr ? std::string() : std::string(family->name);
}

bool have_numbers(const std::vector<Pad>& pads) {
    std::set<std::string> numbers;
    for (const Pad& pad : pads)
        if (pad.number.empty() || !numbers.insert(pad.number).second) return false;
    return true;
}

/// Without a family: counter-clockwise from the upper left, a centre land last.
std::vector<std::string> plain_numbers(const std::vector<Pad>& pads, bool has_centre) {
    std::vector<Vec2> ring;
    for (std::size_t i = 0; i + (has_centre ? 1 : 0) < pads.size(); ++i)
        ring.push_back(pads[i].at);
    const auto first =
        std::min_element(ring.begin(), ring.end(), [](Vec2 a, Vec2 b) { return a.x + 0.9 * a.y < b.x + 0.9 * b.y; });
    std::vector<std::string> numbers;
    for (const int n : patterns::perimeter_numbers(ring, static_cast<std::size_t>(first - ring.begin())))
        numbers.push_back(std::to_string(n));
    if (has_centre) numbers.push_back(std::to_string(pads.size()));
    return numbers;
}

/// A place of a lattice for each coordinate: those that lie close together share one.
std::vector<int> places(const std::vector<double>& coordinates) {
    std::vector<double> sorted = coordinates;
    std::sort(sorted.begin(), sorted.end());
    double pitch = sorted.back() - sorted.front();
    double widest = 0.0;
    for (std::size_t i = 1; i < sorted.size(); ++i)
        widest = std::max(widest, sorted[i] - sorted[i - 1]);
    for (std::size_t i = 1; i < sorted.size(); ++i) // the least step that is no jitter
        if (sorted[i] - sorted[i - 1] > 0.4 * widest) pitch = std::min(pitch, sorted[i] - sorted[i - 1]);
    std::vector<int> all;
    for (const double at : coordinates)
        all.push_back(pitch > 0.0 ? static_cast<int>(std::lround((at - sorted.front()) / pitch)) + 1 : 1);
    return all;
}

std::vector<std::string> grid_numbers(const std::vector<Pad>& pads) {
    std::vector<double> x, y;
    for (const Pad& pad : pads) {
        x.push_back(pad.at.x);
        y.push_back(pad.at.y);
    }
    const std::vector<int> columns = places(x);
    const std::vector<int> rows = places(y);
    std::vector<std::string> numbers;
    for (std::size_t i = 0; i < pads.size(); ++i)
        numbers.push_back(patterns::ball_name({rows[i], columns[i]}));
    return numbers;
}

/// Of families that fit alike a chip is the likeliest pair.
const patterns::PatternFit* chosen(const std::vector<patterns::PatternFit>& fits, GroupKind kind) {
    if (kind == GroupKind::Pair)
        for (const patterns::PatternFit& fit : fits)
            if (fit.family.starts_with("chip-")) return &fit;
    return fits.empty() ? nullptr : &fits.front();
}

std::vector<std::string> family_numbers(const patterns::PatternFit& fit) {
    std::vector<std::string> numbers;
    const Result<Footprint> pattern = patterns::pattern_of(fit);
    if (!pattern) return numbers;
    for (const std::size_t at : fit.pattern_pad)
        numbers.push_back(pattern->pads[at].number);
    return numbers;
}

/// A lattice turned off the page is no lattice of rows and columns of the page: only its family can number it.
std::vector<std::string> numbers_without_family(const std::vector<Pad>& pads, GroupKind kind) {
    if (kind == GroupKind::Grid) {
        std::vector<std::string> numbers = grid_numbers(pads);
        if (std::set<std::string>(numbers.begin(), numbers.end()).size() == numbers.size()) return numbers;
        return std::vector<std::string>(pads.size());
    }
    const auto size = [](const Pad& pad) { return std::abs(geometry::signed_area(document::outline_of(pad.shape))); };
    const bool has_centre = pads.size() > 4 && size(pads.back()) > 2.0 * size(pads.front());
    return plain_numbers(pads, has_centre);
}

GroupProposal proposal_of(const Chart& chart, const std::vector<Land>& lands, const LandSet& set, Side side) {
    GroupProposal proposal;
    proposal.kind = set.kind;
    proposal.side = side;
    for (const std::size_t i : set.lands)
        proposal.pads.push_back(lands[i].from);
    proposal.why = set.why;
    const Footprint part = part_of(chart, proposal.pads, side);
    std::vector<patterns::PatternFit> fits;
    if (set.kind != GroupKind::Single && part.pads.size() <= kMostFitted)
        fits = patterns::suggest_families(part.pads, kSuggestions);
    if (const patterns::PatternFit* fit = chosen(fits, set.kind)) {
        proposal.family = fit->family;
        // Stretched far enough any family fits: then it tells how pads are numbered, not what the part is.
        if (fit->as_is_rms_mm <= kAlike_mm) proposal.like = label_of_family(fit->family);
        proposal.numbers = family_numbers(*fit);
    }
    if (!proposal.like.empty()) proposal.why += fmt::format(": a {} like {}", to_text(set.kind), proposal.like);
    if (have_numbers(part.pads)) {
        proposal.numbers.clear();
        for (const Pad& pad : part.pads)
            proposal.numbers.push_back(pad.number);
    } else if (proposal.numbers.empty()) {
        proposal.numbers = numbers_without_family(part.pads, set.kind);
    }
    const bool has_new = proposal.kind != GroupKind::Single && !have_numbers(part.pads) && !proposal.numbers.empty() &&
                         !proposal.numbers.front().empty();
    if (has_new)
        proposal.why += fmt::format("; its {} pads would be numbered by rule, none bears a number", part.pads.size());
    return proposal;
}

/// Pads with whole numbers, in their order, without one in the middle.
std::vector<Vec2> numbered_ring(const Footprint& part) {
    std::map<int, Vec2> by_number;
    geometry::Box box;
    for (const Pad& pad : part.pads) {
        int number = 0;
        const char* const end = pad.number.data() + pad.number.size();
        const auto [stop, fault] = std::from_chars(pad.number.data(), end, number);
        if (fault != std::errc{} || stop != end) continue;
        by_number.emplace(number, pad.at);
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
    return std::any_of(hints.begin(), hints.end(), [](const auto& hint) { return is_connector(hint.part_class); });
}

/// One row drawn by a shaky hand goes round nothing.
bool is_one_row(const std::vector<Vec2>& ring) {
    constexpr double kThin = 0.1; // common practice, no source: no two rows are ten times as long as they are apart
    const geometry::Box box = geometry::bounds(ring);
    return std::min(box.width(), box.height()) < kThin * std::max(box.width(), box.height());
}

/// What is left of loose pads lies in their own middle, as it does when they come from a trace.
void centre_on_pads(Footprint& part) {
    const Vec2 middle = document::centre_in_part(part);
    part.placement.at = document::board_from_part(part.placement)(middle);
    for (Pad& pad : part.pads)
        pad.at -= middle;
}

Chart without_loose(const Chart& chart, const std::set<LoosePad>& taken) {
    Chart next = chart;
    for (std::size_t p = chart.parts.size(); p-- > 0;) {
        Footprint part = chart.parts[p];
        std::vector<Pad> left;
        for (std::size_t i = 0; i < part.pads.size(); ++i)
            if (!taken.contains({p, i})) left.push_back(part.pads[i]);
        if (left.size() == part.pads.size()) continue;
        part.pads = std::move(left);
        if (part.pads.empty()) {
            next.parts.erase(p);
            continue;
        }
        centre_on_pads(part);
        next.parts.replace(p, std::move(part));
    }
    return next;
}

} // namespace

std::string_view to_text(GroupKind kind) {
    switch (kind) {
    case GroupKind::Single: return "single pad";
    case GroupKind::Pair: return "two-terminal part";
    case GroupKind::Three: return "three-terminal part";
    case GroupKind::Row: return "one-row part";
    case GroupKind::TwoRows: return "two-row part";
    case GroupKind::FourRows: return "four-row part";
    case GroupKind::Grid: return "grid array";
    }
    return "part";
}

Grouping propose_groups(const Chart& chart, const std::stop_token& stop) {
    Grouping grouping;
    const bool any = std::any_of(chart.parts.begin(), chart.parts.end(), is_loose);
    if (any && !chart.scale) {
        grouping.findings.push_back({Severity::Warning,
                                     "no-scale",
                                     "loose pads cannot be grouped before the chart has a scale: sizes tell which "
                                     "belong together",
                                     {},
                                     {}});
        return grouping;
    }
    for (const Side side : {Side::Top, Side::Bottom}) {
        const std::vector<Land> lands = loose_lands(chart, side);
        for (const LandSet& set : sets_of(lands, stop)) {
            if (stop.stop_requested()) return grouping;
            grouping.proposals.push_back(proposal_of(chart, lands, set, side));
        }
    }
    return grouping;
}

namespace {

/// What accept_groups() puts into the trace key of a part it makes.
constexpr std::string_view kGroupKey = "/group:";

} // namespace

Result<Chart> accept_groups(const Chart& chart, const std::vector<GroupProposal>& proposals,
                            const std::stop_token& stop) {
    std::set<LoosePad> taken;
    for (const GroupProposal& proposal : proposals)
        for (const LoosePad from : proposal.pads) {
            if (from.part >= chart.parts.size() || from.pad >= chart.parts[from.part].pads.size())
                return Error{"a proposal speaks of a pad that is not on the chart; propose anew", {}};
            if (!taken.insert(from).second) return Error{"a pad is in two proposals; right would be one", {}};
        }
    Chart next = without_loose(chart, taken);
    std::map<std::string, int> count;
    for (const GroupProposal& proposal : proposals) {
        if (stop.stop_requested()) return Error{"called off", ""};
        Footprint part = part_of(chart, proposal.pads, proposal.side);
        for (std::size_t i = 0; i < part.pads.size() && i < proposal.numbers.size(); ++i)
            part.pads[i].number = proposal.numbers[i];
        const std::string& key = chart.parts[proposal.pads.front().part].trace_key;
        // The colon marks a key that only counts, so that a corrected trace looks at places first.
        part.trace_key = fmt::format("{}{}{}", key, kGroupKey, ++count[key]);
        part.id = document::free_id(next, "part", part.trace_key);
        Result<Chart> added = document::add_part(next, std::move(part));
        if (!added) return added.error();
        next = std::move(*added);
    }
    return next;
}

bool is_left_loose(const Footprint& part) {
    return is_loose(part) && part.trace_key.find(kGroupKey) == std::string::npos;
}

bool was_grouped(const Chart& chart) {
    return std::any_of(chart.parts.begin(), chart.parts.end(),
                       [](const Footprint& part) { return part.trace_key.find(kGroupKey) != std::string::npos; });
}

namespace {

/// Boxes of the pads of one side that nobody put together.
std::vector<geometry::Box> boxes_left_loose(const Chart& chart, Side side) {
    constexpr double kJitter_mm = 0.1; // common practice, no source: a hand that draws again
    std::vector<geometry::Box> boxes;
    for (const Footprint& part : chart.parts)
        if (is_left_loose(part) && part.placement.side == side)
            for (const Pad& pad : part.pads)
                boxes.push_back(geometry::bounds(document::outline_on_board(part, pad)).grown(kJitter_mm));
    return boxes;
}

} // namespace

Result<Chart> grouped_as_before(const Chart& current, const Chart& fresh, const std::stop_token& stop) {
    std::vector<GroupProposal> proposals = propose_groups(fresh, stop).proposals;
    for (const Side side : {Side::Top, Side::Bottom}) {
        const geometry::BoxIndex loose(boxes_left_loose(current, side));
        std::erase_if(proposals, [&](const GroupProposal& proposal) {
            return proposal.side == side && std::any_of(proposal.pads.begin(), proposal.pads.end(), [&](LoosePad from) {
                       const Footprint& part = fresh.parts[from.part];
                       const Vec2 at = document::board_from_part(part.placement)(part.pads[from.pad].at);
                       return !loose.touching({at, at}).empty();
                   });
        });
    }
    return accept_groups(fresh, proposals, stop);
}

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
                                        part.name.empty() ? "a part without a name" : part.name),
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

Diagnostics size_suggestions(const Chart& chart, double measuring_tolerance_mm, const std::stop_token& stop) {
    Diagnostics findings;
    if (!chart.scale) return findings;
    for (const Footprint& part : chart.parts) {
        if (stop.stop_requested()) return findings;
        if (!part.body || !part.family.empty() || part.pads.size() != 2) continue;
        document::Body upright = *part.body;
        upright.turn = {};
        const geometry::Box box = geometry::bounds(document::outline_in_part(upright));
        if (!(box.width() > 0.0 && box.height() > 0.0)) continue;
        std::string all;
        for (const patterns::SizeMatch& match :
             patterns::size_matches(box.width(), box.height(), measuring_tolerance_mm))
            if (match.size->kind == "chip") all += (all.empty() ? "" : " or ") + patterns::label_of(*match.size);
        if (all.empty()) continue;
        findings.push_back(
            {Severity::Note,
             "size-suggested",
             fmt::format("{} measures {:.2f} x {:.2f} mm: {} by size, within {:g} mm",
                         part.name.empty() ? "a part without a name" : part.name, std::max(box.width(), box.height()),
                         std::min(box.width(), box.height()), all, measuring_tolerance_mm),
             {},
             part.id.text});
    }
    return findings;
}

} // namespace padchart::analysis
