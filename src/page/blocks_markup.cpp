#include "page/blocks_markup.hpp"

#include <fmt/format.h>

#include "page/markup.hpp"

namespace padchart::page {

using scene::Block;

namespace {

std::string cell(const scene::Column& column, const std::string& text) {
    return column.strong ? fmt::format("<th scope=\"row\">{}</th>", escaped(text))
                         : fmt::format("<td>{}</td>", escaped(text));
}

/// A wide table scrolls on its own; tabindex lets keys scroll it.
std::string table(const Block& block, const std::string& caption) {
    std::string out = fmt::format(
        "<div class=\"table\" tabindex=\"0\" role=\"region\" aria-label=\"{}\"><table><thead><tr>", escaped(caption));
    for (const scene::Column& column : block.columns)
        out += fmt::format("<th scope=\"col\">{}</th>", escaped(column.heading));
    out += "</tr></thead>\n<tbody>\n";
    for (const scene::Row& row : block.rows) {
        out += "<tr>";
        for (std::size_t i = 0; i < row.size(); ++i)
            out += cell(block.columns[i], row[i]);
        out += "</tr>\n";
    }
    return out + "</tbody></table></div>\n";
}

} // namespace

std::string blocks_markup(const scene::Blocks& blocks) {
    std::string out;
    std::string heading;
    for (const Block& block : blocks.list) {
        switch (block.kind) {
        case Block::Kind::Heading:
            if (!heading.empty()) out += "</section>\n";
            heading = block.text;
            out += "<section>" + element("h2", block.text) + '\n';
            break;
        case Block::Kind::Paragraph: out += element("p", block.text) + '\n'; break;
        case Block::Kind::Muted: out += element("p", block.text, " class=\"muted\"") + '\n'; break;
        case Block::Kind::Strong: out += element("p", block.text, " class=\"strong\"") + '\n'; break;
        case Block::Kind::Caution: out += element("p", block.text, " class=\"caution\"") + '\n'; break;
        case Block::Kind::Table: out += table(block, heading); break;
        }
    }
    return heading.empty() ? out : out + "</section>\n";
}

} // namespace padchart::page
