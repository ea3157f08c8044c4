#include "page/page_frame.hpp"

#include <algorithm>
#include <cassert>

#include <fmt/format.h>

#include "base/base64.hpp"
#include "base/embedded.hpp"
#include "base/sha256.hpp"
#include "page/markup.hpp"

namespace padchart::page {
namespace {

std::string source(std::string_view text) {
    return text.empty() ? "'none'" : "'sha256-" + to_base64(sha256(text)) + "'";
}

} // namespace

std::string_view page_asset(std::string_view path) {
    const auto files = embedded::page();
    const auto found =
        std::find_if(files.begin(), files.end(), [&](const embedded::EmbeddedFile& file) { return file.path == path; });
    assert(found != files.end());
    return found->bytes;
}

std::string page_head(const std::string& title, std::string_view style, std::string_view script, bool has_pictures) {
    return fmt::format("<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                       "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src {}; "
                       "style-src {}; {}base-uri 'none'; form-action 'none'\">\n"
                       "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
                       "<meta name=\"color-scheme\" content=\"light dark\">\n"
                       "<meta name=\"referrer\" content=\"no-referrer\">\n"
                       "<title>{}</title>\n<style>{}</style>\n</head>\n",
                       source(script), source(style), has_pictures ? "img-src data:; " : "", escaped(title), style);
}

std::string jpeg_source(std::string_view jpeg) {
    return "data:image/jpeg;base64," + to_base64(jpeg);
}

std::string board_in_words(const document::Title& title) {
    std::string text = title.board;
    if (!title.revision.empty()) text += (text.empty() ? "revision " : ", revision ") + title.revision;
    return text;
}

} // namespace padchart::page
