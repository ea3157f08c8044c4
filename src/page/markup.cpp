#include "page/markup.hpp"

#include <fmt/format.h>

#include "scene/words.hpp"

namespace padchart::page {
namespace {

/// Length of the character that begins here; 0 where it is none (Unicode, table 3-7: well-formed UTF-8).
std::size_t character_at(std::string_view text, std::size_t i) {
    const auto byte = [&](std::size_t k) { return static_cast<unsigned char>(text[k]); };
    const unsigned char lead = byte(i);
    const std::size_t length = lead < 0x80                   ? 1
                               : lead >= 0xC2 && lead < 0xE0 ? 2
                               : (lead & 0xF0U) == 0xE0      ? 3
                               : lead >= 0xF0 && lead < 0xF5 ? 4
                                                             : 0;
    if (length == 0 || i + length > text.size()) return 0;
    for (std::size_t k = 1; k < length; ++k)
        if ((byte(i + k) & 0xC0U) != 0x80) return 0;
    if (lead == 0xE0 && byte(i + 1) < 0xA0) return 0;
    if (lead == 0xED && byte(i + 1) > 0x9F) return 0;
    if (lead == 0xF0 && byte(i + 1) < 0x90) return 0;
    if (lead == 0xF4 && byte(i + 1) > 0x8F) return 0;
    return length;
}

void add_ascii(std::string& out, char c) {
    switch (c) {
    case '&': out += "&amp;"; return;
    case '<': out += "&lt;"; return;
    case '>': out += "&gt;"; return;
    case '"': out += "&quot;"; return;
    case '\'': out += "&#39;"; return;
    default: break;
    }
    const auto byte = static_cast<unsigned char>(c);
    if ((byte >= 0x20 && byte != 0x7F) || c == '\n' || c == '\t') out += c;
}

} // namespace

std::string escaped(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t length = character_at(text, i);
        if (length == 1)
            add_ascii(out, text[i]);
        else
            out += length == 0 ? std::string_view("\xEF\xBF\xBD") : text.substr(i, length);
        i += length == 0 ? 1 : length;
    }
    return out;
}

std::string element(std::string_view tag, std::string_view text, std::string_view attributes) {
    if (text.empty()) return {};
    return fmt::format("<{}{}>{}</{}>", tag, attributes, escaped(text), tag);
}

std::string name_markup(std::string_view name) {
    return element("bdi", name);
}

std::string short_number(double value) {
    return scene::number(value, 3);
}

} // namespace padchart::page
