#include "cli/compared.hpp"

#include "cli/frozen.hpp"
#include "scene/compared.hpp"

namespace padchart::cli {

std::optional<scene::SheetSection> compared_with_before(const document::Chart& chart,
                                                        const std::filesystem::path& chart_path) {
    if (!chart.frozen_before || chart_path.empty()) return std::nullopt;
    const Result<BeforeChart> before = load_before(chart, chart_path);
    // Without the machine's own path: the sheet is handed on.
    if (!before)
        return scene::SheetSection{"Not compared.",
                                   {"The chart from before, " + chart.frozen_before->path +
                                    ", cannot be used: " + before.error().message + "."}};
    return scene::compared_section(before->chart, chart, before->findings);
}

} // namespace padchart::cli
