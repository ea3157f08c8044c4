#pragma once
// From a parsed drawing to its shapes, on all cores where it is long.

#include "svg/drawing.hpp"
#include "svg/parsed_document.hpp"
#include "svg/report.hpp"

namespace padchart::svg {

/// The same drawing and findings however many parts it is cut into. Errors: called off.
[[nodiscard]] Result<Drawing> walk(const ParsedDocument& document, const ReadOptions& options, Report& report);

} // namespace padchart::svg
