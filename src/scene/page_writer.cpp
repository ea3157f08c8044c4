#include "scene/page_writer.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

namespace padchart::scene {

using geometry::Vec2;

namespace {

constexpr double kCellPad_mm = 1.2;
constexpr double kRowPad_mm = 1.0;

bool is_strong(const TextStyle& style) {
    return style.strong || style.role == Role::PageTextStrong || style.role == Role::PageHeading ||
           style.role == Role::PageCaution;
}

std::vector<std::string> lines_of(const std::string& text, double width_mm, const TextStyle& style) {
    return wrapped(text, width_mm / style.height_mm, is_strong(style));
}

double step_of(const TextStyle& style) {
    return kLineStep_mm * style.height_mm / kTextHeight_mm;
}

TextStyle style_of(const Column& column) {
    return {.role = column.strong ? Role::PageTextStrong : Role::PageText, .strong = column.strong};
}

/// The widest that columns of at least these widths may be taken for, so that all of them find room together: narrow
/// ones keep what they need, and the widest share what is left.
double common_limit(std::vector<double> least, double room) {
    std::sort(least.begin(), least.end());
    for (std::size_t i = 0; i < least.size(); ++i) {
        const double each = room / static_cast<double>(least.size() - i);
        if (least[i] > each) return each;
        room -= least[i];
    }
    return least.back();
}

/// The shares, but no column narrower than its widest word: the others give way, as long as they can.
std::vector<double> widths_of(const std::vector<Column>& columns, const std::vector<Row>& rows, double width) {
    std::vector<double> least(columns.size());
    double shares = 0.0;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        shares += columns[i].share;
        double word = widest_word_em(columns[i].heading, false);
        for (const Row& row : rows)
            word = std::max(word, widest_word_em(row[i], columns[i].strong));
        least[i] = std::min(word * kTextHeight_mm + 2 * kCellPad_mm + 0.01, width / 2.0);
    }
    const double limit = common_limit(least, width);
    for (double& width_mm : least)
        width_mm = std::min(width_mm, limit);
    std::vector<double> widths(columns.size(), 0.0);
    std::vector<bool> is_fixed(columns.size(), false);
    double room = width;
    for (bool again = true; again;) {
        again = false;
        for (std::size_t i = 0; i < columns.size(); ++i) {
            if (is_fixed[i]) continue;
            widths[i] = room * columns[i].share / shares;
            if (widths[i] >= least[i] || room <= least[i]) continue;
            widths[i] = least[i];
            is_fixed[i] = true;
            room -= least[i];
            shares -= columns[i].share;
            again = true;
            break;
        }
    }
    return widths;
}

} // namespace

Page PageFormat::blank(std::string bookmark) const {
    Page page{.width_mm = width_mm, .height_mm = height_mm, .bookmark = std::move(bookmark)};
    page.scenes.emplace_back();
    return page;
}

void write(Scene& scene, Vec2 at, const std::string& text, TextStyle style) {
    if (text.empty()) return;
    scene.add(
        style.role,
        Text{.at = at, .text = text, .align = style.align, .height_mm = style.height_mm, .strong = is_strong(style)});
}

void write_fitted(Scene& scene, Vec2 at, const std::string& text, double width_mm, TextStyle style) {
    write(scene, at, shortened(text, width_mm / style.height_mm, is_strong(style)), style);
}

double write_wrapped(Scene& scene, Vec2 top_left, const std::string& text, double width_mm, TextStyle style) {
    double y = top_left.y;
    for (const std::string& line : lines_of(text, width_mm, style)) {
        write(scene, {top_left.x, y + step_of(style) / 2.0}, line, style);
        y += step_of(style);
    }
    return y;
}

double wrapped_height_mm(const std::string& text, double width_mm, TextStyle style) {
    return static_cast<double>(lines_of(text, width_mm, style).size()) * step_of(style);
}

void draw_line(Scene& scene, Role role, Vec2 from, Vec2 to, Weight weight) {
    scene.add(role, Line{{from, to}, false, weight});
}

void draw_box(Scene& scene, Role role, const geometry::Box& box, Weight weight) {
    scene.add(role, Line{{box.min, {box.max.x, box.min.y}, box.max, {box.min.x, box.max.y}}, true, weight});
}

Page& PageWriter::page() {
    if (pages_.empty()) new_page();
    return pages_.back();
}

Scene& PageWriter::scene() {
    return page().scenes.back().scene;
}

void PageWriter::new_page() {
    pages_.push_back(format_.blank(last_heading_.empty() ? "Tables" : last_heading_ + ", continued"));
    y_ = format_.frame().min.y + 4.0;
}

void PageWriter::make_room(double height_mm) {
    if (pages_.empty() || y_ + height_mm > bottom()) new_page();
}

void PageWriter::heading(const std::string& text) {
    const bool is_first = pages_.empty() || y_ + 26.0 > bottom();
    make_room(26.0);
    if (is_first)
        pages_.back().bookmark = text;
    else
        pages_.back().sections.push_back(text);
    if (!is_first) y_ += 4.0;
    write(scene(), {left(), y_ + 3.5}, text, {.role = Role::PageHeading, .height_mm = kHeadingHeight_mm});
    y_ += 8.0;
    last_heading_ = text;
}

void PageWriter::paragraph(const std::string& text, TextStyle style) {
    for (const std::string& line : lines_of(text, width(), style)) {
        make_room(step_of(style));
        write(scene(), {left(), y_ + step_of(style) / 2.0}, line, style);
        y_ += step_of(style);
    }
    y_ += 1.0;
}

void PageWriter::caution(const std::string& text) {
    constexpr double kIndent = 8.0;
    const double height = wrapped_height_mm(text, width() - kIndent);
    make_room(height + 1.0);
    scene().add(Role::BadgeWarning, Symbol{{left() + 2.6, y_ + kLineStep_mm / 2.0}, Sign::Exclamation, 8.0});
    write_wrapped(scene(), {left() + kIndent, y_}, text, width() - kIndent);
    y_ += height + 1.2;
}

geometry::Box PageWriter::reserve(double height_mm) {
    make_room(height_mm);
    const geometry::Box box{{left(), y_}, {left() + width(), y_ + height_mm}};
    y_ += height_mm;
    return box;
}

void PageWriter::table_head(const std::vector<Column>& columns, const std::vector<double>& widths) {
    double x = left();
    for (std::size_t i = 0; i < columns.size(); ++i) {
        write_fitted(scene(), {x + kCellPad_mm, y_ + kLineStep_mm / 2.0}, columns[i].heading, widths[i] - kCellPad_mm,
                     {.role = Role::PageMuted, .height_mm = kTextHeight_mm});
        x += widths[i];
    }
    y_ += kLineStep_mm + 0.6;
    draw_line(scene(), Role::PageInk, {left(), y_}, {left() + width(), y_}, Weight::Normal);
}

void PageWriter::table_row(const std::vector<Column>& columns, const std::vector<double>& widths, const Row& row) {
    std::vector<std::vector<std::string>> cells;
    std::size_t lines = 1;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        cells.push_back(lines_of(row[i], widths[i] - 2 * kCellPad_mm, style_of(columns[i])));
        lines = std::max(lines, cells.back().size());
    }
    if (y_ + static_cast<double>(lines) * kLineStep_mm + kRowPad_mm > bottom()) {
        new_page();
        table_head(columns, widths);
    }
    for (std::size_t from = 0; from < lines;) {
        if (from > 0) {
            new_page();
            table_head(columns, widths);
        }
        const double room = std::max(1.0, std::floor((bottom() - y_ - kRowPad_mm) / kLineStep_mm));
        const std::size_t to = std::min(lines, from + static_cast<std::size_t>(room));
        double x = left();
        for (std::size_t i = 0; i < columns.size(); ++i) { // cell by cell: so the file is searched and read
            double y = y_ + (kRowPad_mm + kLineStep_mm) / 2.0;
            for (std::size_t line = from; line < std::min(to, cells[i].size()); ++line, y += kLineStep_mm)
                write(scene(), {x + kCellPad_mm, y}, cells[i][line], style_of(columns[i]));
            x += widths[i];
        }
        y_ += static_cast<double>(to - from) * kLineStep_mm + kRowPad_mm;
        from = to;
    }
    draw_line(scene(), Role::PageRule, {left(), y_}, {left() + width(), y_}, Weight::Thin);
}

void PageWriter::table(const std::vector<Column>& columns, const std::vector<Row>& rows) {
    const std::vector<double> widths = widths_of(columns, rows, width());
    make_room(3.0 * kLineStep_mm);
    table_head(columns, widths);
    for (const Row& row : rows) {
        assert(row.size() == columns.size());
        table_row(columns, widths, row);
    }
    y_ += 2.0;
}

} // namespace padchart::scene
