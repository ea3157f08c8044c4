#pragma once
// How a unit of the trace became a millimetre, how sure that is, and whether two ways of telling agree.
// Errors that do not know of each other are added as squares: JCGM 100:2008 (GUM), clause 5.1.2. A part's size is
// taken from patterns::size_classes() with its tolerance there.

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/diagnostic.hpp"
#include "base/result.hpp"
#include "document/chart.hpp"
#include "patterns/size_class.hpp"

namespace padchart::analysis {

/// In mm of the real board, either way. The defaults are common practice, no source: a hand on a photograph finds a
/// corner within 0.1 mm, a calliper on a board measures within 0.05 mm.
struct ScaleErrors {
    double click_mm = 0.1;      ///< of each point picked or edge drawn
    double measuring_mm = 0.05; ///< of the distance that was measured
};

/// `scale.mm_per_unit` counts the units the points or the part were given in.
struct ScaleReading {
    document::Scale scale;
    Diagnostics findings;
};

/// Two points whose distance was measured on the board.
/// Errors: points that coincide, a distance not above 0, errors negative or not finite.
[[nodiscard]] Result<ScaleReading> scale_from_points(geometry::Vec2 from, geometry::Vec2 to, double distance_mm,
                                                     const ScaleErrors& errors = {});

/// A part of known size: its drawn body, long side to long side and short to short, each weighted by how sure it is.
/// Finding "scale-part-shape" where the two sides ask for scales that cannot both be: another size, or a photograph
/// taken at an angle. Errors: the part has no body.
[[nodiscard]] Result<ScaleReading> scale_from_part(const document::Footprint& part, const patterns::SizeClass& size,
                                                   const ScaleErrors& errors = {});

/// The one size a code means. Errors: no size bears it, or more than one does ("0603"), with all of them spelled out.
[[nodiscard]] Result<const patterns::SizeClass*> single_size(std::string_view code);

/// Finding "scale-disagrees" where two scales of the same unit differ by more than their uncertainties together allow.
[[nodiscard]] std::optional<Diagnostic> disagreement(const document::Scale& a, const document::Scale& b);

/// One that was not taken, to be held against others.
[[nodiscard]] document::Scale as_scale(const document::OtherScale& other);

/// Where `other` does not agree with the scale that was taken: the finding, and `other` kept beside it.
void hold_against(document::Scale& taken, const document::Scale& other, Diagnostics& findings);

/// The surest of several readings of the same unit with its findings, those of the others but how sure they are, and
/// one for each other that does not agree with it, which is kept in its `overruled`. Requires: not empty.
[[nodiscard]] ScaleReading surest(std::span<const ScaleReading> readings);

/// True where the first was measured and the second only drawn or stated: that never holds back what was measured on
/// the board, however sure either calls itself.
[[nodiscard]] bool outranks(const document::Scale& measured, const document::Scale& drawn);

/// Finding "scale-less-sure" where the new scale is less sure than the one it would take the place of and does not
/// outrank it.
[[nodiscard]] std::optional<Diagnostic> degrading(const document::Scale& now, const document::Scale& wanted);

/// "1 unit = 0.0265 mm, within 1.5 %: two points, 7 mm between ...": how a scale is told to people.
[[nodiscard]] std::string scale_words(const document::Scale& scale);

/// The chart with its lengths put right by a scale that was read in the chart's own present lengths, and a finding
/// where the scale it had does not agree, or was surer. A scale that was measured or stated and does not agree is kept
/// in `overruled` of the new one; where the two agree one has borne the other out, and what they overrule is dropped.
/// Where the new one agrees with what had been overruled instead, the last is the odd one and is dropped: a note
/// "scale-settled" says so. Millimetres merely drawn in are no statement and disagree with nothing.
/// Errors: as document::rescale.
struct Rescaled {
    document::Chart chart;
    double factor = 1.0; ///< what every length was multiplied by
    Diagnostics findings;
};
[[nodiscard]] Result<Rescaled> put_to_scale(const document::Chart& chart, const document::Scale& in_chart_lengths);

} // namespace padchart::analysis
