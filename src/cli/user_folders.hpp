#pragma once
// Where the program keeps what belongs to the user rather than to a chart: keys, own patterns, what it remembers. As
// the XDG Base Directory Specification 0.8 says: a variable that is empty or no absolute path counts as not set.

#include <filesystem>

namespace padchart::cli {

/// $XDG_CONFIG_HOME/padchart or ~/.config/padchart: what the user may edit, like the keys. Not made here.
/// Empty where there is no home folder either; then nothing is kept.
[[nodiscard]] std::filesystem::path config_folder();
/// $XDG_DATA_HOME/padchart or ~/.local/share/padchart: what the user made, like own patterns.
[[nodiscard]] std::filesystem::path data_folder();
/// $XDG_STATE_HOME/padchart or ~/.local/state/padchart: what can be lost without harm, like recent charts.
[[nodiscard]] std::filesystem::path state_folder();

} // namespace padchart::cli
