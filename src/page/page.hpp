#pragma once
// The one-file page: a chart as HTML that needs no network and no other file, for a colleague who has a browser and
// nothing else. It shows both sides stage by stage, a card for what is tapped, measures, finds, prints, gives the chart
// back as it was, and takes notes to be sent back. Its content policy runs nothing but its own script, known by hash.

#include <string>
#include <string_view>

#include "page/hand_over_reports.hpp"

namespace padchart::page {

struct PageInput {
    const document::Chart& chart;
    const HandOverReports& reports; ///< of this very chart
    std::string_view chart_bytes;   ///< the chart file as it is: the page gives it back byte by byte
    std::string chart_name;         ///< "river-logger.chart.json": what a download of it is called
};

/// The whole file. The same input gives the same bytes.
[[nodiscard]] std::string one_file_page(const PageInput& input);

} // namespace padchart::page
