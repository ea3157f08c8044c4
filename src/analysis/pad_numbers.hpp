#pragma once
// Do the numbers of a part's pads run as numbers run? What they tell of a mirrored picture and of slips of the hand.
// Counter-clockwise from pin 1 seen from its side: IPC-7351 and JEDEC practice (patterns/numbering.hpp).

#include "base/diagnostic.hpp"
#include "document/chart.hpp"

namespace padchart::analysis {

/// Connectors and single rows tell nothing. Finding "pins-clockwise" for every other part whose pin numbers run
/// clockwise seen from its side, and "picture-mirrored" where that holds for all parts that can tell and there are at
/// least two.
[[nodiscard]] Diagnostics mirrored_numbering(const document::Chart& chart);

/// Whole numbers of all parts but those of a family. "pad-number-twice" where two pads of a part bear the same one
/// (words such as SH may stand on many). And but for connectors, single rows and mirrored parts, where they are
/// complete from 1: "numbers-not-in-turn" where they do not go round the part, "first-pin-in-row" where they do and
/// begin amid a row.
[[nodiscard]] Diagnostics numbers_against_rule(const document::Chart& chart);

} // namespace padchart::analysis
