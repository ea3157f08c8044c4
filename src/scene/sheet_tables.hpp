#pragma once
// The written part of a sheet, section by section, before it is laid on paper or put into a page.

#include <string>
#include <vector>

#include "scene/page_writer.hpp"
#include "scene/sheet.hpp"

namespace padchart::scene {

struct Block {
    enum class Kind { Heading, Paragraph, Muted, Strong, Caution, Table };
    Kind kind = Kind::Paragraph;
    std::string text{};
    std::vector<Column> columns{};
    std::vector<Row> rows{};
};

/// In reading order.
struct Blocks {
    std::vector<Block> list;

    void heading(std::string text) { list.push_back({Block::Kind::Heading, std::move(text)}); }
    void paragraph(std::string text) { list.push_back({Block::Kind::Paragraph, std::move(text)}); }
    void muted(std::string text) { list.push_back({Block::Kind::Muted, std::move(text)}); }
    void strong(std::string text) { list.push_back({Block::Kind::Strong, std::move(text)}); }
    void caution(std::string text) { list.push_back({Block::Kind::Caution, std::move(text)}); }
    void table(std::vector<Column> columns, std::vector<Row> rows) {
        list.push_back({Block::Kind::Table, {}, std::move(columns), std::move(rows)});
    }
};

/// What comes before all else: whether all is as before, cautions, and what is not mapped.
[[nodiscard]] Blocks cautions_part(const document::Chart& chart, const SheetOptions& options);
/// The rest: plans, tables, notes, revisions.
[[nodiscard]] Blocks tables_part(const document::Chart& chart, const Reports& reports, const SheetOptions& options);
/// Both.
[[nodiscard]] Blocks written_part(const document::Chart& chart, const Reports& reports, const SheetOptions& options);

void write_blocks(PageWriter& writer, const Blocks& blocks);

} // namespace padchart::scene
