#pragma once
// The index of a folder of charts as one page that works without a network: what each chart is, what needs attention,
// and where its page lies.

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.hpp"
#include "document/chart.hpp"

namespace padchart::page {

struct IndexLink {
    std::string label; ///< "page", "chart", "PDF"
    std::string path;  ///< relative to the index, with '/'
};

struct IndexEntry {
    std::string name;      ///< of the file below the folder
    document::Title title; ///< of a readable one
    std::size_t top_parts = 0;
    std::size_t bottom_parts = 0;
    std::size_t absent = 0;
    std::size_t unrecorded = 0; ///< could go back the wrong way round
    Diagnostics findings;
    std::vector<IndexLink> links;
    std::optional<std::string> error; ///< why it could not be read; then only name and links count
};

/// The whole file. `heading`: of the folder. Entries stand in the order given.
[[nodiscard]] std::string index_page(const std::string& heading, const std::vector<IndexEntry>& entries);

/// As a link asks for it: RFC 3986, unreserved characters and '/' stay, all other bytes become %XX.
[[nodiscard]] std::string link_path(std::string_view path);

} // namespace padchart::page
