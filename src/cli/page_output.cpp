#include "cli/page_output.hpp"

#include <fmt/format.h>

#include <ostream>

#include "base/counted.hpp"
#include "cli/own_files.hpp"
#include "cli/shared.hpp"
#include "paint/cairo_painter.hpp"
#include "paint/picture_file.hpp"

namespace padchart::cli {
namespace {

/// "card.png" for the first page, "card-2.png" for the second.
std::string page_path(const std::filesystem::path& output, std::size_t page) {
    if (page == 0) return output.string();
    const std::string name = fmt::format("{}-{}{}", output.stem().string(), page + 1, output.extension().string());
    return (output.parent_path() / name).string();
}

Result<void> write_pages(const scene::Document& document, const paint::Theme& theme, const PageOutput& output,
                         Streams streams) {
    const bool is_svg = lower_case(output.path.extension().string()) == ".svg";
    for (std::size_t i = 0; i < document.pages.size(); ++i)
        if (const auto refusal = would_lose_work(page_path(output.path, i), output.force)) return *refusal;
    for (std::size_t i = 0; i < document.pages.size(); ++i) {
        const std::string path = page_path(output.path, i);
        Result<void> done = is_svg ? paint::write_svg(document.pages[i], theme, path)
                                   : paint::write_png(document.pages[i], theme, output.dpi, path);
        if (!done) return done;
        streams.out << path << '\n';
    }
    for (std::size_t i = document.pages.size(); paint::is_own_picture(page_path(output.path, i)); ++i)
        streams.err << "note: " << page_path(output.path, i) << " is a page of an earlier, longer one\n";
    return {};
}

} // namespace

namespace {

std::optional<Error> refusal(std::string_view what, const std::filesystem::path& path) {
    return Error{std::string(what) + ". Choose another name or say --force", path.string()};
}

} // namespace

std::optional<Error> would_lose_work(const std::filesystem::path& path, bool force) {
    if (force || !is_foreign(path, OwnKind::Picture)) return std::nullopt;
    return refusal(kForeignPicture, path);
}

std::optional<Error> would_lose_page(const std::filesystem::path& path, bool force) {
    if (force || !is_foreign(path, OwnKind::Page)) return std::nullopt;
    return refusal(kForeignPage, path);
}

Result<void> write_document(const scene::Document& document, const paint::Theme& theme, const PageOutput& output,
                            Streams streams) {
    const std::string extension = lower_case(output.path.extension().string());
    if (!(output.dpi >= 20.0 && output.dpi <= 1200.0))
        return Error{"the resolution must lie between 20 and 1200 dpi", "--dpi"};
    if (extension == ".svg" || extension == ".png") return write_pages(document, theme, output, streams);
    if (extension != ".pdf")
        return Error{"the ending \"" + output.path.extension().string() + "\" is not one of pdf, svg, png",
                     output.path.string()};
    if (const auto refusal = would_lose_work(output.path, output.force)) return *refusal;
    Result<void> done = paint::write_pdf(document, theme, output.path.string());
    if (done) streams.out << fmt::format("{}, {}\n", output.path.string(), counted(document.pages.size(), "page"));
    return done;
}

} // namespace padchart::cli
