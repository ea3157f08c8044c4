#pragma once
// One family with fixed counts laid on traced lands from one starting turn; for this module only. What a fit does with
// many of these is in patterns/fit_pattern.cpp.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "document/footprint.hpp"
#include "geometry/box.hpp"
#include "patterns/family.hpp"

namespace padchart::patterns {

/// The traced lands' outlines and numbers, read once.
struct TracedLands {
    std::vector<geometry::Ring> outlines;
    std::vector<std::string> numbers;
};

/// Middle and size of each land's box.
struct LandBox {
    geometry::Vec2 centre;
    geometry::Vec2 size;
};

/// The boxes of the lands as they are when the drawing is turned back by `turn`.
[[nodiscard]] std::vector<LandBox> turned_back(const TracedLands& lands, Angle turn);

/// A family's lands as linear functions of those of its measures that the lands show: centres and sizes are sums of
/// pitches, spacings and lengths, so that one difference for each measure says all.
struct LinearModel {
    std::vector<double> values; ///< where it was taken
    std::vector<LandBox> boxes; ///< there
    std::vector<std::string> numbers;
    std::vector<std::size_t> free;           ///< positions of the measures that move something
    std::vector<std::vector<LandBox>> slope; ///< for each of them, by mm
};
/// Nothing when the family cannot be made with these values.
[[nodiscard]] std::optional<LinearModel> linear_model(const Family& family, const std::vector<double>& values);

struct Trial {
    std::vector<double> values;
    Angle turn;
    geometry::Vec2 shift;             ///< in the frame turned back
    std::vector<std::size_t> partner; ///< for each traced land
    double rms_mm = 0.0;
    double max_mm = 0.0;
    double size_rms_mm = 0.0;
    double as_is_rms_mm = 0.0;
    int numbers_agreeing = 0;
};

/// Nothing when the lands do not pair off one to one. The model may have more lands than were traced.
[[nodiscard]] std::optional<Trial> try_fit(const Family& family, const LinearModel& model, const TracedLands& lands,
                                           Angle start);

} // namespace padchart::patterns
