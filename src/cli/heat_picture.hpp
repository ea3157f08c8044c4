#pragma once
// The picture that `heat` and `noaim` write with --svg.

#include "base/result.hpp"
#include "cli/command.hpp"
#include "scene/chart_scene.hpp"

namespace padchart::cli {

[[nodiscard]] Option picture_option();

/// Writes it where --svg asks for it; else nothing. By the ending: .svg, .png or .pdf. Requires: reports.plan.
/// Errors: another ending, what the painter says.
[[nodiscard]] Result<void> write_heat_picture(const document::Chart& chart, scene::Reports reports,
                                              const Arguments& arguments);

} // namespace padchart::cli
