#include "analysis/scale.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "document/edits.hpp"

namespace padchart::analysis {
namespace {

using document::Scale;
using document::ScaleSource;

/// Above this a length read on the chart is worth little; common practice, no source.
constexpr double kUnsure = 0.05;
constexpr const char* kUnsureCode = "scale-unsure";

std::optional<Error> fault_of(const ScaleErrors& errors) {
    for (const double mm : {errors.click_mm, errors.measuring_mm})
        if (!std::isfinite(mm) || mm < 0.0)
            return Error{fmt::format("an error of {} mm cannot be; right would be 0 or more", mm), {}};
    return std::nullopt;
}

/// "0.41 %", "90 %", "a factor of 83".
std::string percent(double share) {
    if (share >= 10.0) return fmt::format("a factor of {:.0f}", share + 1.0);
    return share >= 1.0 ? fmt::format("{:.0f} %", share * 100.0) : fmt::format("{:.2g} %", share * 100.0);
}

/// Both ends of a length are off on their own.
double both_ends(double one_mm) {
    return std::numbers::sqrt2 * one_mm;
}

void warn_when_unsure(ScaleReading& reading) {
    if (reading.scale.relative_uncertainty <= kUnsure) return;
    reading.findings.push_back(
        {Severity::Warning,
         "scale-unsure",
         fmt::format("this scale is sure to {:.1f} % only; points farther apart or a larger part make it surer",
                     reading.scale.relative_uncertainty * 100.0),
         {},
         {}});
}

struct Side {
    double drawn = 0.0;
    double nominal_mm = 0.0;
    double relative = 0.0;

    [[nodiscard]] double scale() const { return nominal_mm / drawn; }
    [[nodiscard]] double weight() const { return 1.0 / (relative * relative); }
};

Side side_of(double drawn, double nominal_mm, double tolerance_mm, const ScaleErrors& errors) {
    // Without any error at all both sides would weigh infinitely much.
    constexpr double kLeast = 1e-9;
    const double relative = std::hypot(tolerance_mm, both_ends(errors.click_mm)) / nominal_mm;
    return {drawn, nominal_mm, std::max(relative, kLeast)};
}

std::string name_of(const document::Footprint& part) {
    return part.name.empty() ? std::string("the part without a name") : part.name;
}

Diagnostic shape_finding(const document::Footprint& part, const patterns::SizeClass& size, double long_scale,
                         double short_scale) {
    return {Severity::Warning,
            "scale-part-shape",
            fmt::format("{} is drawn {:.0f} % too {} for a {}: it is another size, or the photograph was taken at an "
                        "angle",
                        name_of(part), std::abs(short_scale / long_scale - 1.0) * 100.0,
                        long_scale < short_scale ? "long" : "wide", patterns::label_of(size)),
            {},
            part.id.text};
}

} // namespace

Result<ScaleReading> scale_from_points(geometry::Vec2 from, geometry::Vec2 to, double distance_mm,
                                       const ScaleErrors& errors) {
    if (auto fault = fault_of(errors)) return *fault;
    if (!std::isfinite(distance_mm) || distance_mm <= 0.0)
        return Error{fmt::format("a distance of {} mm cannot be; right would be one above 0", distance_mm), {}};
    const double drawn = geometry::distance(from, to);
    if (!std::isfinite(drawn) || drawn <= 0.0)
        return Error{"the two points are the same; right would be two points far apart", {}};
    ScaleReading reading;
    reading.scale.mm_per_unit = distance_mm / drawn;
    reading.scale.source = ScaleSource::TwoPoints;
    reading.scale.relative_uncertainty = std::hypot(both_ends(errors.click_mm), errors.measuring_mm) / distance_mm;
    const double step = std::pow(10.0, std::floor(std::log10(drawn)) - 3.0); // what a click on that length can mean
    const auto place = [&](geometry::Vec2 p) {
        const auto rounded = [&](double v) { return std::round(v / step) * step + 0.0; }; // no "-0"
        return fmt::format("({:.6g}, {:.6g})", rounded(p.x), rounded(p.y));
    };
    reading.scale.note =
        fmt::format("{:.6g} mm between {} and {} as it was drawn then", distance_mm, place(from), place(to));
    warn_when_unsure(reading);
    return reading;
}

Result<ScaleReading> scale_from_part(const document::Footprint& part, const patterns::SizeClass& size,
                                     const ScaleErrors& errors) {
    if (auto fault = fault_of(errors)) return *fault;
    if (!part.body)
        return Error{name_of(part) + " has no body to be measured; right would be a part whose body is drawn", {}};
    document::Body upright = *part.body;
    upright.turn = {};
    const geometry::Box box = geometry::bounds(document::outline_in_part(upright));
    const double drawn_short = std::min(box.width(), box.height());
    const double drawn_long = std::max(box.width(), box.height());
    if (!(drawn_short > 0.0)) return Error{name_of(part) + " has a body without area: nothing can be measured", {}};
    const auto [nominal_short, nominal_long] = std::minmax(size.length_mm, size.width_mm);
    const Side along = side_of(drawn_long, nominal_long, size.tolerance_mm, errors);
    const Side across = side_of(drawn_short, nominal_short, size.tolerance_mm, errors);
    const double weights = along.weight() + across.weight();
    const double mean = (along.scale() * along.weight() + across.scale() * across.weight()) / weights;
    const double apart = std::abs(along.scale() - across.scale()) / mean;
    ScaleReading reading;
    reading.scale.mm_per_unit = mean;
    reading.scale.source = ScaleSource::KnownPart;
    reading.scale.relative_uncertainty = std::max(1.0 / std::sqrt(weights), apart / 2.0);
    reading.scale.note = fmt::format("{} as a {}, {:g} x {:g} mm ±{:g}", name_of(part), patterns::label_of(size),
                                     size.length_mm, size.width_mm, size.tolerance_mm);
    if (apart > std::hypot(along.relative, across.relative))
        reading.findings.push_back(shape_finding(part, size, along.scale(), across.scale()));
    warn_when_unsure(reading);
    return reading;
}

Result<const patterns::SizeClass*> single_size(std::string_view code) {
    const Result<patterns::SizeCode> sizes = patterns::parse_size_code(code);
    if (!sizes) return sizes.error();
    if (sizes->readings.size() == 1) return sizes->readings.front();
    std::string all;
    for (const patterns::SizeClass* size : sizes->readings)
        all += (all.empty() ? "" : ", ") + patterns::label_of(*size);
    return Error{fmt::format("the size '{}' can be {}; write the metric code of a chip with M, or say inch", code, all),
                 {}};
}

std::optional<Diagnostic> disagreement(const Scale& a, const Scale& b) {
    const double apart = std::abs(a.mm_per_unit / b.mm_per_unit - 1.0);
    const double allowed = std::hypot(a.relative_uncertainty, b.relative_uncertainty);
    constexpr double kRounding = 1e-9;
    if (apart <= allowed + kRounding) return std::nullopt;
    return Diagnostic{
        Severity::Warning,
        "scale-disagrees",
        fmt::format("two scales differ by {}, more than the {} they allow together: {:.4g} mm per unit "
                    "({}) and {:.4g} mm per unit ({}). Measure a longer distance on the board to settle it",
                    percent(apart), percent(allowed), a.mm_per_unit, a.note, b.mm_per_unit, b.note),
        {},
        {}};
}

namespace {

document::OtherScale overruled(const Scale& scale) {
    return {scale.mm_per_unit, scale.source, scale.relative_uncertainty, scale.note, scale.extras};
}

} // namespace

Scale as_scale(const document::OtherScale& other) {
    return {other.mm_per_unit, other.source, other.relative_uncertainty, other.note, other.extras};
}

void hold_against(Scale& taken, const Scale& other, Diagnostics& findings) {
    auto finding = disagreement(taken, other);
    if (!finding) return;
    findings.push_back(std::move(*finding));
    taken.overruled.push_back(overruled(other));
}

ScaleReading surest(std::span<const ScaleReading> readings) {
    assert(!readings.empty());
    const auto best = std::min_element(readings.begin(), readings.end(), [](const auto& a, const auto& b) {
        return a.scale.relative_uncertainty < b.scale.relative_uncertainty;
    });
    ScaleReading answer = *best;
    for (const ScaleReading& other : readings) {
        if (&other == &*best) continue;
        for (const Diagnostic& finding : other.findings)
            if (finding.code != kUnsureCode) answer.findings.push_back(finding);
        hold_against(answer.scale, other.scale, answer.findings);
    }
    return answer;
}

bool outranks(const Scale& measured, const Scale& drawn) {
    return drawn.source == ScaleSource::Drawn && measured.source != ScaleSource::Drawn;
}

std::optional<Diagnostic> degrading(const Scale& now, const Scale& wanted) {
    constexpr double kSame = 1e-12;
    if (outranks(wanted, now)) return std::nullopt;
    if (wanted.relative_uncertainty <= now.relative_uncertainty + kSame) return std::nullopt;
    // How sure a scale calls itself follows from the distance that was typed: a slip in it makes it too sure.
    const char* advice = disagreement(now, wanted)
                             ? "One of them is wrong: take the new one where the old was a slip, else keep the old"
                             : "Measure a longer distance, or keep the scale there is";
    return Diagnostic{Severity::Warning,
                      "scale-less-sure",
                      fmt::format("the chart's scale is sure within {:.2g} % ({}); the new one only within {:.2g} % "
                                  "({}). {}",
                                  now.relative_uncertainty * 100.0, now.note, wanted.relative_uncertainty * 100.0,
                                  wanted.note, advice),
                      {},
                      {}};
}

std::string scale_words(const Scale& scale) {
    const auto source = [&] {
        switch (scale.source) {
        case ScaleSource::DocumentUnits: return "the trace's page";
        case ScaleSource::TwoPoints: return "two points";
        case ScaleSource::KnownPart: return "a part of known size";
        case ScaleSource::Drawn: break;
        }
        return "";
    };
    if (scale.source == ScaleSource::Drawn && scale.relative_uncertainty == 0.0)
        return fmt::format("1 unit = {:.4g} mm: {}", scale.mm_per_unit,
                           scale.note.empty() ? "drawn in mm" : scale.note);
    if (scale.source == ScaleSource::Drawn)
        return fmt::format("1 unit = {:.4g} mm, within {:.2g} %: {}", scale.mm_per_unit,
                           scale.relative_uncertainty * 100.0, scale.note.empty() ? "drawn in mm" : scale.note);
    return fmt::format("1 unit = {:.4g} mm, within {:.2g} %: {}{}{}", scale.mm_per_unit,
                       scale.relative_uncertainty * 100.0, source(), scale.note.empty() ? "" : ", ", scale.note);
}

namespace {

/// Millimetres a hand drew in, of which nobody says how sure they are: no statement that could be wrong.
bool is_nominal(const Scale& scale) {
    return scale.source == ScaleSource::Drawn && scale.relative_uncertainty == 0.0;
}

/// Of those that were overruled the one that the new scale bears out; a guess bears out nothing.
const document::OtherScale* borne_out(const Scale& now, const std::vector<document::OtherScale>& overruled) {
    for (const document::OtherScale& other : overruled)
        if (other.relative_uncertainty <= kUnsure && !disagreement(now, as_scale(other))) return &other;
    return nullptr;
}

Diagnostic settled(const Scale& was, const Scale& now, const document::OtherScale& ally) {
    return {
        Severity::Note,
        "scale-settled",
        fmt::format("two scales agree ({}; {}), the third does not and is dropped ({})", now.note, ally.note, was.note),
        {},
        {}};
}

/// The scale the chart had, and those it had overruled, as far as the new one does not agree with them. Where it does
/// not agree with the last but with one of those before, two bear each other out and the last is dropped: true.
bool hold_against_former(const Scale& was, Scale& now, Diagnostics& findings) {
    auto against = is_nominal(was) ? std::nullopt : disagreement(now, was);
    const document::OtherScale* ally = against ? borne_out(now, was.overruled) : nullptr;
    if (ally)
        findings.push_back(settled(was, now, *ally));
    else if (against) {
        findings.push_back(std::move(*against));
        now.overruled.push_back(overruled(was));
    }
    const bool is_borne_out = ally || (!against && !is_nominal(was));
    for (const document::OtherScale& other : was.overruled)
        if (!is_borne_out && disagreement(now, as_scale(other))) now.overruled.push_back(other);
    return ally != nullptr;
}

} // namespace

namespace {

/// A rougher measurement takes no surer scale's place; where it agrees with that one and not with what stands against
/// it, it settles it all the same. Nothing where it does not.
std::optional<Rescaled> bears_out(const document::Chart& chart, const Scale& wanted) {
    const Scale& now = *chart.scale;
    const bool is_rougher = degrading(now, wanted).has_value();
    if (now.overruled.empty() || !is_rougher || wanted.relative_uncertainty > kUnsure || disagreement(now, wanted))
        return std::nullopt;
    Scale settled_scale = now;
    std::erase_if(settled_scale.overruled,
                  [&](const document::OtherScale& other) { return disagreement(wanted, as_scale(other)).has_value(); });
    if (settled_scale.overruled.size() == now.overruled.size()) return std::nullopt;
    Rescaled result;
    result.findings.push_back({Severity::Note,
                               "scale-settled",
                               fmt::format("the chart's scale ({}) is borne out by this one ({}) and stays; what stood "
                                           "against it is dropped",
                                           now.note, wanted.note),
                               {},
                               {}});
    result.chart = chart;
    result.chart.scale = std::move(settled_scale);
    return result;
}

} // namespace

Result<Rescaled> put_to_scale(const document::Chart& chart, const Scale& in_chart_lengths) {
    Rescaled result;
    result.factor = in_chart_lengths.mm_per_unit;
    Scale scale = in_chart_lengths;
    if (chart.scale) {
        scale.mm_per_unit *= chart.scale->mm_per_unit;
        for (document::OtherScale& other : scale.overruled)
            other.mm_per_unit *= chart.scale->mm_per_unit;
        scale.extras = chart.scale->extras;
        if (auto settled_by_it = bears_out(chart, scale)) return std::move(*settled_by_it);
        // How sure the odd one calls itself no longer counts.
        const bool is_settled = hold_against_former(*chart.scale, scale, result.findings);
        if (auto finding = degrading(*chart.scale, scale); finding && !is_settled)
            result.findings.push_back(std::move(*finding));
    }
    Result<document::Chart> next = document::rescale(chart, result.factor, std::move(scale));
    if (!next) return next.error();
    result.chart = std::move(*next);
    return result;
}

} // namespace padchart::analysis
