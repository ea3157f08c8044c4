#include "cli/own_files.hpp"

#include "base/disk_file.hpp"
#include "paint/picture_file.hpp"
#include "json/chart_file.hpp"
#include "json/chart_in_page.hpp"
#include "json/pattern_file.hpp"

namespace padchart::cli {
namespace {

/// A page may take the place of a page: the chart it holds is somewhere else as well.
bool is_own_page(const std::filesystem::path& path) {
    const Result<std::string> text = read_file(path);
    return text && json::is_page(*text) && json::chart_bytes_in_page(*text).has_value();
}

/// Of a page the reader of charts takes the chart out; a page is none.
bool is_own_chart(const std::filesystem::path& path) {
    const Result<std::string> text = read_file(path);
    return text && !json::is_page(*text) && json::read_chart(*text).has_value();
}

} // namespace

bool is_foreign(const std::filesystem::path& path, OwnKind kind) {
    std::error_code fault;
    if (!std::filesystem::is_regular_file(path, fault)) return false;
    if (std::filesystem::file_size(path, fault) == 0) return false;
    switch (kind) {
    case OwnKind::Picture: return !paint::is_own_picture(path);
    case OwnKind::Page: return !is_own_page(path);
    case OwnKind::Chart: return !is_own_chart(path);
    case OwnKind::Pattern: return !json::load_pattern(path).has_value();
    }
    return true;
}

} // namespace padchart::cli
