#pragma once
// Files as whole texts: read at once, replaced at once.

#include <filesystem>
#include <stop_token>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace padchart {

/// Errors: cannot be opened or read, a folder, larger than 512 MB; `where` is the path.
[[nodiscard]] Result<std::string> read_file(const std::filesystem::path& path);

/// The old bytes or the new ones, whatever happens between: writes beside, syncs, renames, syncs the folder. Follows
/// symbolic links; keeps an existing file's mode. Errors: `where` is the path; the file beside is gone and the old one
/// as it was. A stop that is asked for before the new file takes the old one's place is an error too.
[[nodiscard]] Result<void> replace_file(const std::filesystem::path& path, std::string_view bytes,
                                        const std::stop_token& stop = {});

} // namespace padchart
