#include "app/file_fingerprint.hpp"

#include "base/disk_file.hpp"

namespace padchart::app {

std::optional<std::size_t> fingerprint_of(const std::filesystem::path& path) {
    const Result<std::string> bytes = read_file(path);
    if (!bytes) return std::nullopt;
    return std::hash<std::string>{}(*bytes);
}

} // namespace padchart::app
