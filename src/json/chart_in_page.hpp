#pragma once
// A chart inside a one-file page: its bytes in Base64 in an element that a browser neither shows nor runs, with their
// length and hash, so that what was cut or altered on the way is noticed. Every reader of charts takes such a page.

#include <string>
#include <string_view>

#include "base/result.hpp"

namespace padchart::json {

/// The id of that element.
inline constexpr std::string_view kChartElement = "padchart-chart";

/// The element with `bytes` in it; `file_name` is what a download of it should be called.
[[nodiscard]] std::string chart_element(std::string_view bytes, std::string_view file_name);

/// Begins as a page does, and not as a chart.
[[nodiscard]] bool is_page(std::string_view text);

/// The very bytes that were put in. Errors: no such element, letters cut or altered; `where` is empty.
[[nodiscard]] Result<std::string> chart_bytes_in_page(std::string_view page);

} // namespace padchart::json
