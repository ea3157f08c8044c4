#include "svg/reimport_kind.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/counted.hpp"
#include "geometry/polygon.hpp"

namespace padchart::svg {
namespace {

/// A pad more under a chip, or one that was overlooked, makes no other part of many pads. Common practice, no source.
constexpr double kOtherCount = 1.25;
/// Neighbouring sizes of chips differ by more in their area: 0603M, 1005M, 1608M, 2012M, 3216M, 3225M (the nominal
/// sizes of assets/tables/size_classes.tsv). Neither area nor reach change when a thing is turned.
constexpr double kOtherArea = 1.4;
constexpr double kOtherReach = 1.3;

double area_of(const document::Body& body) {
    return std::abs(geometry::signed_area(document::outline_in_part(body)));
}

/// From its middle to its farthest corner.
double reach_of(const document::Body& body) {
    const geometry::Ring ring = document::outline_in_part(body);
    const geometry::Vec2 middle = geometry::centroid(ring);
    double reach = 0.0;
    for (const geometry::Vec2 p : ring)
        reach = std::max(reach, geometry::distance(p, middle));
    return reach;
}

std::string size_words(const document::Body& body) {
    if (body.shape.kind == document::ShapeKind::Polygon) return fmt::format("{:.2f} mm²", area_of(body));
    const auto [width, length] = std::minmax(body.shape.width_mm, body.shape.height_mm);
    return fmt::format("{:.2f} x {:.2f} mm", length, width);
}

bool is_other(double was, double is, double times) {
    return was > 0.0 && is > 0.0 && std::max(was / is, is / was) > times;
}

} // namespace

std::string other_kind(const document::Footprint& part, const document::Footprint& drawn) {
    std::string words;
    const auto add = [&](const std::string& more) { words += (words.empty() ? "" : ", and ") + more; };
    if (is_other(static_cast<double>(part.pads.size()), static_cast<double>(drawn.pads.size()), kOtherCount))
        add(fmt::format("it had {}, now {}", counted(part.pads.size(), "pad"), drawn.pads.size()));
    if (part.body && drawn.body &&
        (is_other(area_of(*part.body), area_of(*drawn.body), kOtherArea) ||
         is_other(reach_of(*part.body), reach_of(*drawn.body), kOtherReach)))
        add(fmt::format("its body was {}, now {}", size_words(*part.body), size_words(*drawn.body)));
    return words;
}

} // namespace padchart::svg
