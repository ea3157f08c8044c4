#include "patterns/material.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <vector>

#include "patterns/table.hpp"

namespace padchart::patterns {
namespace {

// A technician who states only a limit wants to be warned before it is reached.
constexpr double kWarnBelowLimit_c = 20.0;

std::string_view unless_dash(std::string_view cell) {
    return cell == "-" ? std::string_view{} : cell;
}

std::vector<Material> load_materials() {
    const Table& rows = table("materials");
    std::vector<Material> all;
    for (std::size_t row = 0; row < rows.size(); ++row)
        all.push_back({rows.text(row, "key"), rows.text(row, "name"), rows.number(row, "warn_c").value_or(0.0),
                       rows.number(row, "limit_c").value_or(0.0), rows.text(row, "delicate") == "yes",
                       unless_dash(rows.text(row, "caution")), rows.text(row, "note"), rows.text(row, "standing"),
                       rows.text(row, "source")});
    return all;
}

std::optional<Material> default_material(std::string_view table_name, std::string_view column, std::string_view word) {
    const Table& rows = table(table_name);
    const auto row = rows.find(column, word);
    return row ? find_material(unless_dash(rows.text(*row, "material"))) : std::nullopt;
}

std::optional<double> body_area_mm2(const document::Footprint& part) {
    if (!part.body) return std::nullopt;
    return std::abs(geometry::signed_area(document::outline_in_part(*part.body)));
}

HeatLimits from_material(const Material& material, LimitOrigin origin) {
    return {material.warn_c, material.limit_c, origin, material, material.delicate};
}

void apply_package_class(const document::Footprint& part, HeatLimits& limits) {
    if (!limits.material || limits.material->key != "reflow-260") return;
    const auto area = body_area_mm2(part);
    if (!area || *area <= 0.0 || !part.body->height_mm || *part.body->height_mm <= 0.0) return;
    const double thickness = *part.body->height_mm;
    limits.limit_c = package_peak_c(thickness, *area * thickness);
    limits.warn_c = limits.limit_c - kWarnBelowLimit_c;
    limits.origin = LimitOrigin::Package;
}

void apply_own(const document::HeatSensitivity& heat, HeatLimits& limits) {
    if (!heat.warn_c && !heat.limit_c) return;
    limits.origin = LimitOrigin::Own;
    limits.delicate = true;
    if (heat.limit_c) limits.limit_c = *heat.limit_c;
    if (heat.warn_c)
        limits.warn_c = *heat.warn_c;
    else
        limits.warn_c = std::min(limits.warn_c, limits.limit_c - kWarnBelowLimit_c);
    // Only a stated limit raises that of the class: to worry later makes no plastic tougher.
    limits.warn_c = std::min(limits.warn_c, limits.limit_c);
}

} // namespace

std::span<const Material> materials() {
    static const std::vector<Material> kMaterials = load_materials();
    return kMaterials;
}

std::optional<Material> find_material(std::string_view key) {
    for (const Material& material : materials())
        if (material.key == key) return material;
    return std::nullopt;
}

std::optional<HeatLimits> limits_of(const document::Footprint& part) {
    std::optional<HeatLimits> limits;
    if (part.heat)
        if (const auto stated = find_material(part.heat->material))
            limits = from_material(*stated, LimitOrigin::Material);
    if (!limits)
        if (const auto usual = default_material("class_materials", "class", document::to_text(part.part_class)))
            limits = from_material(*usual, LimitOrigin::PartClass);
    // Somebody called it heat-sensitive without saying why: never a part made for a reflow.
    const bool is_marked = part.heat && !part.heat->warn_c && !part.heat->limit_c;
    if (is_marked && (!limits || (limits->origin == LimitOrigin::PartClass && !limits->delicate)))
        limits = from_material(*find_material("unknown-plastic"), LimitOrigin::Material);
    if (limits) apply_package_class(part, *limits);
    if (!part.heat || (!part.heat->warn_c && !part.heat->limit_c)) return limits;
    if (!limits) {
        const double limit = part.heat->limit_c.value_or(*part.heat->warn_c + kWarnBelowLimit_c);
        limits = HeatLimits{limit, limit, LimitOrigin::Own, std::nullopt, true};
    }
    apply_own(*part.heat, *limits);
    return limits;
}

HeatLimits limits_of(const document::KeepOut& keep_out) {
    auto usual = default_material("keep_out_materials", "reason", document::to_text(keep_out.reason));
    if (!usual) usual = find_material("unknown-plastic");
    HeatLimits limits = from_material(*usual, LimitOrigin::PartClass);
    if (!keep_out.limit_c) return limits;
    limits.origin = LimitOrigin::Own;
    limits.limit_c = *keep_out.limit_c;
    limits.warn_c = std::min(limits.warn_c, limits.limit_c - kWarnBelowLimit_c);
    return limits;
}

double package_peak_c(double thickness_mm, double volume_mm3) {
    assert(thickness_mm > 0.0 && volume_mm3 > 0.0);
    const Table& rows = table("packages");
    for (std::size_t row = 0; row < rows.size(); ++row) {
        const auto cell = [&](std::string_view column) { return rows.number(row, column).value_or(0.0); };
        const bool fits_thickness = thickness_mm >= cell("from_mm") && thickness_mm < cell("below_mm");
        if (fits_thickness && volume_mm3 >= cell("from_mm3") && volume_mm3 < cell("below_mm3")) return cell("peak_c");
    }
    return 245.0; // beyond the table: its lowest class
}

} // namespace padchart::patterns
