#pragma once
// Folders and names for the file dialog.

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace padchart::app {

struct FileEntry {
    std::string name;
    bool is_folder = false;
};

/// "/a/b/na" is folder "/a/b/" and beginning "na".
struct SplitPath {
    std::string folder;
    std::string beginning;
};
[[nodiscard]] SplitPath split(const std::string& path);

/// Folders first, then files with one of the endings, by name; what begins with a point is left out unless the
/// beginning does so too. A folder that cannot be read is empty.
[[nodiscard]] std::vector<FileEntry> list_files(const std::string& folder, std::string_view beginning,
                                                std::span<const std::string_view> endings);

/// The one ending that the path already has: who writes a PDF looks for others of its kind. All of them where it has
/// none.
[[nodiscard]] std::vector<std::string_view> endings_meant(std::string_view path,
                                                          std::span<const std::string_view> endings);

/// The path as far as it is certain: what all entries that begin so have in common.
[[nodiscard]] std::string completed(const std::string& path, std::span<const std::string_view> endings);

/// The one entry that begins so, with a "/" where it is a folder; nothing where there is none, or more than one.
[[nodiscard]] std::optional<std::string> only_match(const std::string& path, std::span<const std::string_view> endings);

/// "~/x" with the user's own folder.
[[nodiscard]] std::string expanded(const std::string& path);

} // namespace padchart::app
