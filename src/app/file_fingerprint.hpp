#pragma once
// Tells whether a file is still what was read or written.

#include <cstddef>
#include <filesystem>
#include <optional>

namespace padchart::app {

/// Nothing where the file cannot be read.
[[nodiscard]] std::optional<std::size_t> fingerprint_of(const std::filesystem::path& path);

} // namespace padchart::app
