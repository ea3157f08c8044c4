#pragma once
// A name that stands for another kind of part in a corrected trace. For svg/reimport alone.

#include <string>

#include "document/footprint.hpp"

namespace padchart::svg {

/// "it had 2 pads, now 3, and its body was 1.00 x 0.50 mm, now 2.90 x 1.30 mm": what tells that the drawn one is
/// another kind of part, not the same one drawn better; empty where nothing does. Wherever it lies and however it is
/// turned.
[[nodiscard]] std::string other_kind(const document::Footprint& part, const document::Footprint& drawn);

} // namespace padchart::svg
