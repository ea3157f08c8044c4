#pragma once
// From which side the usual tweezers come to the part of each plan, in sentences, for the sheet and the page alike.

#include "analysis/access.hpp"
#include "page/hand_over_reports.hpp"

namespace padchart::page {

/// One for each part that a plan is for, in the order of the plans; none for a part that cannot be asked about.
[[nodiscard]] std::vector<analysis::AccessReport> access_reports(const document::Chart& chart,
                                                                 const HandOverReports& reports);

/// One for each part that a plan is for; none for a part that cannot be asked about.
[[nodiscard]] std::vector<scene::SheetSection> access_sections(const document::Chart& chart,
                                                               const HandOverReports& reports);

} // namespace padchart::page
