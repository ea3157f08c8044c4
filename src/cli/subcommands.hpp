#pragma once
// The subcommands, one file each. command_table.cpp puts them in order.

#include "cli/command.hpp"

namespace padchart::cli {

[[nodiscard]] Command shapes_command();
[[nodiscard]] Command import_command();
[[nodiscard]] Command scale_command();
[[nodiscard]] Command photo_command();
[[nodiscard]] Command check_command();
[[nodiscard]] Command fit_command();
[[nodiscard]] Command clearance_command();
[[nodiscard]] Command heat_command();
[[nodiscard]] Command noaim_command();
[[nodiscard]] Command access_command();
[[nodiscard]] Command freeze_command();
[[nodiscard]] Command compare_command();
[[nodiscard]] Command merge_command();
[[nodiscard]] Command overhang_command();
[[nodiscard]] Command sheet_command();
[[nodiscard]] Command extract_command();
[[nodiscard]] Command card_command();
[[nodiscard]] Command donor_command();
[[nodiscard]] Command pattern_command();
[[nodiscard]] Command parts_command();
[[nodiscard]] Command view_command();
[[nodiscard]] Command manual_command();
[[nodiscard]] Command completion_command();

} // namespace padchart::cli
