#include "paint/cairo_painter.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <memory>
#include <numbers>
#include <numeric>
#include <string_view>
#include <vector>

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <cairo.h>

#include "base/day.hpp"
#include "paint/cairo_text.hpp"
#include "paint/picture_file.hpp"
#include "scene/text_width.hpp"

namespace padchart::paint {

using geometry::Box;
using geometry::Vec2;
using scene::Item;
using scene::Role;
using scene::Scene;

namespace {

constexpr double kPointsPer_mm = 72.0 / 25.4;
constexpr double kLargestPicture_px = 16000.0;

struct Destroy {
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
    void operator()(cairo_t* context) const { cairo_destroy(context); }
};
using Surface = std::unique_ptr<cairo_surface_t, Destroy>;
using Context = std::unique_ptr<cairo_t, Destroy>;

void set_colour(cairo_t* context, Colour c) {
    cairo_set_source_rgba(context, c.r / 255.0, c.g / 255.0, c.b / 255.0, c.a / 255.0);
}

class Painter {
public:
    Painter(cairo_t* context, const Scene& scene, const Camera& camera, const Theme& theme)
        : context_(context), scene_(scene), camera_(camera), theme_(theme) {}

    void draw() {
        cairo_save(context_);
        if (camera_.clip) {
            const Box& clip = *camera_.clip;
            cairo_rectangle(context_, clip.min.x, clip.min.y, clip.width(), clip.height());
            cairo_clip(context_);
        }
        cairo_set_line_join(context_, CAIRO_LINE_JOIN_ROUND);
        for (const Item& item : scene_.items)
            if (is_in_view(item)) draw(item);
        cairo_restore(context_);
    }

private:
    [[nodiscard]] Vec2 out(Vec2 p) const { return camera_.offset + p * camera_.scale; }
    [[nodiscard]] double px(double value) const { return value * camera_.px; }

    /// Areas and lines beyond the clip would only make the file larger. Texts and signs are few and reach further than
    /// their place.
    [[nodiscard]] bool is_in_view(const Item& item) const {
        if (!camera_.clip) return true;
        Box box;
        if (item.kind == Item::Kind::Fill)
            box = geometry::bounds(scene_.fills[item.index].area.outer);
        else if (item.kind == Item::Kind::Line)
            box = geometry::bounds(scene_.lines[item.index].points);
        else
            return true;
        return !box.is_empty() && Box{out(box.min), out(box.max)}.grown(px(4)).overlaps(*camera_.clip);
    }

    void draw(const Item& item) {
        const Style& style = theme_.style(item.role);
        switch (item.kind) {
        case Item::Kind::Fill: fill(style, scene_.fills[item.index].area); return;
        case Item::Kind::Line: line(style, item.role, scene_.lines[item.index]); return;
        case Item::Kind::Text: text(style, scene_.texts[item.index]); return;
        case Item::Kind::Symbol: symbol(style, scene_.symbols[item.index]); return;
        }
    }

    void path(std::span<const Vec2> points, bool closed) {
        bool first = true;
        for (const Vec2 p : points) {
            const Vec2 q = out(p);
            if (first)
                cairo_move_to(context_, q.x, q.y);
            else
                cairo_line_to(context_, q.x, q.y);
            first = false;
        }
        if (closed && !first) cairo_close_path(context_);
    }

    void fill(const Style& style, const geometry::Polygon& area) {
        if (!style.fill && style.hatch.kind == HatchKind::None) return;
        cairo_new_path(context_);
        path(area.outer, true);
        for (const geometry::Ring& hole : area.holes)
            path(hole, true);
        cairo_set_fill_rule(context_, CAIRO_FILL_RULE_EVEN_ODD);
        if (style.fill) {
            set_colour(context_, *style.fill);
            cairo_fill_preserve(context_);
        }
        if (style.hatch.kind != HatchKind::None) hatch(style.hatch);
        cairo_new_path(context_);
    }

    /// Clip and parallel lines: a repeated tile would show its seams in some viewers.
    void hatch(const Hatch& hatch) {
        cairo_save(context_);
        cairo_clip(context_);
        Box box;
        cairo_clip_extents(context_, &box.min.x, &box.min.y, &box.max.x, &box.max.y);
        if (box.max.x > box.min.x) {
            set_colour(context_, hatch.colour);
            cairo_set_dash(context_, nullptr, 0, 0);
            cairo_set_line_width(context_, px(hatch.width_px));
            if (hatch.kind == HatchKind::Dots)
                dots(hatch, box);
            else
                slanted_lines(hatch, box);
        }
        cairo_restore(context_);
    }

    /// Lines x + y = c, rising to the right; the crossing ones x - y = c. Anchored to the medium, so that zones side by
    /// side join.
    void slanted_lines(const Hatch& hatch, const Box& box) {
        const double step = px(hatch.step_px) * std::numbers::sqrt2;
        for (const int i : steps(box.min.x + box.min.y, box.max.x + box.max.y, step)) {
            cairo_move_to(context_, i * step - box.min.y, box.min.y);
            cairo_line_to(context_, i * step - box.max.y, box.max.y);
        }
        if (hatch.kind == HatchKind::CrossLines)
            for (const int i : steps(box.min.x - box.max.y, box.max.x - box.min.y, step)) {
                cairo_move_to(context_, i * step + box.min.y, box.min.y);
                cairo_line_to(context_, i * step + box.max.y, box.max.y);
            }
        cairo_stroke(context_);
    }

    void dots(const Hatch& hatch, const Box& box) {
        const double step = px(hatch.step_px);
        const double radius = px(hatch.width_px) / 2.0;
        for (const int row : steps(box.min.y - radius, box.max.y + radius, step))
            for (const int column : steps(box.min.x - step, box.max.x + radius, step)) {
                const double shift = row % 2 == 0 ? 0.0 : 0.5;
                cairo_new_sub_path(context_);
                cairo_arc(context_, (column + shift) * step, row * step, radius, 0, 2.0 * std::numbers::pi);
            }
        cairo_fill(context_);
    }

    /// All i with from <= i * step <= to.
    static std::vector<int> steps(double from, double to, double step) {
        const int first = static_cast<int>(std::ceil(from / step));
        const int last = static_cast<int>(std::floor(to / step));
        std::vector<int> list(static_cast<std::size_t>(std::max(0, last - first + 1)));
        std::iota(list.begin(), list.end(), first);
        return list;
    }

    void stroke_as(const Style& style, double width_px) {
        if (!style.stroke) return;
        set_colour(context_, *style.stroke);
        cairo_set_line_width(context_, px(width_px));
        if (style.dash.on_px > 0) {
            const double dash[2] = {px(style.dash.on_px), px(style.dash.off_px)};
            cairo_set_dash(context_, dash, 2, 0);
        } else {
            cairo_set_dash(context_, nullptr, 0, 0);
        }
        cairo_stroke(context_);
    }

    void line(const Style& style, Role role, const scene::Line& line) {
        cairo_new_path(context_);
        path(line.points, line.closed);
        stroke_as(style, theme_.width_px(role, line.weight));
        cairo_new_path(context_);
    }

    void text(const Style& style, const scene::Text& text) {
        if (text.text.empty()) return;
        const FontWeight weight =
            text.strong && style.weight == FontWeight::Regular ? FontWeight::SemiBold : style.weight;
        const double height = text.height_mm > 0 ? text.height_mm * camera_.scale : px(text.height_px);
        const double width = text_width(context_, text.text, weight, height);
        if (text.fit_width_mm > 0 && width > text.fit_width_mm * camera_.scale) return;
        const Vec2 at = out(text.at);
        const double left = text.align == scene::Align::Left     ? at.x
                            : text.align == scene::Align::Centre ? at.x - width / 2.0
                                                                 : at.x - width;
        if (text.halo) plate(left, at.y, width, height);
        set_colour(context_, style.text);
        show_text(context_, text.text, weight, height, left, at.y + height * scene::kCapHeight_em / 2.0);
        cairo_new_path(context_);
    }

    void plate(double left, double middle, double width, double height) {
        const double pad = height * 0.25;
        const double radius = height * 0.25;
        const Box box{{left - pad, middle - height * 0.36 - pad}, {left + width + pad, middle + height * 0.36 + pad}};
        rounded(box, radius);
        set_colour(context_, theme_.palette.paper);
        cairo_fill(context_);
    }

    void rounded(const Box& box, double r) {
        using std::numbers::pi;
        cairo_new_path(context_);
        cairo_arc(context_, box.max.x - r, box.min.y + r, r, -pi / 2, 0);
        cairo_arc(context_, box.max.x - r, box.max.y - r, r, 0, pi / 2);
        cairo_arc(context_, box.min.x + r, box.max.y - r, r, pi / 2, pi);
        cairo_arc(context_, box.min.x + r, box.min.y + r, r, pi, 1.5 * pi);
        cairo_close_path(context_);
    }

    void symbol(const Style& style, const scene::Symbol& symbol) {
        const Vec2 at = out(symbol.at);
        const double r = px(symbol.radius_px);
        cairo_new_path(context_);
        switch (symbol.sign) {
        case scene::Sign::Query:
            disc(style, at, r);
            letter(style, "?", at, r);
            break;
        case scene::Sign::Tick:
            disc(style, at, r);
            tick(style, at, r);
            break;
        case scene::Sign::Exclamation:
            triangle(style, at, r);
            letter(style, "!", at + Vec2{0, r * 0.22}, r * 0.85);
            break;
        case scene::Sign::NoteSign: note(style, at, r); break;
        case scene::Sign::Handle: handle(style, at, r); break;
        case scene::Sign::Cross: cross(style, at, r); break;
        }
        cairo_new_path(context_);
    }

    void fill_and_edge(const Style& style, double edge_px) {
        if (style.fill) {
            set_colour(context_, *style.fill);
            cairo_fill_preserve(context_);
        }
        stroke_as(style, edge_px);
    }

    void disc(const Style& style, Vec2 at, double r) {
        cairo_arc(context_, at.x, at.y, r, 0, 2.0 * std::numbers::pi);
        fill_and_edge(style, 1.2);
    }

    void letter(const Style& style, const char* sign, Vec2 at, double r) {
        const double height = r * 1.35;
        const double width = text_width(context_, sign, FontWeight::Bold, height);
        set_colour(context_, style.text);
        show_text(context_, sign, FontWeight::Bold, height, at.x - width / 2.0,
                  at.y + height * scene::kCapHeight_em / 2.0);
    }

    void tick(const Style& style, Vec2 at, double r) {
        cairo_move_to(context_, at.x - r * 0.45, at.y + r * 0.02);
        cairo_line_to(context_, at.x - r * 0.1, at.y + r * 0.38);
        cairo_line_to(context_, at.x + r * 0.48, at.y - r * 0.36);
        set_colour(context_, style.text);
        cairo_set_dash(context_, nullptr, 0, 0);
        cairo_set_line_width(context_, r * 0.24);
        cairo_stroke(context_);
    }

    void triangle(const Style& style, Vec2 at, double r) {
        cairo_move_to(context_, at.x, at.y - r);
        cairo_line_to(context_, at.x + r * 1.05, at.y + r * 0.85);
        cairo_line_to(context_, at.x - r * 1.05, at.y + r * 0.85);
        cairo_close_path(context_);
        fill_and_edge(style, 1.2);
    }

    /// A sheet of paper with a folded corner and two lines of writing.
    void note(const Style& style, Vec2 at, double r) {
        const double w = r * 0.8;
        cairo_move_to(context_, at.x - w, at.y - r);
        cairo_line_to(context_, at.x + w * 0.3, at.y - r);
        cairo_line_to(context_, at.x + w, at.y - r * 0.4);
        cairo_line_to(context_, at.x + w, at.y + r);
        cairo_line_to(context_, at.x - w, at.y + r);
        cairo_close_path(context_);
        fill_and_edge(style, 1.2);
        for (const double y : {0.05, 0.5}) {
            cairo_move_to(context_, at.x - w * 0.5, at.y + r * y);
            cairo_line_to(context_, at.x + w * 0.5, at.y + r * y);
        }
        stroke_as(style, 1.0);
    }

    void handle(const Style& style, Vec2 at, double r) {
        cairo_rectangle(context_, at.x - r, at.y - r, 2 * r, 2 * r);
        fill_and_edge(style, 1.5);
    }

    void cross(const Style& style, Vec2 at, double r) {
        // Upright, as in the window: a slanted one is that of a land at fault.
        for (const Vec2 arm : {Vec2{r, 0}, Vec2{0, r}}) {
            cairo_move_to(context_, at.x - arm.x, at.y - arm.y);
            cairo_line_to(context_, at.x + arm.x, at.y + arm.y);
        }
        stroke_as(style, 1.6);
    }

    cairo_t* context_;
    const Scene& scene_;
    const Camera& camera_;
    const Theme& theme_;
};

void draw_picture(cairo_t* context, const scene::PlacedPicture& placed) {
    const scene::Picture& picture = placed.picture;
    if (picture.is_empty()) return;
    const Surface image(cairo_image_surface_create(CAIRO_FORMAT_RGB24, picture.width, picture.height));
    if (cairo_surface_status(image.get()) != CAIRO_STATUS_SUCCESS) return;
    unsigned char* rows = cairo_image_surface_get_data(image.get());
    const std::ptrdiff_t stride = cairo_image_surface_get_stride(image.get());
    const std::uint8_t* from = picture.rgb.data();
    for (int y = 0; y < picture.height; ++y)
        for (int x = 0; x < picture.width; ++x, from += 3) {
            const std::uint32_t pixel = std::uint32_t{from[0]} << 16U | std::uint32_t{from[1]} << 8U | from[2];
            std::memcpy(rows + y * stride + 4 * std::ptrdiff_t{x}, &pixel, sizeof pixel); // in the machine's own order
        }
    cairo_surface_mark_dirty(image.get());
    cairo_save(context);
    cairo_translate(context, placed.box.min.x, placed.box.min.y);
    cairo_scale(context, placed.box.width() / picture.width, placed.box.height() / picture.height);
    cairo_set_source_surface(context, image.get(), 0, 0);
    cairo_pattern_set_extend(cairo_get_source(context), CAIRO_EXTEND_PAD);
    cairo_rectangle(context, 0, 0, picture.width, picture.height);
    cairo_fill(context);
    cairo_restore(context);
}

Result<void> draw_page(cairo_t* context, const scene::Page& page, const Theme& theme) {
    // Paper is not painted: a sheet's ground is the sheet, and warm paper would cost toner.
    for (const scene::PlacedPicture& placed : page.pictures)
        draw_picture(context, placed);
    for (const scene::PlacedScene& placed : page.scenes) {
        const Camera camera{.scale = placed.scale, .offset = placed.at, .px = placed.px_mm, .clip = placed.clip};
        if (Result<void> done = draw(context, placed.scene, camera, theme); !done) return done;
    }
    return {};
}

Result<void> finished(const Surface& surface, cairo_t* context, const std::string& path) {
    const cairo_status_t drawn = cairo_status(context);
    cairo_surface_finish(surface.get());
    const cairo_status_t written = cairo_surface_status(surface.get());
    const cairo_status_t status = drawn != CAIRO_STATUS_SUCCESS ? drawn : written;
    if (status == CAIRO_STATUS_SUCCESS) return {};
    return Error{std::string("The file could not be written: ") + cairo_status_to_string(status) + ".", path};
}

Result<void> unwritable(const Surface& surface, const std::string& path) {
    const cairo_status_t status = cairo_surface_status(surface.get());
    if (status == CAIRO_STATUS_SUCCESS) return {};
    return Error{std::string("The file could not be written: ") + cairo_status_to_string(status) + ".", path};
}

void describe(cairo_surface_t* surface, const scene::Document& document) {
    // Anything but a day would make the library fall back on the clock.
    const std::string date = (is_day(document.day) ? document.day : "2000-01-01") + "T00:00:00Z";
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, document.title.c_str());
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_AUTHOR, document.author.c_str());
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_SUBJECT, document.subject.c_str());
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "Padchart");
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, date.c_str());
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_MOD_DATE, date.c_str());
}

int add_bookmark(cairo_surface_t* surface, int parent, const std::string& text, std::size_t page) {
    const std::string link = "page=" + std::to_string(page);
    return cairo_pdf_surface_add_outline(surface, parent, text.c_str(), link.c_str(), CAIRO_PDF_OUTLINE_FLAG_OPEN);
}

void add_bookmarks(cairo_surface_t* surface, const scene::Page& page, std::size_t number) {
    const int parent = add_bookmark(surface, CAIRO_PDF_OUTLINE_ROOT, page.bookmark, number);
    for (const std::string& section : page.sections)
        add_bookmark(surface, parent, section, number);
}

cairo_status_t append_bytes(void* text, const unsigned char* bytes, unsigned int count) {
    static_cast<std::string*>(text)->append(reinterpret_cast<const char*>(bytes), count);
    return CAIRO_STATUS_SUCCESS;
}

Result<void> write_image(cairo_surface_t* surface, const std::string& path, const std::stop_token& stop = {}) {
    std::string png;
    const cairo_status_t status = cairo_surface_write_to_png_stream(surface, append_bytes, &png);
    if (status == CAIRO_STATUS_SUCCESS) return replace_picture(path, marked_png(std::move(png)), stop);
    return Error{std::string("The picture could not be made: ") + cairo_status_to_string(status) + ".", path};
}

/// The library numbers its surfaces through the life of the program and writes that number into the file.
void name_root(std::string& svg) {
    static constexpr std::string_view kBefore = "<g id=\"surface";
    const std::size_t start = svg.find(kBefore);
    if (start == std::string::npos) return;
    const std::size_t digits = start + kBefore.size();
    svg.replace(digits, svg.find('"', digits) - digits, "-of-page");
}

void paint_ground(cairo_t* context, Colour colour) {
    set_colour(context, colour);
    cairo_paint(context);
}

} // namespace

Result<void> draw(cairo_t* context, const Scene& scene, const Camera& camera, const Theme& theme) {
    if (Result<void> fonts = fonts_are_there(); !fonts) return fonts;
    Painter(context, scene, camera, theme).draw();
    return {};
}

Result<double> drawn_width_em(const std::string& text, FontWeight weight) {
    if (Result<void> fonts = fonts_are_there(); !fonts) return fonts.error();
    const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_A8, 1, 1));
    const Context context(cairo_create(surface.get()));
    // Measured large, so that no rounding of a small size gets in.
    return text_width(context.get(), text, weight, 1000.0) / 1000.0;
}

Result<void> write_pdf(const scene::Document& document, const Theme& theme, const std::string& path,
                       const std::stop_token& stop, const PageSay& say) {
    if (document.pages.empty()) return Error{"There is no page to write.", path};
    std::string bytes;
    const Surface surface(cairo_pdf_surface_create_for_stream(append_bytes, &bytes, 1, 1));
    if (Result<void> open = unwritable(surface, path); !open) return open;
    describe(surface.get(), document);
    const Context context(cairo_create(surface.get()));
    std::size_t number = 0;
    for (const scene::Page& page : document.pages) {
        ++number;
        if (say) say(number);
        if (stop.stop_requested()) return Error{"given up, nothing written", path};
        cairo_pdf_surface_set_size(surface.get(), page.width_mm * kPointsPer_mm, page.height_mm * kPointsPer_mm);
        cairo_save(context.get());
        cairo_scale(context.get(), kPointsPer_mm, kPointsPer_mm);
        if (Result<void> drawn = draw_page(context.get(), page, theme); !drawn) return drawn;
        cairo_restore(context.get());
        add_bookmarks(surface.get(), page, number);
        cairo_show_page(context.get());
    }
    if (Result<void> done = finished(surface, context.get(), path); !done) return done;
    return replace_picture(path, bytes, stop);
}

Result<void> write_svg(const scene::Page& page, const Theme& theme, const std::string& path,
                       const std::stop_token& stop) {
    std::string text;
    const Surface surface(cairo_svg_surface_create_for_stream(append_bytes, &text, page.width_mm, page.height_mm));
    cairo_svg_surface_set_document_unit(surface.get(), CAIRO_SVG_UNIT_MM);
    const Context context(cairo_create(surface.get()));
    if (Result<void> drawn = draw_page(context.get(), page, theme); !drawn) return drawn;
    cairo_show_page(context.get());
    if (Result<void> done = finished(surface, context.get(), path); !done) return done;
    name_root(text);
    return replace_picture(path, marked_svg(std::move(text)), stop);
}

Result<void> write_png(const scene::Page& page, const Theme& theme, double dpi, const std::string& path,
                       const std::stop_token& stop) {
    const double scale = dpi / 25.4;
    const double width = std::round(page.width_mm * scale);
    const double height = std::round(page.height_mm * scale);
    if (width < 1 || height < 1 || width > kLargestPicture_px || height > kLargestPicture_px)
        return Error{"A picture must be 1 to 16,000 px wide and high; choose another resolution.", path};
    const Surface surface(
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, static_cast<int>(width), static_cast<int>(height)));
    const Context context(cairo_create(surface.get()));
    paint_ground(context.get(), rgb(0xFFFFFF));
    cairo_scale(context.get(), scale, scale);
    if (Result<void> drawn = draw_page(context.get(), page, theme); !drawn) return drawn;
    return write_image(surface.get(), path, stop);
}

Result<void> write_picture(const Scene& scene, const Camera& camera, int width_px, int height_px, const Theme& theme,
                           const std::string& path) {
    if (width_px > kLargestPicture_px || height_px > kLargestPicture_px)
        return Error{"A picture must be at most 16,000 px wide and high.", path};
    const Surface surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width_px, height_px));
    const Context context(cairo_create(surface.get()));
    paint_ground(context.get(), theme.palette.paper);
    if (Result<void> drawn = draw(context.get(), scene, camera, theme); !drawn) return drawn;
    return write_image(surface.get(), path);
}

Camera fit_camera(const Box& box, int width_px, int height_px, double margin_px) {
    const double room_x = std::max(1.0, width_px - 2.0 * margin_px);
    const double room_y = std::max(1.0, height_px - 2.0 * margin_px);
    const double scale = std::min(room_x / std::max(box.width(), 1e-6), room_y / std::max(box.height(), 1e-6));
    const Vec2 middle{width_px / 2.0, height_px / 2.0};
    return {.scale = scale, .offset = middle - box.centre() * scale};
}

} // namespace padchart::paint
