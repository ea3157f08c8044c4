#pragma once
// What a hand types into a field that holds a number: a number, a number with a unit, or a simple sum of them.
//
//     sum     = product { ("+" | "-") product }
//     product = factor { ("*" | "x" | "×" | "/" | ":") factor }
//     factor  = { "+" | "-" } ( number | "(" sum ")" ) [ unit ]
//     number  = digits [ ("." | ",") digits ] [ ("e" | "E") [ "+" | "-" ] digits ]     "1", "0,4", ".5", "1e-3"
//     unit    = a word of the field's kind: mm, mil, °, s ...
//
// Spaces mean nothing between these. A number without a unit counts in the field's own unit, beside a `+` or as the
// whole answer; beside `*` and `/` it is a mere factor. What the units cannot mean (a length times a length, a ratio
// where a length is asked for, degrees in a field of mm) is refused, never guessed. The answer is rounded to 14 digits,
// so that 0.1 + 0.2 is 0.3.

#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace padchart {

/// Value of `text` in the unit `field_unit` ("mm", "°", "s", "l/min" ...; empty: a bare number). A unit this program
/// does not know is understood as itself and no other. Errors: what was typed, where it went wrong, what would be
/// right. Exact factors: 1 in = 25.4 mm and 1 mil = 0.001 in (the international inch); 180 degrees = pi rad.
[[nodiscard]] Result<double> typed_number(std::string_view text, std::string_view field_unit = {});

/// The words that may stand behind a number in such a field, the field's own first: {"mm", "cm", "um", ...}.
[[nodiscard]] std::vector<std::string_view> units_for(std::string_view field_unit);

} // namespace padchart
