#pragma once
// A chart whose every field is drawn at random, for property tests. The structures are taken apart by structured
// bindings, so that a field added to the document does not compile until it is drawn here.

#include "document/chart.hpp"

namespace padchart::json {

/// Requires: called inside a rapidcheck property.
[[nodiscard]] document::Chart random_chart();

} // namespace padchart::json
