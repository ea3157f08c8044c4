#pragma once
// Tells whether a file is still what was read or written.

#include <cstddef>
#include <filesystem>
#include <optional>

#include "app/editor.hpp"

namespace padchart::app {

/// Nothing where the file cannot be read.
[[nodiscard]] std::optional<std::size_t> fingerprint_of(const std::filesystem::path& path);
/// That of its file which the chart in hand was read from or last written to; nothing where it has none.
[[nodiscard]] std::optional<std::size_t> fingerprint_known(const Editor& editor);

} // namespace padchart::app
