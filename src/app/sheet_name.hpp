#pragma once
// What the file of a sheet may be called.

#include <optional>
#include <string>

#include "base/result.hpp"

namespace padchart::app {

/// Another ending than a sheet may have; nothing where it is good.
[[nodiscard]] std::optional<Error> fault_of_sheet_name(const std::string& path);

} // namespace padchart::app
