#pragma once
// Text and tables flowing over pages. Page mm. Letters of running text have capitals of 2.5 mm (first size of ISO
// 3098).

#include <optional>
#include <string>
#include <vector>

#include "scene/page.hpp"
#include "scene/text_width.hpp"

namespace padchart::scene {

inline constexpr double kTextHeight_mm = 2.5 / kCapHeight_em + 0.001; ///< of the font: capitals of 2.5 mm
inline constexpr double kHeadingHeight_mm = 4.8;
inline constexpr double kLineStep_mm = 4.7;

/// The paper and the frame on it (ISO 5457: 20 mm at the left to file it by, 10 mm elsewhere).
struct PageFormat {
    double width_mm = 210.0;
    double height_mm = 297.0;

    [[nodiscard]] geometry::Box frame() const { return {{20.0, 10.0}, {width_mm - 10.0, height_mm - 10.0}}; }
    [[nodiscard]] Page blank(std::string bookmark) const;
};

struct TextStyle {
    Role role = Role::PageText;
    double height_mm = kTextHeight_mm;
    Align align = Align::Left;
    bool strong = false;
};

/// One line, its capitals centred on `at.y`.
void write(Scene& scene, geometry::Vec2 at, const std::string& text, TextStyle style = {});
/// As `write`, cut with "…" where it would be wider than `width_mm`.
void write_fitted(Scene& scene, geometry::Vec2 at, const std::string& text, double width_mm, TextStyle style = {});
/// Wrapped from `top` downwards; answers the y below the last line.
double write_wrapped(Scene& scene, geometry::Vec2 top_left, const std::string& text, double width_mm,
                     TextStyle style = {});
[[nodiscard]] double wrapped_height_mm(const std::string& text, double width_mm, TextStyle style = {});

void draw_line(Scene& scene, Role role, geometry::Vec2 from, geometry::Vec2 to, Weight weight = Weight::Thin);
void draw_box(Scene& scene, Role role, const geometry::Box& box, Weight weight = Weight::Thin);

struct Column {
    std::string heading;
    double share = 1.0; ///< of the width, relative to the other columns
    bool strong = false;
};
using Row = std::vector<std::string>;

/// Fills pages from the top; begins a new one where the next thing has no room. Requires: strings are UTF-8.
class PageWriter {
public:
    /// `foot_mm` is kept free at the bottom of every page, inside the frame.
    PageWriter(PageFormat format, double foot_mm) : format_(format), foot_mm_(foot_mm) {}

    /// A heading that stays with what follows; it also names the page in the list of bookmarks if it is its first.
    void heading(const std::string& text);
    void paragraph(const std::string& text, TextStyle style = {});
    /// A paragraph behind a warning sign.
    void caution(const std::string& text);
    /// Heading line again on every page. A row taller than a page goes on over the next ones.
    void table(const std::vector<Column>& columns, const std::vector<Row>& rows);
    void space(double mm) { y_ += mm; }
    /// A box of the page to draw into, which nothing is written over. Requires: it fits on one page.
    geometry::Box reserve(double height_mm);
    /// The page that is written to, and its own layer. Pictures go in before that layer.
    Page& page();
    Scene& scene();

    [[nodiscard]] std::vector<Page> finish() { return std::move(pages_); }

private:
    [[nodiscard]] double bottom() const { return format_.frame().max.y - foot_mm_; }
    [[nodiscard]] double left() const { return format_.frame().min.x + 4.0; }
    [[nodiscard]] double width() const { return format_.frame().width() - 8.0; }
    void make_room(double height_mm);
    void new_page();
    void table_head(const std::vector<Column>& columns, const std::vector<double>& widths);
    void table_row(const std::vector<Column>& columns, const std::vector<double>& widths, const Row& row);

    PageFormat format_;
    double foot_mm_ = 0.0;
    std::vector<Page> pages_;
    double y_ = 0.0;
    std::string last_heading_;
};

} // namespace padchart::scene
