#pragma once
// A number with the thing it counts, as people say it: "1 part", "2 parts".

#include <cstddef>
#include <string>
#include <string_view>

namespace padchart {

/// `what` in the singular; its plural takes an s.
[[nodiscard]] inline std::string counted(std::size_t count, std::string_view what) {
    return std::to_string(count) + ' ' + std::string(what) + (count == 1 ? "" : "s");
}

} // namespace padchart
