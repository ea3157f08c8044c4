#include "svg/reimport_scale.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "document/edits.hpp"
#include "svg/reimport.hpp"
#include "svg/reimport_edge.hpp"
#include "svg/reimport_motion.hpp"
#include "svg/trace_to_chart.hpp"

namespace padchart::svg {
namespace {

using document::Chart;
using document::Scale;
using document::ScaleSource;

constexpr double kSameScale = 1e-9;
/// How a note begins that tells of a drawing before, whose unit was another.
constexpr std::string_view kAsBefore = "as large as the drawing before it";

double unit_of(const Chart& chart) {
    return chart.scale ? chart.scale->mm_per_unit : 1.0;
}

bool is_measured(const Scale& scale) {
    return scale.source == ScaleSource::TwoPoints || scale.source == ScaleSource::KnownPart;
}

bool is_guess(const Scale& scale) {
    return !is_measured(scale) && scale.relative_uncertainty >= kGuessedScale;
}

bool is_same(double a, double b) {
    return std::abs(a / b - 1.0) <= kSameScale;
}

/// A page against a page: the newer counts. What is only read in the chart's own scale states none.
bool fresh_scale_wins(const Chart& current, const Chart& fresh) {
    if (!fresh.scale) return false;
    if (!current.scale || is_measured(*fresh.scale)) return true;
    if (is_guess(*fresh.scale) && !is_guess(*current.scale)) return false;
    return current.scale->source == ScaleSource::DocumentUnits && fresh.scale->source == ScaleSource::DocumentUnits;
}

Diagnostic finding(Severity severity, std::string code, std::string message) {
    return {severity, std::move(code), std::move(message), {}, {}};
}

void tell_scale(Diagnostics& findings, Severity severity, std::string message) {
    findings.push_back(finding(severity, "scale-changed", std::move(message)));
}

Diagnostic own_scale_counts(double stated, const Scale& own) {
    return finding(Severity::Warning, "scale-changed",
                   fmt::format("the page of the corrected trace says 1 unit = {:.4g} mm: the chart's own scale counts, "
                               "{:.4g} mm ({})",
                               stated, own.mm_per_unit, own.note));
}

/// As sure as it was, of a drawing in other units.
Scale in_unit(Scale scale, double unit) {
    const double times = unit / scale.mm_per_unit;
    if (!scale.note.starts_with(kAsBefore))
        scale.note = fmt::format("{}, in which 1 unit was {:.4g} mm: {}", kAsBefore, scale.mm_per_unit, scale.note);
    scale.mm_per_unit = unit;
    for (document::OtherScale& other : scale.overruled)
        other.mm_per_unit *= times;
    return scale;
}

/// What is compared with the chart from before the heat must be as large.
std::string_view of_the_frozen(const Chart& current) {
    return current.frozen_before ? ". The chart from before the heat has the former size: a comparison with it finds "
                                   "everything moved; freeze it again while the board is cold"
                                 : "";
}

/// The chart follows the corrected trace, which is `factor` times as large.
Result<InOneScale> chart_follows(const Chart& current, const Chart& fresh, double factor, Diagnostics& findings) {
    InOneScale both{current, fresh};
    if (!current.scale)
        tell_scale(findings, Severity::Note,
                   fmt::format("the chart had no scale and is in mm now: 1 unit of the corrected trace is {:.4g} mm",
                               fresh.scale->mm_per_unit));
    else if (!is_same(factor, 1.0))
        tell_scale(findings, Severity::Warning,
                   fmt::format("the corrected trace is {:.4g} times as large: every length of the chart follows it, "
                               "photos, shields and notes too{}",
                               factor, of_the_frozen(current)));
    else if (!is_same(fresh.scale->mm_per_unit, current.scale->mm_per_unit))
        tell_scale(findings, Severity::Note,
                   fmt::format("1 unit of the corrected trace is {:.4g} mm, was {:.4g} mm: all is as large as it was",
                               fresh.scale->mm_per_unit, current.scale->mm_per_unit));
    else {
        both.current.scale->note = fresh.scale->note; // of this page
        both.current.scale->relative_uncertainty = fresh.scale->relative_uncertainty;
        both.current.scale->source = fresh.scale->source;
        return both;
    }
    Result<Chart> scaled = document::rescale(current, factor, *fresh.scale);
    if (!scaled) return scaled.error();
    both.current = std::move(*scaled);
    return both;
}

/// What the trace says of itself, and what becomes of it.
Diagnostic read_in_own(const Scale& own, const Scale& stated, double unit, bool is_seen) {
    if (is_guess(stated) && is_seen)
        return finding(Severity::Note, "scale-changed",
                       fmt::format("the size of the corrected trace is a guess: what is found again in it tells how "
                                   "large it is, 1 unit = {:.4g} mm; the chart is as large and as sure as it was",
                                   unit));
    if (is_guess(stated))
        return finding(Severity::Warning, "scale-guessed",
                       fmt::format("the size of the corrected trace is a guess, and too little is found again in it to "
                                   "tell how large it is: 1 unit is taken for {:.4g} mm. State its size in mm, or "
                                   "measure in the chart what came with it",
                                   unit));
    if (!is_same(unit, own.mm_per_unit))
        return finding(Severity::Warning, "scale-changed",
                       fmt::format("the corrected trace is drawn {:.4g} times as large: it is read in the chart's own "
                                   "millimetres, 1 unit is {:.4g} mm now ({})",
                                   own.mm_per_unit / unit, unit, own.note));
    return own_scale_counts(stated.mm_per_unit, own);
}

/// The chart's own millimetres count; the corrected trace, which is `factor` times as large, is read in them.
Result<InOneScale> trace_follows(const Chart& current, const Chart& fresh, double factor, bool is_seen,
                                 Diagnostics& findings) {
    const Scale& own = *current.scale;
    const double unit = unit_of(fresh) / factor;
    InOneScale both{current, fresh};
    if (!is_same(unit, own.mm_per_unit)) both.current.scale = in_unit(own, unit);
    const bool is_guessed = fresh.scale && is_guess(*fresh.scale) && !is_guess(own);
    if (is_guessed || (fresh.scale && !is_same(factor, 1.0)))
        findings.push_back(read_in_own(own, *fresh.scale, unit, is_seen));
    if (is_same(factor, 1.0)) return both;
    Result<Chart> scaled = document::rescale(fresh, 1.0 / factor, *both.current.scale);
    if (!scaled) return scaled.error();
    both.fresh = std::move(*scaled);
    return both;
}

std::optional<double> factor_of_edges(const Chart& current, const Chart& fresh) {
    if (!current.board.outline || !fresh.board.outline) return std::nullopt;
    return edge_factor(current.board.outline->outer, fresh.board.outline->outer);
}

/// What was drawn before is in millimetres that no trace gave: only the trace itself tells how large it is.
Result<InOneScale> beside_what_was_drawn(const Chart& current, const Chart& fresh, Diagnostics& findings) {
    const Scale& own = *current.scale;
    const Scale page = fresh.scale.value_or(Scale{1.0, ScaleSource::Drawn, kGuessedScale, "no size stated", {}});
    if (is_guess(page))
        if (const auto factor = factor_of_edges(current, fresh))
            return trace_follows(current, fresh, *factor, true, findings);
    InOneScale both{current, fresh};
    both.current.scale = page;
    if (both.current.scale->source == ScaleSource::Drawn) both.current.scale->source = ScaleSource::DocumentUnits;
    both.current.scale->extras = own.extras;
    both.current.scale->note += "; what was drawn before it: " + own.note;
    if (is_guess(page))
        findings.push_back(
            finding(Severity::Warning, "scale-guessed",
                    fmt::format("the chart's scale was got without a trace ({}), and the trace states no size that "
                                "counts: 1 unit is taken for {:.4g} mm, a guess. State its size in mm, or measure in "
                                "the chart what came with it",
                                own.note, page.mm_per_unit)));
    else
        tell_scale(findings, Severity::Warning,
                   fmt::format("the chart's scale was got without a trace ({}) and says nothing of the trace's units: "
                               "1 unit is {:.4g} mm, as the trace says ({}). What was drawn before is as large as it "
                               "was: hold both against each other",
                               own.note, page.mm_per_unit, page.note));
    return both;
}

} // namespace

bool is_scale_of_trace(const Chart& chart) {
    const auto is_traced = [](const auto& thing) { return !thing.trace_key.empty(); };
    return !chart.scale || chart.scale->source == ScaleSource::DocumentUnits ||
           std::any_of(chart.parts.begin(), chart.parts.end(), is_traced) ||
           std::any_of(chart.keep_outs.begin(), chart.keep_outs.end(), is_traced);
}

Result<InOneScale> in_one_scale(const Chart& current, const Chart& fresh, Diagnostics& findings) {
    if (!current.scale && !fresh.scale) return InOneScale{current, fresh};
    if (!is_scale_of_trace(current)) return beside_what_was_drawn(current, fresh, findings);
    const bool fresh_wins = fresh_scale_wins(current, fresh);
    const double by_units = unit_of(fresh) / unit_of(current);
    auto seen = common_factor(current, fresh);
    if (!seen && !fresh_wins) seen = factor_of_edges(current, fresh);
    constexpr double kSame = 0.01; // what is seen of a factor has the jitter of hands in it
    const bool is_page_guessed =
        !fresh_wins && fresh.scale && is_guess(*fresh.scale) && current.scale->source == ScaleSource::DocumentUnits;
    double factor = seen.value_or(is_page_guessed ? 1.0 : by_units);
    if (std::abs(factor / by_units - 1.0) < kSame) factor = by_units;
    return fresh_wins ? chart_follows(current, fresh, factor, findings)
                      : trace_follows(current, fresh, factor, seen.has_value(), findings);
}

namespace {

/// The chart's scale as one that the trace does not state.
Scale only_read_in(Scale own) {
    own.source = ScaleSource::Drawn;
    return own;
}

/// In what the trace itself says, though it is a guess.
Scale guessed(const Drawing& drawing) {
    Scale scale{drawing.mm_per_unit.value_or(1.0), ScaleSource::Drawn, kGuessedScale, {}, {}};
    scale.note = drawing.mm_per_unit ? drawing.size_note + "; px taken as 1/96 in, a guess"
                                     : "no size stated, 1 unit taken for 1 mm, a guess";
    return scale;
}

} // namespace

std::optional<Scale> scale_for_correction(const Drawing& drawing, const Chart& current, Diagnostics& findings) {
    if (!current.scale) return std::nullopt;
    const Scale& own = *current.scale;
    const bool is_stated = drawing.mm_per_unit && !drawing.size_in_px;
    if (!is_scale_of_trace(current)) return is_stated ? std::nullopt : std::optional(guessed(drawing));
    if (!drawing.mm_per_unit) {
        findings.push_back(finding(Severity::Note, "chart-scale-taken",
                                   fmt::format("the trace states no size: it is read in the chart's own scale, 1 unit "
                                               "= {:.4g} mm ({})",
                                               own.mm_per_unit, own.note)));
        return only_read_in(own);
    }
    if (own.source == ScaleSource::DocumentUnits) { // a page against a page: the newer counts, unless it is a guess
        if (is_stated || is_guess(own)) return std::nullopt;
        return guessed(drawing);
    }
    if (is_stated && !is_same(*drawing.mm_per_unit, own.mm_per_unit))
        findings.push_back(own_scale_counts(*drawing.mm_per_unit, own));
    return only_read_in(own);
}

} // namespace padchart::svg
