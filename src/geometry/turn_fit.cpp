#include "geometry/turn_fit.hpp"

namespace padchart::geometry {

TurnFit turn_fit(std::span<const Step> steps) {
    TurnFit fit;
    const auto count = static_cast<double>(steps.size());
    for (const Step& step : steps) {
        fit.from += step.from / count;
        fit.to += step.to / count;
    }
    for (const Step& step : steps) {
        const Vec2 a = step.from - fit.from, b = step.to - fit.to;
        fit.along += dot(a, b);
        fit.across += cross(a, b);
        fit.squares += dot(a, a);
    }
    return fit;
}

} // namespace padchart::geometry
