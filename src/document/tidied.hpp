#pragma once
// What tidying leaves on a part: how far its outlines have come from where a hand drew them, so that tidying again goes
// no farther than its limit in all. It stands among the part's extras (key "tidied" of assets/chart.schema.json: how
// far in mm, and a sum over the pads that tells whether anybody has drawn them anew since), so that programs that do
// not know it keep it.

#include <optional>

#include "document/footprint.hpp"

namespace padchart::document {

/// How far, mm. Nothing where the part was never tidied or its pads are others now.
[[nodiscard]] std::optional<double> tidied_off(const Footprint& part);
void note_tidied(Footprint& part, double off_mm);
/// Extras that somebody else put there.
[[nodiscard]] bool has_extras_but_tidied(const Footprint& part);

} // namespace padchart::document
