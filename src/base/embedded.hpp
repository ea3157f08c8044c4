#pragma once
// Files of assets/ that are compiled in, so that the program needs no data folder to compute.

#include <iterator>
#include <span>
#include <string_view>

namespace padchart::embedded {

struct EmbeddedFile {
    std::string_view path; ///< below assets/: "tables/alloys.tsv"
    std::string_view bytes;
};

/// Made by padchart_embed in CMakeLists.txt.
[[nodiscard]] std::span<const EmbeddedFile> tables();
[[nodiscard]] std::span<const EmbeddedFile> icons();
[[nodiscard]] std::span<const EmbeddedFile> page();
[[nodiscard]] std::span<const EmbeddedFile> demo();

} // namespace padchart::embedded
