#pragma once
// A parsed drawing as a whole: its outermost element, its style sheets and its ids. Shared, unchanged, by all who go
// through parts of it at once.

#include <cstddef>
#include <mutex>
#include <string>
#include <string_view>
#include <unordered_map>

#include <pugixml.hpp>

#include "svg/report.hpp"
#include "svg/style_sheet.hpp"

namespace padchart::svg {

/// Behind the last "<style" and the last "<title" of a text, prefixes allowed; 0: there is none. What only looks like
/// one counts. To look for either among all the elements would cost more than to look for them in the text.
struct TagEnds {
    std::size_t styles = 0;
    std::size_t titles = 0;
};
[[nodiscard]] TagEnds ends_of_tags(std::string_view text);

class ParsedDocument {
public:
    /// Reads the style sheets; what of them is not understood is reported. `bytes`: length of the text; no style or
    /// title element is looked for at its end or after it.
    ParsedDocument(const pugi::xml_document& document, const pugi::xml_node& root, std::size_t bytes, TagEnds ends,
                   Report& report);

    [[nodiscard]] const pugi::xml_node& root() const { return root_; }
    [[nodiscard]] const StyleSheet& sheet() const { return sheet_; }
    [[nodiscard]] std::size_t bytes() const { return bytes_; }
    /// The text of the element's first title, or nothing.
    [[nodiscard]] std::string title_of(const pugi::xml_node& element) const;
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
    TagEnds ends_;
    StyleSheet sheet_;
    mutable std::once_flag ids_collected_;
    mutable std::unordered_map<std::string_view, pugi::xml_node> ids_;
};

} // namespace padchart::svg
