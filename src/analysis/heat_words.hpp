#pragma once
// What a heat report says in words: what to do, what can hurt, what was assumed.

#include "analysis/heat_setup.hpp"

namespace padchart::analysis {

[[nodiscard]] std::vector<std::string> heat_sentences(const HeatSetup& setup, const HeatReport& report);
[[nodiscard]] Diagnostics heat_cautions(const document::Chart& chart, const HeatSetup& setup, const HeatReport& report);
/// "J1, J2 and J3"; more than six: "... and 2 more".
[[nodiscard]] std::string listed(const std::vector<std::string>& names);
[[nodiscard]] Diagnostics heat_remarks(const HeatSetup& setup, const HeatReport& report);

} // namespace padchart::analysis
