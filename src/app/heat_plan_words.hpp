#pragma once
// What a step of history calls a change of a heat plan.

#include <string>

#include "document/chart.hpp"

namespace padchart::app {

/// "dwell", "preheater off"; "settings" where several differ.
[[nodiscard]] std::string what_differs(const document::HeatPlan& before, const document::HeatPlan& after);

} // namespace padchart::app
