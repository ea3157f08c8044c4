#pragma once
// Files that are there already: this program's own may be written over by their like, those of somebody else never
// unasked. The command line and the window look in the same way.

#include <cstdint>
#include <filesystem>
#include <string_view>

namespace padchart::cli {

enum class OwnKind : std::uint8_t { Picture, Page, Chart, Pattern };

/// A file with something in it is there, and it is none of that kind which this program wrote: a trace or a photograph
/// where a picture should go, a page without a whole chart, a chart or a pattern that cannot be read.
[[nodiscard]] bool is_foreign(const std::filesystem::path& path, OwnKind kind);

/// What to say of it: the beginning of a sentence.
inline constexpr std::string_view kForeignPicture =
    "is there and Padchart did not write it; it may be a trace or a photograph";
inline constexpr std::string_view kForeignPage = "is there and is no page of a chart";

} // namespace padchart::cli
