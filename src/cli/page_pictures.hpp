#pragma once
// The photos of a chart as a page carries them: pieces that are evidence, and where it is asked for whole sides.

#include <filesystem>

#include "page/page.hpp"

namespace padchart::cli {

/// JPEG at a quality that shows marks and lettering; a whole side takes some hundred kilobytes.
[[nodiscard]] std::vector<page::EvidenceJpeg> evidence_for_page(const document::Chart& chart,
                                                                const std::filesystem::path& chart_file);
[[nodiscard]] std::vector<page::BoardPicture> photos_for_page(const document::Chart& chart,
                                                              const std::filesystem::path& chart_file);

} // namespace padchart::cli
