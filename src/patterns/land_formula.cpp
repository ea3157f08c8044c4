#include "patterns/land_formula.hpp"

#include <cassert>
#include <cmath>

namespace padchart::patterns {
namespace {

constexpr double kFabrication = 0.05;
constexpr double kPlacement = 0.025;

double root_sum(double part_tolerance) {
    return std::hypot(part_tolerance, kFabrication, kPlacement);
}

double spread(const Range& range) {
    assert(range.min <= range.max);
    return range.max - range.min;
}

} // namespace

LandSpan land_span(const TerminalMeasures& part, const FilletGoals& goals) {
    const double length_spread = spread(part.length);
    // The gap between the terminations; its spread is taken as a root of squares, not as a worst case.
    const double inner_spread = std::hypot(length_spread, std::sqrt(2.0) * spread(part.terminal));
    const double inner_middle = (part.length.min + part.length.max) / 2 - (part.terminal.min + part.terminal.max);
    const double inner_max = inner_middle + inner_spread / 2;
    return {part.length.min + 2 * goals.toe + root_sum(length_spread),
            inner_max - 2 * goals.heel - root_sum(inner_spread),
            part.width.min + 2 * goals.side + root_sum(spread(part.width))};
}

} // namespace padchart::patterns
