#pragma once
// A traced part as a pattern to be used again: its copper, body, kind and heat sensitivity, without anything that
// belongs to the one part it was traced from.

#include "document/footprint.hpp"

namespace padchart::patterns {

/// The footprint at zero turn with its origin in the middle of its extent (body, else the box round the lands), lands
/// and body moved alike. Dropped: id, name, value, role, place, trace key, lock, comment, condition, states of lands
/// and joints, and from the orientation who says so: the mark's kind, bearing and meaning are the part's own and stay,
/// but its evidence is that of another part and so becomes "not stated".
[[nodiscard]] document::Footprint as_pattern(const document::Footprint& part);

} // namespace padchart::patterns
