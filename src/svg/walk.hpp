#pragma once
// From a parsed drawing to its shapes, on all cores where it is long.

#include "svg/drawing.hpp"
#include "svg/parsed_document.hpp"
#include "svg/report.hpp"

namespace padchart::svg {

/// Into how many parts a text of so many bytes is cut; 1: it is read by one thread.
[[nodiscard]] std::size_t parts_for(std::size_t bytes, const ReadOptions& options);

/// The same drawing and findings however many parts it is cut into. Errors: called off.
[[nodiscard]] Result<Drawing> walk(const ParsedDocument& document, const ReadOptions& options, Report& report);

} // namespace padchart::svg
