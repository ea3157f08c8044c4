#pragma once
// The chart that uses every key of the format, and ways to break it.

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>

#include "support/places.hpp"

namespace padchart::json {

[[nodiscard]] inline std::string text_of_file(const std::string& path_in_source) {
    std::ifstream file(tests::source_folder() / path_in_source, std::ios::binary);
    if (!file) throw std::runtime_error("cannot open " + path_in_source);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

[[nodiscard]] inline std::string golden_text() {
    return text_of_file("tests/json/data/power_corner.chart.json");
}

/// The first `from` replaced; throws where there is none, so that no test passes by breaking nothing.
[[nodiscard]] inline std::string replaced(std::string text, std::string_view from, std::string_view to) {
    const std::size_t at = text.find(from);
    if (at == std::string::npos) throw std::runtime_error("the text does not hold " + std::string(from));
    return text.replace(at, from.size(), to);
}

} // namespace padchart::json
