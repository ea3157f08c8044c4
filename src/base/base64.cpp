#include "base/base64.hpp"

#include <algorithm>
#include <cstdint>

namespace padchart {
namespace {

constexpr std::string_view kLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

bool is_blank(char c) {
    return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

} // namespace

std::string to_base64(std::string_view bytes, std::size_t line_length) {
    std::string out;
    std::size_t on_line = 0;
    const auto put = [&](char c) {
        if (line_length > 0 && on_line == line_length) {
            out += '\n';
            on_line = 0;
        }
        out += c;
        ++on_line;
    };
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        const std::size_t count = std::min<std::size_t>(3, bytes.size() - i);
        std::uint32_t group = 0;
        for (std::size_t k = 0; k < 3; ++k)
            group = group << 8U | (k < count ? static_cast<unsigned char>(bytes[i + k]) : 0U);
        for (std::size_t k = 0; k < 4; ++k)
            put(k <= count ? kLetters[group >> (18U - 6U * k) & 63U] : '=');
    }
    return out;
}

std::optional<std::string> from_base64(std::string_view text) {
    std::string out;
    std::uint32_t group = 0;
    std::size_t letters = 0;
    std::size_t padding = 0;
    for (const char c : text) {
        if (is_blank(c)) continue;
        const std::size_t value = c == '=' ? 0 : kLetters.find(c);
        if (value == std::string_view::npos || (padding > 0 && c != '=')) return std::nullopt;
        padding += c == '=' ? 1 : 0;
        group = group << 6U | static_cast<std::uint32_t>(value);
        if (++letters % 4 != 0) continue;
        if (padding > 2) return std::nullopt;
        for (std::size_t k = 0; k < 3 - padding; ++k)
            out += static_cast<char>(group >> (16U - 8U * k) & 255U);
        group = 0;
    }
    if (letters % 4 != 0) return std::nullopt;
    return out;
}

} // namespace padchart
