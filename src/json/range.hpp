#pragma once
// Which numbers a key may hold, and how that is said to a person. The bounds are those of document::fault_of.

#include <string_view>

namespace padchart::json {

struct Range {
    double low = 0.0;
    double high = 0.0;
    bool low_itself = true; ///< the bound is allowed
    bool high_itself = true;
    std::string_view words; ///< "a length above 0 and at most 10000 (mm)"

    [[nodiscard]] constexpr bool contains(double number) const {
        return (low_itself ? number >= low : number > low) && (high_itself ? number <= high : number < high);
    }
};

namespace range {

inline constexpr double kAny = 1.7976931348623157e308;

inline constexpr Range kNumber{-kAny, kAny, true, true, "a number"};
inline constexpr Range kTurn{-kAny, kAny, true, true, "a number of degrees"};
inline constexpr Range kPlace{-10'000.0, 10'000.0, true, true, "a place between -10000 and 10000 (mm)"};
inline constexpr Range kLength{0.0, 10'000.0, false, true, "a length above 0 and at most 10000 (mm)"};
inline constexpr Range kGap{0.0, 10'000.0, true, true, "a distance from 0 to 10000 (mm)"};
inline constexpr Range kTemperature{-60.0, 2000.0, false, false, "a temperature between -60 and 2000 (degrees C)"};
inline constexpr Range kAnyTemperature{-kAny, kAny, true, true, "a temperature (degrees C)"};
inline constexpr Range kFraction{0.0, 1.0, true, true, "a number from 0 to 1"};
inline constexpr Range kAboveZero{0.0, kAny, false, true, "a number above 0"};
inline constexpr Range kLayers{1.0, 64.0, true, true, "a whole number from 1 to 64"};
inline constexpr Range kPadCount{0.0, 10'000.0, true, true, "a whole number from 0 to 10000"};

} // namespace range
} // namespace padchart::json
