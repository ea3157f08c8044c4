#include "scene/heat_page.hpp"

#include <algorithm>
#include <cassert>

#include <fmt/format.h>

#include "scene/page_writer.hpp"
#include "scene/sheet.hpp"
#include "scene/words.hpp"

namespace padchart::scene {

using geometry::Box;
using geometry::Vec2;

namespace {

constexpr double kMargin_mm = 10.0;
constexpr double kHead_mm = 12.0;
constexpr double kRow_mm = 6.5;
constexpr double kSample_mm = 7.0;
const Vec2 kRoom_mm{260.0, 180.0};

Box box_of(const document::Chart& chart, document::Side side) {
    Box board;
    if (chart.board.outline) board = geometry::bounds(*chart.board.outline);
    for (const document::Footprint& part : chart.parts) {
        board.add(geometry::bounds(document::extent_on_board(part)));
        for (const document::Pad& pad : part.pads)
            board.add(geometry::bounds(document::outline_on_board(part, pad)));
    }
    if (board.is_empty()) board.add(Vec2{});
    Box box;
    box.add(scene_from_board(board.min, side));
    box.add(scene_from_board(board.max, side));
    return box.grown(1.0);
}

/// Names that stand beside the board must be on the page, too. Scene mm.
Box with_texts(Box box, const Scene& scene, double px_per_mm) {
    for (const Text& text : scene.texts) {
        const double width = text_width_em(text.text, text.strong) * text.height_px / px_per_mm;
        const double left = text.align == Align::Centre ? width / 2.0 : text.align == Align::Right ? width : 0.0;
        const double half = text.height_px / px_per_mm;
        box.add(Box{text.at - Vec2{left, half}, text.at + Vec2{width - left, half}});
    }
    return box;
}

void add_sample(Scene& page, const Scene& shown, Role role, const Box& box) {
    const auto found =
        std::find_if(shown.items.begin(), shown.items.end(), [&](const Item& item) { return item.role == role; });
    if (found == shown.items.end()) return;
    const geometry::Ring ring{box.min, {box.max.x, box.min.y}, box.max, {box.min.x, box.max.y}};
    const double middle = box.centre().y;
    if (found->kind == Item::Kind::Fill) {
        page.add(role, Fill{{ring, {}}});
        if (const auto edge = edge_of(role)) page.add(*edge, Line{ring, true, Weight::Normal});
    } else if (found->kind == Item::Kind::Line) {
        page.add(role, Line{{{box.min.x, middle}, {box.max.x, middle}}, false, shown.lines[found->index].weight});
    } else if (found->kind == Item::Kind::Symbol) {
        page.add(role, Symbol{box.centre(), shown.symbols[found->index].sign, 8.0});
    }
}

/// Answers the y below the last row.
double add_legend(Scene& page, const Scene& shown, Vec2 at, double width_mm) {
    Vec2 pen = at;
    for (const LegendEntry& entry : legend_of(shown)) {
        if (!is_about_heat(entry.role)) continue;
        const double needs = kSample_mm + 2.5 + text_width_em(entry.text, false) * kTextHeight_mm;
        if (pen.x > at.x && pen.x + needs > at.x + width_mm) pen = {at.x, pen.y + kRow_mm};
        add_sample(page, shown, entry.role, {pen + Vec2{0, 1.0}, pen + Vec2{kSample_mm, kRow_mm - 1.5}});
        write(page, pen + Vec2{kSample_mm + 2.0, (kRow_mm - 0.5) / 2.0}, entry.text);
        pen.x += needs + 6.0;
    }
    return pen.y + kRow_mm;
}

/// Ten units of the board at most, as a bar of true length.
void add_scale_bar(Scene& page, Vec2 at, double scale, double board_width_mm) {
    const double length = board_width_mm > 20.0 ? 10.0 : board_width_mm > 8.0 ? 5.0 : 1.0;
    const Vec2 end = at + Vec2{length * scale, 0};
    draw_line(page, Role::ScaleBar, at, end, Weight::Bold);
    for (const Vec2 tip : {at, end})
        draw_line(page, Role::ScaleBar, tip - Vec2{0, 1.2}, tip + Vec2{0, 1.2}, Weight::Normal);
    write(page, end + Vec2{3.0, 0}, fmt::format("{:g} mm, enlarged {:g} times", length, scale));
}

double scale_for(const Box& box) {
    const double fits = standard_enlargement({box.width(), box.height()}, kRoom_mm);
    return std::max(1.0, fits);
}

} // namespace

Page heat_page(const document::Chart& chart, const Reports& reports, const std::string& title) {
    assert(reports.plan != nullptr);
    const document::Side side = reports.plan->side;
    Box box = box_of(chart, side);
    const double scale = scale_for(box);
    ViewOptions options;
    options.stage = Stage::Heat;
    options.seen_from = side;
    options.px_per_mm = scale / kPaperPx_mm;
    Scene shown = chart_scene(chart, reports, options);
    box = with_texts(box, shown, options.px_per_mm);
    Page page;
    page.bookmark = title;
    page.width_mm = std::max(box.width() * scale, 150.0) + 2 * kMargin_mm;
    const Vec2 corner{kMargin_mm, kMargin_mm + kHead_mm};
    PlacedScene picture{std::move(shown), scale, corner - box.min * scale};
    Scene frame;
    write(frame, {kMargin_mm, kMargin_mm + 2.5}, title, {Role::PageHeading, kHeadingHeight_mm});
    double y = corner.y + box.height() * scale + 4.0;
    add_scale_bar(frame, {kMargin_mm, y + 2.0}, scale, box.width());
    y = add_legend(frame, picture.scene, {kMargin_mm, y + 6.0}, page.width_mm - 2 * kMargin_mm) + 2.0;
    y = write_wrapped(frame, {kMargin_mm, y},
                      "An estimate, not a measurement: check with a thermocouple. Local codes, licensed practice and "
                      "the part maker's sheet decide.",
                      page.width_mm - 2 * kMargin_mm, {Role::PageCaution});
    page.height_mm = y + kMargin_mm;
    page.scenes.push_back(std::move(picture));
    page.scenes.push_back({std::move(frame)});
    return page;
}

} // namespace padchart::scene
