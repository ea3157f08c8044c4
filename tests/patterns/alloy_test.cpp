#include "patterns/alloy.hpp"

#include <doctest/doctest.h>

using namespace padchart::patterns;
using doctest::Approx;

TEST_CASE("melting ranges of the usual alloys") {
    // ISO 9453 and J-STD-006 compositions; their melting data are information, not a requirement.
    CHECK(find_alloy("SAC305")->solidus_c == 217);
    CHECK(find_alloy("SAC305")->liquidus_c == 220);
    CHECK(find_alloy("Sn63Pb37")->liquidus_c == 183);
    CHECK(find_alloy("Sn42Bi58")->solidus_c == 138);
    CHECK(find_alloy("SnCu")->liquidus_c == 227);
    CHECK_FALSE(find_alloy("Sn99Zn1"));
    for (const Alloy& alloy : alloys()) {
        CHECK(alloy.solidus_c <= alloy.liquidus_c);
        CHECK(alloy.tin_percent + alloy.lead_percent + alloy.bismuth_percent <= 100.0);
        CHECK_FALSE(alloy.source.empty());
    }
}

TEST_CASE("a mixture melts by its share and not at 138") {
    // Tin-bismuth liquidus 232 - 1.63 per percent, from memory of the phase diagram; half and half holds 29 percent.
    const Alloy base = *find_alloy("SAC305");
    CHECK(mixed_with_low_melt(base, 0.0).liquidus_c == 220);
    CHECK(mixed_with_low_melt(base, 0.0).solidus_c == 217);
    CHECK_FALSE(mixed_with_low_melt(base, 0.0).needs_cleaning);
    const Mixture half = mixed_with_low_melt(base, 0.5);
    CHECK(half.bismuth_percent == Approx(29));
    CHECK(half.liquidus_c == Approx(184.7).epsilon(0.001));
    CHECK(half.solidus_c == 138);
    CHECK(half.needs_cleaning);
    CHECK_FALSE(half.bismuth_with_lead);
    CHECK(mixed_with_low_melt(base, 1.0).liquidus_c == Approx(139).epsilon(0.01));
    // A little of it does next to nothing.
    CHECK(mixed_with_low_melt(base, 0.1).liquidus_c == 220);
}

TEST_CASE("more low-melt alloy never raises the liquidus of a common solder") {
    for (const char* key : {"SAC305", "SnCu", "Sn63Pb37", "Sn60Pb40"}) {
        double last = 1000.0;
        for (int k = 0; k <= 20; ++k) {
            const double liquidus = mixed_with_low_melt(*find_alloy(key), k / 20.0).liquidus_c;
            CHECK(liquidus <= last);
            CHECK(liquidus >= 138.0);
            last = liquidus;
        }
    }
}

TEST_CASE("bismuth with lead is told apart") {
    const Mixture mix = mixed_with_low_melt(*find_alloy("Sn63Pb37"), 0.3);
    CHECK(mix.bismuth_with_lead);
    CHECK(mix.solidus_c == 96); // ternary eutectic, from memory of the phase diagram
    CHECK(mix.liquidus_c > 138);
    CHECK(mixed_with_low_melt(*find_alloy("Bi58Pb42"), 0.0).bismuth_with_lead);
    CHECK_FALSE(mixed_with_low_melt(*find_alloy("Sn63Pb37"), 0.0).bismuth_with_lead);
}
