#include "app/file_fingerprint.hpp"

#include "base/disk_file.hpp"

namespace padchart::app {

std::optional<std::size_t> fingerprint_of(const std::filesystem::path& path) {
    const Result<std::string> bytes = read_file(path);
    if (!bytes) return std::nullopt;
    return std::hash<std::string>{}(*bytes);
}

std::optional<std::size_t> fingerprint_known(const Editor& editor) {
    if (editor.path().empty()) return std::nullopt;
    // What a saving would hold the file against. The editor in hand does not begin one: only its copy does.
    return Editor(editor).begin_saving(editor.path(), true).expected;
}

} // namespace padchart::app
