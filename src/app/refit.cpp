#include "app/refit.hpp"

#include <algorithm>
#include <optional>
#include <string>

#include "document/edits.hpp"
#include "patterns/family.hpp"
#include "patterns/pad_count.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::Footprint;
using document::Id;
using document::Pad;

/// For each pad of the part its partner in the pattern, where it has one.
using Partners = std::vector<std::optional<std::size_t>>;

Error no_part(const Id& id) {
    return {"There is no such part on the chart.", id.text};
}

Partners partners_by_number(const Footprint& part, const Footprint& pattern) {
    Partners partners;
    for (const Pad& pad : part.pads) {
        const auto same = std::find_if(pattern.pads.begin(), pattern.pads.end(), [&](const Pad& other) {
            return !pad.number.empty() && other.number == pad.number;
        });
        partners.push_back(same == pattern.pads.end()
                               ? std::nullopt
                               : std::optional(static_cast<std::size_t>(same - pattern.pads.begin())));
    }
    return partners;
}

void carry_pads(const Footprint& part, const Partners& partners, Footprint& pattern) {
    for (std::size_t i = 0; i < part.pads.size(); ++i) {
        if (!partners[i]) continue;
        Pad& pad = pattern.pads[*partners[i]];
        pad.land = part.pads[i].land;
        pad.joint = part.pads[i].joint;
        pad.extras = part.pads[i].extras;
    }
}

/// A height that is not just what the part's own family brought along.
bool has_measured_height(const Footprint& part) {
    if (!part.body || !part.body->height_mm) return false;
    const Result<Footprint> own = patterns::generate(part.family, part.family_parameters);
    return !own || !own->body || own->body->height_mm != part.body->height_mm;
}

/// The pattern turned by `turn` in the part's frame and lying at `placement` takes the place of what was drawn.
Result<Chart> put_pattern(const Chart& chart, const Footprint& part, Footprint pattern,
                          const document::Placement& placement, Angle turn) {
    if (pattern.body && has_measured_height(part)) pattern.body->height_mm = part.body->height_mm;
    const Result<Chart> changed = document::replace_pattern(chart, part.id, pattern);
    if (!changed) return changed;
    return document::change_part(*changed, part.id, [&](Footprint& now) {
        now.placement = placement;
        // The mark stays where it is on the board.
        if (now.orientation.state == document::RecordState::Recorded)
            now.orientation.bearing = (now.orientation.bearing - turn).wrapped();
        if (part.stated_pad_count && static_cast<std::size_t>(*part.stated_pad_count) != now.pads.size())
            now.stated_pad_count = part.stated_pad_count;
    });
}

Result<Chart> with_usual_measures(const Chart& chart, const Footprint& part, Footprint pattern) {
    carry_pads(part, partners_by_number(part, pattern), pattern);
    document::Placement placement = part.placement;
    const geometry::Vec2 middle = document::board_from_part(part.placement)(document::centre_in_part(part));
    placement.at = middle;
    // A family's middle need not be its origin.
    document::Placement unshifted = placement;
    const geometry::Vec2 off = document::board_from_part(unshifted)(document::centre_in_part(pattern)) - middle;
    placement.at = middle - off;
    return put_pattern(chart, part, std::move(pattern), placement, Angle());
}

/// Nobody has moved, measured or numbered its pads since the family made them.
bool is_as_made(const Footprint& part, const Footprint& made) {
    return std::equal(part.pads.begin(), part.pads.end(), made.pads.begin(), made.pads.end(),
                      [](const Pad& a, const Pad& b) {
                          return a.number == b.number && a.at == b.at && a.turn == b.turn && a.shape == b.shape;
                      });
}

/// The part's family with another count; nothing where the family has none or the part is drawn otherwise.
std::optional<Footprint> recounted(const Footprint& part, int count) {
    const patterns::Family* family = part.family.empty() ? nullptr : patterns::find_family(part.family);
    if (family == nullptr || count < 1) return std::nullopt;
    const Result<Footprint> made = patterns::generate(*family, part.family_parameters);
    if (!made || !is_as_made(part, *made)) return std::nullopt;
    const auto values = patterns::parameters_for_pads(*family, part.family_parameters, static_cast<std::size_t>(count));
    if (!values) return std::nullopt;
    const Result<Footprint> pattern = patterns::generate(*family, *values);
    return pattern ? std::optional(*pattern) : std::nullopt;
}

} // namespace

Result<Chart> refitted(const Chart& chart, const Id& id, const patterns::PatternFit& fit) {
    const auto at = document::find_part(chart, id);
    if (!at) return no_part(id);
    const Footprint& part = chart.parts[*at];
    Result<Footprint> pattern = patterns::pattern_of(fit);
    if (!pattern) return pattern.error();
    const bool is_of_these = fit.pattern_pad.size() == part.pads.size() && pattern->pads.size() == part.pads.size();
    if (!is_of_these) return Error{"The pads have changed since the families were compared; compare again.", part.name};
    carry_pads(part, Partners(fit.pattern_pad.begin(), fit.pattern_pad.end()), *pattern);
    const bool all_numbered =
        std::none_of(part.pads.begin(), part.pads.end(), [](const Pad& pad) { return pad.number.empty(); });
    for (std::size_t i = 0; all_numbered && i < part.pads.size(); ++i)
        pattern->pads[fit.pattern_pad[i]].number = part.pads[i].number;
    return put_pattern(chart, part, std::move(*pattern), patterns::placement_of(part, fit), fit.turn);
}

Result<Chart> with_family(const Chart& chart, const Id& id, std::string_view key) {
    const auto at = document::find_part(chart, id);
    if (!at) return no_part(id);
    const Footprint& part = chart.parts[*at];
    if (key.empty())
        return document::change_part(chart, id, [](Footprint& now) {
            now.family.clear();
            now.family_parameters.clear();
        });
    const patterns::Family* family = patterns::find_family(key);
    if (family == nullptr) return Error{"No family bears this key.", std::string(key)};
    Result<Footprint> pattern = patterns::generate(*family);
    if (!pattern) return pattern.error();
    // Who names a family of eight pads means eight; only a grid says nothing of how many balls it has.
    if (family->takes_omitted || pattern->pads.size() == part.pads.size()) {
        const Result<patterns::PatternFit> fit = patterns::fit_family(*family, part.pads);
        if (fit && fit->rms_mm <= kFamilyFits_mm) return refitted(chart, id, *fit);
    }
    return with_usual_measures(chart, part, std::move(*pattern));
}

Result<Chart> with_pad_count(const Chart& chart, const Id& id, int count) {
    const auto at = document::find_part(chart, id);
    if (!at) return no_part(id);
    const Footprint& part = chart.parts[*at];
    std::optional<Footprint> pattern = recounted(part, count);
    if (!pattern || static_cast<std::size_t>(count) == part.pads.size()) {
        const bool is_drawn = static_cast<std::size_t>(count) == part.pads.size();
        return document::set_stated_pad_count(chart, id, is_drawn ? std::nullopt : std::optional(count));
    }
    carry_pads(part, partners_by_number(part, *pattern), *pattern);
    Footprint said = part;
    said.stated_pad_count.reset();
    return put_pattern(chart, said, std::move(*pattern), part.placement, Angle());
}

} // namespace padchart::app
