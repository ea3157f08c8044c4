#pragma once
// The one-file page: a chart as HTML that needs no network and no other file, for a colleague who has a browser and
// nothing else. It shows both sides stage by stage, a card for what is tapped, measures, finds, prints, gives the chart
// back as it was, and takes notes to be sent back. Its content policy runs nothing but its own script, known by hash.

#include <stop_token>
#include <string>
#include <string_view>
#include <vector>

#include "page/hand_over_reports.hpp"

namespace padchart::page {

/// A photo as it lies on the board, to be shown below the map of its side.
struct BoardPicture {
    document::Side side = document::Side::Top;
    geometry::Box box; ///< scene mm of that side
    std::string jpeg;  ///< the file's bytes
    std::string name;  ///< what the photo is called
};

/// The piece of a photo that is the evidence of a part's record.
struct EvidenceJpeg {
    document::Id part;
    int width = 0, height = 0; ///< px
    std::string jpeg;
};

struct PageInput {
    const document::Chart& chart;
    const HandOverReports& reports; ///< of this very chart
    std::string_view chart_bytes;   ///< the chart file as it is: the page gives it back byte by byte
    std::string chart_name;         ///< "river-logger.chart.json": what a download of it is called
    std::vector<EvidenceJpeg> evidence{};
    std::vector<BoardPicture> photos{}; ///< at most one a side
    std::stop_token stop{};
};

/// The whole file; a page without its maps after a stop. The same input gives the same bytes.
[[nodiscard]] std::string one_file_page(const PageInput& input);

} // namespace padchart::page
