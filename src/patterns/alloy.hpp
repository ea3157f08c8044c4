#pragma once
// Solder alloys and what a joint becomes when low-melt alloy is worked into it. Degrees Celsius, shares by mass.

#include <optional>
#include <span>
#include <string_view>

namespace padchart::patterns {

struct Alloy {
    std::string_view key;  ///< "SAC305"
    std::string_view name; ///< "Sn96.5Ag3Cu0.5"
    double solidus_c = 0.0;
    double liquidus_c = 0.0;
    double tin_percent = 0.0;
    double lead_percent = 0.0;
    double bismuth_percent = 0.0;
    std::string_view standing;
    std::string_view source;
};

[[nodiscard]] std::span<const Alloy> alloys();
/// Nothing when the table has no such key.
[[nodiscard]] std::optional<Alloy> find_alloy(std::string_view key);

/// A joint of `base` with a share of Sn42Bi58 melted into it.
struct Mixture {
    double solidus_c = 0.0;  ///< melting starts: 138 with bismuth, 96 with bismuth and lead
    double liquidus_c = 0.0; ///< melting ends: falls with the share, it is not 138 for any share
    double bismuth_percent = 0.0;
    double lead_percent = 0.0;
    bool needs_cleaning = false;    ///< low-melt metal must be wicked away before the joint is made new
    bool bismuth_with_lead = false; ///< may hold a phase that melts near 96 C: not to be left in service
};

/// Tin-bismuth liquidus nearly linear, 232 - 1.63 K per percent of bismuth down to the eutectic at 57 % (from memory of
/// the phase diagram; the true line lies up to some 4 K above in the middle), never above that of the base. With a base
/// that holds lead or little tin no such rule is at hand: linear between the two liquidus temperatures.
/// Requires: 0 <= low_melt_fraction <= 1.
[[nodiscard]] Mixture mixed_with_low_melt(const Alloy& base, double low_melt_fraction);

} // namespace padchart::patterns
