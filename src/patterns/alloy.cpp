#include "patterns/alloy.hpp"

#include <algorithm>
#include <cassert>
#include <vector>

#include "patterns/table.hpp"

namespace padchart::patterns {
namespace {

constexpr double kTinMelts_c = 232.0;
constexpr double kFallPerBismuthPercent = 1.63;
constexpr double kEutecticBismuth_percent = 57.0;
constexpr double kTinBismuthEutectic_c = 138.0;
constexpr double kTinLeadBismuthEutectic_c = 96.0;
constexpr double kLowMeltBismuth_percent = 58.0;
constexpr double kLowMeltLiquidus_c = 139.0;

std::vector<Alloy> load_alloys() {
    const Table& rows = table("alloys");
    std::vector<Alloy> all;
    for (std::size_t row = 0; row < rows.size(); ++row) {
        const auto number = [&](std::string_view column) { return rows.number(row, column).value_or(0.0); };
        all.push_back({rows.text(row, "key"), rows.text(row, "name"), number("solidus_c"), number("liquidus_c"),
                       number("tin_percent"), number("lead_percent"), number("bismuth_percent"),
                       rows.text(row, "standing"), rows.text(row, "source")});
    }
    return all;
}

double tin_bismuth_liquidus(double bismuth_percent) {
    return kTinMelts_c - kFallPerBismuthPercent * std::min(bismuth_percent, kEutecticBismuth_percent);
}

double mixture_liquidus(const Alloy& base, double fraction, double bismuth_percent) {
    const bool is_tin_rich = base.lead_percent == 0.0 && base.bismuth_percent == 0.0 && base.tin_percent > 90.0;
    if (is_tin_rich) return std::min(base.liquidus_c, tin_bismuth_liquidus(bismuth_percent));
    return base.liquidus_c + fraction * (kLowMeltLiquidus_c - base.liquidus_c);
}

} // namespace

std::span<const Alloy> alloys() {
    static const std::vector<Alloy> kAlloys = load_alloys();
    return kAlloys;
}

std::optional<Alloy> find_alloy(std::string_view key) {
    for (const Alloy& alloy : alloys())
        if (alloy.key == key) return alloy;
    return std::nullopt;
}

Mixture mixed_with_low_melt(const Alloy& base, double low_melt_fraction) {
    assert(low_melt_fraction >= 0.0 && low_melt_fraction <= 1.0);
    const double f = low_melt_fraction;
    Mixture mix;
    mix.bismuth_percent = (1.0 - f) * base.bismuth_percent + f * kLowMeltBismuth_percent;
    mix.lead_percent = (1.0 - f) * base.lead_percent;
    mix.needs_cleaning = f > 0.0 || base.liquidus_c < 150.0;
    mix.bismuth_with_lead = mix.bismuth_percent > 0.0 && mix.lead_percent > 0.0;
    mix.solidus_c = base.solidus_c;
    mix.liquidus_c = base.liquidus_c;
    if (f == 0.0) return mix;
    mix.liquidus_c = mixture_liquidus(base, f, mix.bismuth_percent);
    // Even a little bismuth leaves pockets of eutectic where it was not stirred in.
    const double eutectic = mix.bismuth_with_lead ? kTinLeadBismuthEutectic_c : kTinBismuthEutectic_c;
    mix.solidus_c = std::min(base.solidus_c, eutectic);
    return mix;
}

} // namespace padchart::patterns
