#include "svg/viewport.hpp"

#include <algorithm>
#include <array>

#include "svg/scan.hpp"

namespace padchart::svg {
namespace {

std::optional<double> alignment_of(std::string_view word) {
    if (word == "Min") return 0.0;
    if (word == "Mid") return 0.5;
    if (word == "Max") return 1.0;
    return std::nullopt;
}

std::string_view next_word(Scanner& scanner) {
    skip_blanks(scanner);
    const char* const begin = scanner.at;
    while (!scanner.done() && !is_blank(*scanner.at))
        ++scanner.at;
    return {begin, static_cast<std::size_t>(scanner.at - begin)};
}

} // namespace

std::optional<ViewBox> view_box_of(std::string_view text) {
    Scanner scanner(trimmed(text));
    std::array<double, 4> v{};
    for (std::size_t i = 0; i < v.size(); ++i) {
        if (!read_number(scanner, v[i])) return std::nullopt;
        if (i < 3) skip_separator(scanner);
    }
    if (!scanner.done() || v[2] < 0.0 || v[3] < 0.0) return std::nullopt;
    return ViewBox{v[0], v[1], v[2], v[3]};
}

Fit fit_of(std::string_view text) {
    Scanner scanner(text);
    const std::string_view align = next_word(scanner);
    const std::string_view how = next_word(scanner);
    skip_blanks(scanner);
    if (!scanner.done() || (!how.empty() && how != "meet" && how != "slice")) return {};
    Fit fit;
    fit.slice = how == "slice";
    if (align == "none") {
        fit.stretch = true;
        return fit;
    }
    if (align.size() != 8 || align[0] != 'x' || align[4] != 'Y') return {};
    const auto x = alignment_of(align.substr(1, 3));
    const auto y = alignment_of(align.substr(5, 3));
    if (!x || !y) return {};
    fit.align_x = *x;
    fit.align_y = *y;
    return fit;
}

geometry::Affine fitted(const ViewBox& box, const Fit& fit, double width, double height) {
    double sx = width / box.width;
    double sy = height / box.height;
    double dx = 0.0;
    double dy = 0.0;
    if (!fit.stretch) {
        sx = sy = fit.slice ? std::max(sx, sy) : std::min(sx, sy);
        dx = (width - box.width * sx) * fit.align_x;
        dy = (height - box.height * sy) * fit.align_y;
    }
    return {sx, 0, 0, sy, dx - box.x * sx, dy - box.y * sy};
}

} // namespace padchart::svg
