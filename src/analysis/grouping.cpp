#include "analysis/grouping.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "analysis/grouping_shapes.hpp"
#include "document/edits.hpp"
#include "geometry/box_index.hpp"
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

std::vector<DrawnLand> loose_lands(const Chart& chart, Side side) {
    std::vector<DrawnLand> lands;
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

/// With other counts than its own a family tells how pads are numbered, not what the part is.
bool has_own_count(const std::string& key, std::size_t pads) {
    const Result<Footprint> own = patterns::generate(key);
    return own && own->pads.size() == pads;
}

double land_area(const Pad& pad) {
    return std::abs(geometry::signed_area(document::outline_of(pad.shape)));
}

/// The family's name with what its own lands have and these have not; empty where the counts differ otherwise.
std::string likeness(const patterns::PatternFit& fit, std::size_t pads) {
    const patterns::Family* family = patterns::find_family(fit.family);
    const Result<Footprint> own = patterns::generate(fit.family);
    if (family == nullptr || !own) return "";
    const std::size_t omitted = fit.parameters.size() - std::min(fit.parameters.size(), family->parameters.size());
    const std::string label = label_of_family(fit.family);
    if (own->pads.size() == pads + omitted) return label;
    const bool has_centre = own->pads.size() > 4 && land_area(own->pads.back()) > 2.0 * land_area(own->pads.front());
    return has_centre && own->pads.size() == pads + 1 ? label + ", its centre pad not drawn" : "";
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
    const bool has_centre = pads.size() > 4 && land_area(pads.back()) > 2.0 * land_area(pads.front());
    return plain_numbers(pads, has_centre);
}

std::vector<patterns::PatternFit> fits_of(const std::vector<Pad>& pads) {
    if (pads.size() > kMostFitted) return {};
    return patterns::suggest_families(pads, kSuggestions);
}

std::vector<std::string> own_numbers(const std::vector<Pad>& pads) {
    std::vector<std::string> numbers;
    for (const Pad& pad : pads)
        numbers.push_back(pad.number);
    return numbers;
}

GroupProposal proposal_of(const Chart& chart, const std::vector<DrawnLand>& lands, const LandSet& set, Side side) {
    GroupProposal proposal;
    proposal.kind = set.kind;
    proposal.side = side;
    for (const std::size_t i : set.lands)
        proposal.pads.push_back(lands[i].from);
    proposal.why = set.why;
    const Footprint part = part_of(chart, proposal.pads, side);
    std::vector<patterns::PatternFit> fits;
    if (set.kind != GroupKind::Single) fits = fits_of(part.pads);
    if (const patterns::PatternFit* fit = chosen(fits, set.kind)) {
        proposal.family = fit->family;
        // Stretched far enough any family fits: then it tells how pads are numbered, not what the part is.
        if (fit->as_is_rms_mm <= kAlike_mm) proposal.like = likeness(*fit, part.pads.size());
        proposal.numbers = family_numbers(*fit);
    }
    if (!proposal.like.empty()) proposal.why += fmt::format(": a {} like {}", to_text(set.kind), proposal.like);
    // Past an empty place that no family knows the count would be wrong.
    const bool cannot_count = set.gaps > 0 && proposal.like.empty();
    if (have_numbers(part.pads) || cannot_count) {
        proposal.numbers = own_numbers(part.pads);
    } else if (proposal.numbers.empty()) {
        proposal.numbers = numbers_without_family(part.pads, set.kind);
    }
    const bool has_new = proposal.kind != GroupKind::Single && !have_numbers(part.pads) && !proposal.numbers.empty() &&
                         !proposal.numbers.front().empty();
    if (has_new)
        proposal.why += fmt::format("; its {} pads would be numbered by rule, none bears a number", part.pads.size());
    else if (cannot_count && !have_numbers(part.pads))
        proposal.why += "; no pad is numbered by rule, since a pad may be lacking";
    return proposal;
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
    case GroupKind::Tab: return "part with a tab";
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
        const std::vector<DrawnLand> lands = loose_lands(chart, side);
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

namespace {

bool was_put_together(const Footprint& part) {
    return part.trace_key.find(kGroupKey) != std::string::npos;
}

} // namespace

bool was_grouped(const Chart& chart) {
    return std::any_of(chart.parts.begin(), chart.parts.end(), was_put_together);
}

namespace {

/// Of the pads of one side in parts that `is_meant`.
geometry::BoxIndex pad_boxes(const Chart& chart, Side side, const auto& is_meant) {
    constexpr double kJitter_mm = 0.1; // common practice, no source: a hand that draws again
    std::vector<geometry::Box> boxes;
    for (const Footprint& part : chart.parts)
        if (part.placement.side == side && is_meant(part))
            for (const Pad& pad : part.pads)
                boxes.push_back(geometry::bounds(document::outline_on_board(part, pad)).grown(kJitter_mm));
    return geometry::BoxIndex(boxes);
}

bool lies_on_any(const geometry::BoxIndex& boxes, const Chart& chart, const GroupProposal& proposal) {
    return std::any_of(proposal.pads.begin(), proposal.pads.end(), [&](LoosePad from) {
        const Footprint& part = chart.parts[from.part];
        const Vec2 at = document::board_from_part(part.placement)(part.pads[from.pad].at);
        return !boxes.touching({at, at}).empty();
    });
}

} // namespace

Result<Chart> grouped_as_before(const Chart& current, const Chart& fresh, const std::stop_token& stop) {
    std::vector<GroupProposal> proposals = propose_groups(fresh, stop).proposals;
    for (const Side side : {Side::Top, Side::Bottom}) {
        const geometry::BoxIndex loose = pad_boxes(current, side, is_left_loose);
        const geometry::BoxIndex together = pad_boxes(current, side, was_put_together);
        std::erase_if(proposals, [&](const GroupProposal& proposal) {
            return proposal.side == side && lies_on_any(loose, fresh, proposal);
        });
        for (GroupProposal& proposal : proposals)
            if (proposal.side == side && lies_on_any(together, fresh, proposal))
                proposal.numbers = own_numbers(part_of(fresh, proposal.pads, side).pads);
    }
    return accept_groups(fresh, proposals, stop);
}

std::vector<std::string> numbers_by_rule(const Footprint& part) {
    Chart heap;
    heap.scale = document::Scale{};
    Footprint loose;
    loose.pads = part.pads;
    for (Pad& pad : loose.pads) // what is there would be kept
        pad.number.clear();
    heap.parts.add(loose);
    const std::vector<GroupProposal> proposals = propose_groups(heap).proposals;
    if (proposals.size() == 1) {
        std::vector<std::string> numbers(loose.pads.size());
        for (std::size_t i = 0; i < proposals[0].pads.size(); ++i)
            numbers[proposals[0].pads[i].pad] = proposals[0].numbers[i];
        return numbers;
    }
    // A grouping would not put them together, but somebody has.
    if (const auto fits = fits_of(loose.pads); !fits.empty() && has_own_count(fits[0].family, loose.pads.size()))
        return family_numbers(fits[0]);
    return plain_numbers(loose.pads, false);
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
