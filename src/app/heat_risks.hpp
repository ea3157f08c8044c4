#pragma once
// Who else is at risk of a heat plan, beside the one its headline speaks of.

#include <string>
#include <string_view>

#include "analysis/heat.hpp"

namespace padchart::app {

/// " Also at risk: J2 and U7.": all whose verdict is not that they are safe, those that technicians protect first; more
/// than a few are counted. Empty without any.
[[nodiscard]] std::string also_at_risk(const analysis::HeatReport& report, std::string_view headline);

} // namespace padchart::app
