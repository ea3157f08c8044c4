#pragma once
// A chart as somebody else would have left it, for the tests of merging.

#include <string>

#include "document/chart.hpp"

namespace padchart::json {

/// Edits fields, removes things and adds some whose ids begin with `prefix`; about one thing in `rarity` is touched.
/// Requires: called inside a rapidcheck property.
[[nodiscard]] document::Chart randomly_edited(const document::Chart& chart, const std::string& prefix, int rarity);

} // namespace padchart::json
