#pragma once
// Short lists of lines that the program remembers between two starts: recent charts, hints that were read. Losing one
// is no harm, so that nothing here reports an error.

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace padchart::app {

/// The lines of `name` below the user's state folder (cli/user_folders.hpp); none where there is no such file.
[[nodiscard]] std::vector<std::string> remembered(std::string_view name);
/// Puts the line first, once, and keeps at most `most` of them. A line with a line break in it is left out.
void remember(std::string_view name, const std::string& line, std::size_t most);

/// Charts opened or saved, the last one first; those that are gone are left out.
[[nodiscard]] std::vector<std::filesystem::path> recent_charts();
void remember_chart(const std::filesystem::path& path);

} // namespace padchart::app
