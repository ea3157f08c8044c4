#pragma once
// From which side the usual tweezers come to the part of each plan, in sentences, for the sheet and the page alike.

#include "page/hand_over_reports.hpp"

namespace padchart::page {

/// One for each part that a plan is for; none for a part that cannot be asked about.
[[nodiscard]] std::vector<scene::SheetSection> access_sections(const document::Chart& chart,
                                                               const HandOverReports& reports);

} // namespace padchart::page
