#pragma once
// What the reports give a sheet to print, for everyone who writes one.

#include "page/hand_over_reports.hpp"

namespace padchart::page {

/// Heat plans with their estimates, why others could not be run, and the ways of access; the rest as usual.
/// Requires: the reports outlive the sheet's making.
[[nodiscard]] scene::SheetOptions sheet_options(const document::Chart& chart, const HandOverReports& reports);

} // namespace padchart::page
