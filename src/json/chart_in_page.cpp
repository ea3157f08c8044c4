#include "json/chart_in_page.hpp"

#include <optional>

#include <fmt/format.h>

#include "base/base64.hpp"
#include "base/sha256.hpp"

namespace padchart::json {
namespace {

constexpr std::size_t kLetters = 76;

std::string attribute_text(std::string_view text) {
    std::string out;
    for (const char c : text) {
        switch (c) {
        case '&': out += "&amp;"; break;
        case '<': out += "&lt;"; break;
        case '>': out += "&gt;"; break;
        case '"': out += "&quot;"; break;
        default: out += c;
        }
    }
    return out;
}

/// What stands in `name="..."` of a start tag; empty where it is not there.
std::string_view attribute(std::string_view tag, std::string_view name) {
    const std::string before = " " + std::string(name) + "=\"";
    const std::size_t at = tag.find(before);
    if (at == std::string_view::npos) return {};
    const std::size_t from = at + before.size();
    return tag.substr(from, tag.find('"', from) - from);
}

std::string tag_begin() {
    return fmt::format("<script type=\"application/octet-stream\" id=\"{}\"", kChartElement);
}

struct Element {
    std::string_view tag;
    std::string_view content;
};

/// Found by the beginning of its tag: nothing that a chart says can look like that, since on the page the "<" of all
/// its words is escaped.
std::optional<Element> element_in(std::string_view page) {
    const std::size_t open = page.find(tag_begin());
    const std::size_t close = page.find('>', open);
    if (open == std::string_view::npos || close == std::string_view::npos) return std::nullopt;
    const std::size_t end = page.find("</", close);
    return Element{page.substr(open, close - open),
                   page.substr(close + 1, end == std::string_view::npos ? end : end - close - 1)};
}

} // namespace

std::string chart_element(std::string_view bytes, std::string_view file_name) {
    return fmt::format("{} data-name=\"{}\" data-bytes=\"{}\" data-sha256=\"{}\">\n{}\n</script>\n", tag_begin(),
                       attribute_text(file_name), bytes.size(), sha256_hex(bytes), to_base64(bytes, kLetters));
}

bool is_page(std::string_view text) {
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    const std::size_t first = text.find_first_not_of(" \t\r\n");
    return first != std::string_view::npos && text[first] == '<';
}

Result<std::string> chart_bytes_in_page(std::string_view page) {
    const std::optional<Element> element = element_in(page);
    if (!element && page.find("<svg") != std::string_view::npos && page.find("<html") == std::string_view::npos)
        return Error{"this is a drawing; right would be a chart made of it by `padchart import`", {}};
    if (!element) return Error{"this page holds no chart; right would be a page written by `padchart sheet`", {}};
    std::optional<std::string> bytes = from_base64(element->content);
    const bool is_whole = bytes && attribute(element->tag, "data-bytes") == std::to_string(bytes->size()) &&
                          attribute(element->tag, "data-sha256") == sha256_hex(*bytes);
    if (!is_whole) return Error{"the chart in this page was cut or altered on its way; ask for the page again", {}};
    return std::move(*bytes);
}

} // namespace padchart::json
