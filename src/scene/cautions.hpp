#pragma once
// The cautions that apply to a chart, short enough to be read, most urgent first. Common practice (no source) unless a
// sentence names one; none of them replaces local codes or the judgement of a licensed person.

#include <string>
#include <vector>

#include "document/chart.hpp"

namespace padchart::scene {

[[nodiscard]] std::vector<std::string> cautions_for(const document::Chart& chart);

/// What stands on every sheet and beside every estimate.
inline constexpr const char* kAidNotApproval =
    "An aid for the bench, not an approval: local codes and licensed practice decide.";

} // namespace padchart::scene
