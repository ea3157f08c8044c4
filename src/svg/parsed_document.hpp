#pragma once
// A parsed drawing as a whole: its outermost element, its style sheets and its ids. Shared, unchanged, by all who go
// through parts of it at once.

#include <cstddef>
#include <mutex>
#include <string_view>
#include <unordered_map>

#include <pugixml.hpp>

#include "svg/report.hpp"
#include "svg/style_sheet.hpp"

namespace padchart::svg {

/// Behind the last "<style" of a text, prefixes allowed; 0: there is none. What only looks like one counts.
[[nodiscard]] std::size_t end_of_style_tags(std::string_view text);

class ParsedDocument {
public:
    /// Reads the style sheets; what of them is not understood is reported. `bytes`: length of the text; no style
    /// element is looked for at `styles_end` or after it.
    ParsedDocument(const pugi::xml_document& document, const pugi::xml_node& root, std::size_t bytes,
                   std::size_t styles_end, Report& report);

    [[nodiscard]] const pugi::xml_node& root() const { return root_; }
    [[nodiscard]] const StyleSheet& sheet() const { return sheet_; }
    [[nodiscard]] std::size_t bytes() const { return bytes_; }
    /// The first element of that id, or an empty node. The ids are gathered when first asked for: most drawings never
    /// are.
    [[nodiscard]] pugi::xml_node find_id(std::string_view id) const;

private:
    void collect_styles(std::size_t end, Report& report);
    void add_style(const pugi::xml_node& style, Report& report);
    void collect_ids() const;

    const pugi::xml_document& document_;
    pugi::xml_node root_;
    std::size_t bytes_;
    StyleSheet sheet_;
    mutable std::once_flag ids_collected_;
    mutable std::unordered_map<std::string_view, pugi::xml_node> ids_;
};

} // namespace padchart::svg
