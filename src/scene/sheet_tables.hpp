#pragma once
// The written part of a sheet, section by section. Private to the sheet.

#include "scene/page_writer.hpp"
#include "scene/sheet.hpp"

namespace padchart::scene {

void write_sections(PageWriter& writer, const document::Chart& chart, const Reports& reports,
                    const SheetOptions& options);

} // namespace padchart::scene
