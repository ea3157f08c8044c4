#include "cli/subcommands.hpp"

namespace padchart::cli {

std::span<const Command> commands() {
    static const std::vector<Command> kCommands{
        shapes_command(),  import_command(),    scale_command(),      photo_command(),    check_command(),
        fit_command(),     clearance_command(), heat_command(),       noaim_command(),    access_command(),
        freeze_command(),  compare_command(),   merge_command(),      overhang_command(), sheet_command(),
        extract_command(), card_command(),      donor_command(),      pattern_command(),  parts_command(),
        view_command(),    manual_command(),    completion_command(),
    };
    return kCommands;
}

} // namespace padchart::cli
