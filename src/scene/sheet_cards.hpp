#pragma once
// One card for every part that could go back the wrong way round: how it sits, what its mark says, how it must not go
// back, and boxes to tick. Private to the sheet.

#include <vector>

#include "scene/page_writer.hpp"
#include "scene/sheet.hpp"

namespace padchart::scene {

/// No page when no part needs a record, or when nobody has computed which do.
[[nodiscard]] std::vector<Page> card_pages(const document::Chart& chart, const Reports& reports,
                                           const PageFormat& format, const std::vector<EvidencePicture>& evidence = {});

} // namespace padchart::scene
