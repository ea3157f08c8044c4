#pragma once
// Where the tests find the repository's files. The one place that knows, so that a checkout elsewhere recompiles
// little.

#include <filesystem>

namespace padchart::tests {

/// The top of the repository.
[[nodiscard]] std::filesystem::path source_folder();

} // namespace padchart::tests
