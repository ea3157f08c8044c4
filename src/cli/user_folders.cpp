#include "cli/user_folders.hpp"

#include <cstdlib>

namespace padchart::cli {
namespace {

namespace fs = std::filesystem;

fs::path absolute_from(const char* variable) {
    const char* value = std::getenv(variable);
    const fs::path path = value == nullptr ? "" : value;
    return path.is_absolute() ? path : fs::path();
}

fs::path folder(const char* variable, const char* below_home) {
    if (const fs::path base = absolute_from(variable); !base.empty()) return base / "padchart";
    const fs::path home = absolute_from("HOME");
    return home.empty() ? home : home / below_home / "padchart";
}

} // namespace

fs::path config_folder() {
    return folder("XDG_CONFIG_HOME", ".config");
}
fs::path data_folder() {
    return folder("XDG_DATA_HOME", ".local/share");
}
fs::path state_folder() {
    return folder("XDG_STATE_HOME", ".local/state");
}

} // namespace padchart::cli
