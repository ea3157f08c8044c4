#include "analysis/overhang.hpp"

#include <algorithm>
#include <cmath>

#include "analysis/fit.hpp"

namespace padchart::analysis {
namespace {

using document::Footprint;
using document::PartClass;
using geometry::Vec2;

/// Rounding of a coordinate is no overhang.
constexpr double kRounding_mm = 1e-9;
constexpr double kRoundingShare = 1e-9;

double side_limit(ProductClass product) {
    return product == ProductClass::Three ? 0.25 : 0.50;
}
double joint_limit(ProductClass product) {
    return product == ProductClass::Three ? 0.75 : 0.50;
}

/// Chips with metallised ends; moulded bodies with leads, cans and connectors have clauses of their own.
bool is_chip(const Footprint& part) {
    static constexpr PartClass kChips[] = {
        PartClass::Resistor,         PartClass::SenseResistor, PartClass::Thermistor,  PartClass::Varistor,
        PartClass::CeramicCapacitor, PartClass::Inductor,      PartClass::FerriteBead, PartClass::Fuse,
        PartClass::Jumper,           PartClass::FilmCapacitor};
    if (part.family.rfind("chip-", 0) == 0) return true;
    return std::find(std::begin(kChips), std::end(kChips), part.part_class) != std::end(kChips);
}

bool is_on_board(const Footprint& part) {
    return part.condition.presence == document::Presence::Present ||
           part.condition.presence == document::Presence::NotChecked;
}

/// Along the chip, outwards from its middle, and across it.
struct Axes {
    Vec2 along;
    Vec2 across;

    [[nodiscard]] Vec2 of(Vec2 p) const { return {geometry::dot(p, along), geometry::dot(p, across)}; }
};

geometry::Box box_in(const geometry::Ring& ring, const Axes& axes) {
    geometry::Box box;
    for (const Vec2 p : ring)
        box.add(axes.of(p));
    return box;
}

/// The two corners of the body's end that looks towards the land; the body is taken as the rectangle it is drawn as.
std::array<Vec2, 2> end_corners(const document::Body& body, Vec2 towards) {
    const Vec2 right = geometry::direction(body.turn);
    const Vec2 down{-right.y, right.x};
    const bool lies_along_own_x = std::abs(geometry::dot(towards, right)) >= std::abs(geometry::dot(towards, down));
    const Vec2 own = lies_along_own_x ? right * (body.shape.width_mm / 2) : down * (body.shape.height_mm / 2);
    const Vec2 beside = lies_along_own_x ? down * (body.shape.height_mm / 2) : right * (body.shape.width_mm / 2);
    const Vec2 middle = body.at + (geometry::dot(own, towards) >= 0.0 ? own : -own);
    return {middle - beside, middle + beside};
}

std::string name_of(const document::Pad& pad, std::size_t index) {
    return pad.number.empty() ? "#" + std::to_string(index + 1) : pad.number;
}

EndOverhang end_at(const Footprint& part, std::size_t index, Vec2 outwards) {
    const document::Pad& pad = part.pads[index];
    const Axes axes{outwards, {-outwards.y, outwards.x}};
    const geometry::Box land = box_in(document::outline_in_part(pad), axes);
    const std::array<Vec2, 2> corners = end_corners(*part.body, outwards);
    const geometry::Box end = box_in({corners[0], corners[1]}, axes);
    EndOverhang out;
    out.pad = name_of(pad, index);
    out.width_mm = std::min(geometry::distance(corners[0], corners[1]), land.height());
    out.side_mm = std::max({0.0, end.max.y - land.max.y, land.min.y - end.min.y});
    out.past_mm = end.max.x - land.max.x;
    out.end_mm = std::max(0.0, out.past_mm);
    const bool reaches_land = end.max.x > land.min.x;
    const double shared = std::min(end.max.y, land.max.y) - std::max(end.min.y, land.min.y);
    out.joint_mm = reaches_land ? std::clamp(shared, 0.0, out.width_mm) : 0.0;
    out.side_share = out.side_mm / out.width_mm;
    out.joint_share = out.joint_mm / out.width_mm;
    return out;
}

bool is_near(double value, double limit, double by) {
    return std::abs(value - limit) <= by;
}

bool is_doubtful(const EndOverhang& end, double uncertainty_mm) {
    const double share = uncertainty_mm / end.width_mm;
    bool near = uncertainty_mm > 0.0 && std::abs(end.past_mm) <= uncertainty_mm; // any overhang at all is a defect
    for (const ProductClass product : {ProductClass::Two, ProductClass::Three})
        near = near || is_near(end.side_share, side_limit(product), share) ||
               is_near(end.joint_share, joint_limit(product), share);
    return near;
}

} // namespace

bool EndOverhang::is_side_defect(ProductClass product) const {
    return side_share > side_limit(product) + kRoundingShare;
}
bool EndOverhang::is_end_defect() const {
    return end_mm > kRounding_mm;
}
bool EndOverhang::is_joint_defect(ProductClass product) const {
    return joint_share < joint_limit(product) - kRoundingShare;
}
bool EndOverhang::is_defect(ProductClass product) const {
    return is_side_defect(product) || is_end_defect() || is_joint_defect(product);
}

std::optional<PartOverhang> overhang_of(const Footprint& part, double uncertainty_mm) {
    if (part.pads.size() != 2 || !part.body || !is_chip(part) || !is_on_board(part)) return std::nullopt;
    if (part.body->shape.kind != document::ShapeKind::Rectangle) return std::nullopt;
    const Vec2 apart = part.pads[1].at - part.pads[0].at;
    const double distance_mm = geometry::length(apart);
    if (distance_mm <= kRounding_mm) return std::nullopt;
    const Vec2 outwards = apart / distance_mm;
    PartOverhang out;
    out.part = part.id;
    out.ends = {end_at(part, 0, -outwards), end_at(part, 1, outwards)};
    out.is_doubtful = is_doubtful(out.ends[0], uncertainty_mm) || is_doubtful(out.ends[1], uncertainty_mm);
    return out;
}

std::vector<PartOverhang> overhang(const document::Chart& chart) {
    std::vector<PartOverhang> out;
    if (!chart.scale) return out;
    const double uncertainty_mm = measuring_uncertainty(chart);
    for (const Footprint& part : chart.parts)
        if (auto answer = overhang_of(part, uncertainty_mm)) out.push_back(std::move(*answer));
    return out;
}

} // namespace padchart::analysis
