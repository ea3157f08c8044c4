#pragma once
// What all pages share: the head with its content policy, and the files they are made of. Private to the pages.

#include <string>
#include <string_view>

#include "document/chart.hpp"

namespace padchart::page {

/// A file of assets/: "page/page.css". Requires: there is one.
[[nodiscard]] std::string_view page_asset(std::string_view path);

/// From the document type to the end of the head. The policy allows this very style and script and nothing else; an
/// empty script: none at all. `has_pictures`: also pictures that stand in the page itself.
[[nodiscard]] std::string page_head(const std::string& title, std::string_view style, std::string_view script,
                                    bool has_pictures = false);

/// What an img or image element names as its source.
[[nodiscard]] std::string jpeg_source(std::string_view jpeg);

/// "River logger, revision C".
[[nodiscard]] std::string board_in_words(const document::Title& title);

} // namespace padchart::page
