#pragma once
// What heat does to a part: material classes with a temperature at which to worry and one at which to stop, and which
// of them holds for a part. Degrees Celsius at the part's body, for less than a minute. Defaults for the bench, from
// assets/tables/{materials,class_materials,keep_out_materials,packages}.tsv: the part maker's sheet wins.

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "document/chart.hpp"

namespace padchart::patterns {

struct Material {
    std::string_view key;  ///< "lcp"
    std::string_view name; ///< "liquid crystal polymer moulding"
    double warn_c = 0.0;
    double limit_c = 0.0;
    bool delicate = true;     ///< false: stands a reflow like any other part
    std::string_view caution; ///< "take-out", "port", "unknown-plastic", "fumes", or empty
    std::string_view note;
    std::string_view standing; ///< "published", "from memory" or "common practice"
    std::string_view source;
};

/// All rows of the table, in its order.
[[nodiscard]] std::span<const Material> materials();
/// Nothing when the table has no such key.
[[nodiscard]] std::optional<Material> find_material(std::string_view key);

/// Who set a limit.
enum class LimitOrigin { Own, Material, PartClass, Package };

struct HeatLimits {
    double warn_c = 0.0;
    double limit_c = 0.0; ///< never below warn_c
    LimitOrigin origin = LimitOrigin::PartClass;
    std::optional<Material> material; ///< the row used, or nothing with own limits only
    bool delicate = true;             ///< what technicians protect; false for parts made for reflow
};

/// The part's own limits win (a warning alone never raises the limit), then its material, then the default of its
/// class; marked as heat-sensitive without a reason it counts as moulded plastic of unknown kind; a reflow-proof body
/// of known size gets its J-STD-020 class temperature. Nothing where heat has nothing to hurt (test point, mounting
/// hole, shield can). An unknown material key counts as no material.
[[nodiscard]] std::optional<HeatLimits> limits_of(const document::Footprint& part);
/// The keep-out's own limit wins, then the default of its reason.
[[nodiscard]] HeatLimits limits_of(const document::KeepOut& keep_out);

/// J-STD-020 peak for a lead-free package; bodies get hotter limits the smaller they are.
/// Requires: both above 0.
[[nodiscard]] double package_peak_c(double thickness_mm, double volume_mm3);

} // namespace padchart::patterns
