#pragma once
// The scale as a person states it on the command line: two points with the distance measured between them, or a part
// of known size.

#include <string>
#include <string_view>
#include <vector>

#include "analysis/scale.hpp"
#include "cli/command.hpp"
#include "document/chart.hpp"

namespace padchart::cli {

/// "X,Y,...": exactly `count` finite numbers. Errors: tells what was found and how many belong there.
[[nodiscard]] Result<std::vector<double>> numbers_of(std::string_view text, std::size_t count, std::string_view option);

/// --click-error and --measuring-error.
[[nodiscard]] std::vector<Option> scale_error_options();
[[nodiscard]] analysis::ScaleErrors scale_errors_of(const Arguments& arguments);

/// "X1,Y1,X2,Y2,MM"
[[nodiscard]] Result<analysis::ScaleReading> scale_from_points_text(const std::string& text, std::string_view option,
                                                                    const analysis::ScaleErrors& errors);
/// "R1=1608M": a part of the chart and its size, measured in the chart's present lengths.
[[nodiscard]] Result<analysis::ScaleReading> scale_from_part_text(const document::Chart& chart, const std::string& text,
                                                                  std::string_view option,
                                                                  const analysis::ScaleErrors& errors);

} // namespace padchart::cli
