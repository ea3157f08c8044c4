// `padchart view` is the window's own call; here it only has its help. src/cli/main.cpp hands it to padchart-window.

#include "cli/shared.hpp"
#include "cli/subcommands.hpp"

namespace padchart::cli {

Command view_command() {
    return {"view",
            "open the window at a stage, or write its picture",
            "With --snapshot the picture of the whole window is written as PNG and the program ends. Needs a display.",
            "padchart view demo/river-logger.chart.json --stage orient --select U4 --snapshot view.png",
            {chart_positional(),
             {"--stage", OptionKind::Text, "survey, orient, heat, access, inspect, hand-over"},
             {"--select", OptionKind::Text, "the part to select, by name"},
             {"--snapshot", OptionKind::Text, "PNG file to write"},
             {"--size", OptionKind::Text, "window size in pixels, 1600x1000"},
             {"--scale", OptionKind::Number, "size of everything on screen, 1 to 3"},
             {"--theme", OptionKind::Text, "paper, dark or grey"},
             {"--side", OptionKind::Text, "top or bottom"}},
            [](const Arguments&, Streams) -> int { return kCouldNotDo; }};
}

} // namespace padchart::cli
