#include "app/files.hpp"

#include <algorithm>
#include <cstdlib>
#include <filesystem>

namespace padchart::app {
namespace {

namespace fs = std::filesystem;

bool wanted(const std::string& name, std::span<const std::string_view> endings) {
    return std::any_of(endings.begin(), endings.end(), [&](std::string_view ending) { return name.ends_with(ending); });
}

} // namespace

SplitPath split(const std::string& path) {
    const std::size_t slash = path.rfind('/');
    if (slash == std::string::npos) return {"", path};
    return {path.substr(0, slash + 1), path.substr(slash + 1)};
}

std::vector<FileEntry> list_files(const std::string& folder, std::string_view beginning,
                                  std::span<const std::string_view> endings) {
    std::vector<FileEntry> entries;
    std::error_code error;
    const bool show_hidden = beginning.starts_with('.');
    fs::directory_iterator at(folder.empty() ? fs::path(".") : fs::path(folder), error);
    for (; !error && at != fs::directory_iterator(); at.increment(error)) {
        const std::string name = at->path().filename().string();
        std::error_code unreadable;
        const bool is_folder = at->is_directory(unreadable);
        if (!name.starts_with(beginning) || (name.starts_with('.') && !show_hidden)) continue;
        if (is_folder || wanted(name, endings)) entries.push_back({name, is_folder});
    }
    std::sort(entries.begin(), entries.end(), [](const FileEntry& a, const FileEntry& b) {
        return a.is_folder != b.is_folder ? a.is_folder : a.name < b.name;
    });
    return entries;
}

std::vector<std::string_view> endings_meant(std::string_view path, std::span<const std::string_view> endings) {
    for (const std::string_view ending : endings)
        if (path.ends_with(ending)) return {ending};
    return {endings.begin(), endings.end()};
}

std::string completed(const std::string& path, std::span<const std::string_view> endings) {
    const SplitPath parts = split(path);
    const std::vector<FileEntry> entries = list_files(parts.folder, parts.beginning, endings);
    if (entries.empty()) return path;
    std::string common = entries.front().name;
    for (const FileEntry& entry : entries) {
        const auto end = std::mismatch(common.begin(), common.end(), entry.name.begin(), entry.name.end());
        common.erase(end.first, common.end());
    }
    const bool is_whole_folder = entries.size() == 1 && entries.front().is_folder;
    return parts.folder + common + (is_whole_folder ? "/" : "");
}

std::optional<std::string> only_match(const std::string& path, std::span<const std::string_view> endings) {
    const SplitPath parts = split(path);
    if (parts.beginning.empty() || list_files(parts.folder, parts.beginning, endings).size() != 1) return std::nullopt;
    return completed(path, endings);
}

std::string expanded(const std::string& path) {
    const char* home = std::getenv("HOME");
    if (home == nullptr || !path.starts_with("~/")) return path;
    return home + path.substr(1);
}

} // namespace padchart::app
