// Writing the sheet to hand over.

#include <filesystem>

#include "app/documents.hpp"
#include "paint/cairo_painter.hpp"
#include "scene/sheet.hpp"

namespace padchart::app {

Result<void> write_sheet(const Session& s, const std::string& path) {
    constexpr double kPictureDpi = 200;
    const std::string ending = std::filesystem::path(path).extension().string();
    // The reports must be of this very chart, also when the thread behind is late.
    const std::shared_ptr<const Computed> reports = compute(s.editor.snapshot());
    const scene::Document sheet =
        scene::make_sheet(s.editor.chart(), {&reports->clearance, &reports->fit}, scene::SheetOptions{});
    const paint::Theme& theme = paint::grey_print_theme();
    if (ending == ".pdf") return paint::write_pdf(sheet, theme, path);
    if (ending == ".svg") return paint::write_svg(sheet.pages.front(), theme, path);
    if (ending == ".png") return paint::write_png(sheet.pages.front(), theme, kPictureDpi, path);
    return Error{"The name must end with .pdf, .svg or .png.", path};
}

} // namespace padchart::app
