#include "svg/text_encoding.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <utility>

#include "svg/scan.hpp"

namespace padchart::svg {
namespace {

constexpr std::uint32_t kReplacement = 0xFFFD;

void append_utf8(std::string& out, std::uint32_t c) {
    const auto byte = [&](std::uint32_t value) { out.push_back(static_cast<char>(static_cast<unsigned char>(value))); };
    if (c < 0x80) {
        byte(c);
    } else if (c < 0x800) {
        byte(0xC0 | (c >> 6));
        byte(0x80 | (c & 0x3F));
    } else if (c < 0x10000) {
        byte(0xE0 | (c >> 12));
        byte(0x80 | ((c >> 6) & 0x3F));
        byte(0x80 | (c & 0x3F));
    } else {
        byte(0xF0 | (c >> 18));
        byte(0x80 | ((c >> 12) & 0x3F));
        byte(0x80 | ((c >> 6) & 0x3F));
        byte(0x80 | (c & 0x3F));
    }
}

std::uint32_t byte_at(std::string_view bytes, std::size_t i) {
    return static_cast<unsigned char>(bytes[i]);
}

/// Length of the well-formed UTF-8 character at `i`, or 0 (Unicode 15, table 3-7).
std::size_t utf8_length(std::string_view text, std::size_t i) {
    const std::uint32_t a = byte_at(text, i);
    if (a < 0x80) return 1;
    const std::size_t length = a >= 0xC2 && a <= 0xDF ? 2 : a >= 0xE0 && a <= 0xEF ? 3 : a >= 0xF0 && a <= 0xF4 ? 4 : 0;
    if (length == 0 || i + length > text.size()) return 0;
    const std::uint32_t b = byte_at(text, i + 1);
    if ((a == 0xE0 && b < 0xA0) || (a == 0xED && b > 0x9F) || (a == 0xF0 && b < 0x90) || (a == 0xF4 && b > 0x8F))
        return 0;
    for (std::size_t k = 1; k < length; ++k)
        if ((byte_at(text, i + k) & 0xC0U) != 0x80U) return 0;
    return length;
}

constexpr std::size_t kBlock = 64;

/// How many of the bytes from `i` on are ASCII and no NUL, a block at a time: nearly all of a drawing is.
std::size_t plain_run(std::string_view text, std::size_t i) {
    const std::size_t begin = i;
    for (; i + kBlock <= text.size(); i += kBlock) {
        std::uint8_t bad = 0;
        for (std::size_t k = i; k < i + kBlock; ++k) // plain enough to become vector instructions
            bad = static_cast<std::uint8_t>(bad | (static_cast<signed char>(text[k]) <= 0 ? 1 : 0));
        if (bad != 0) break;
    }
    return i - begin;
}

/// First byte that is no well-formed UTF-8, or npos. A NUL ends an XML text for the parser: not allowed either.
std::size_t first_flaw(std::string_view text) {
    for (std::size_t i = 0; i < text.size();) {
        i += plain_run(text, i);
        for (const std::size_t end = std::min(i + kBlock, text.size()); i < end;) {
            const std::size_t length = text[i] == '\0' ? 0 : utf8_length(text, i);
            if (length == 0) return i;
            i += length;
        }
    }
    return std::string_view::npos;
}

std::string mended_utf8(std::string_view text) {
    std::string out;
    out.reserve(text.size() + 16);
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t length = text[i] == '\0' ? 0 : utf8_length(text, i);
        if (length == 0)
            append_utf8(out, kReplacement);
        else
            out.append(text.substr(i, length));
        i += std::max<std::size_t>(length, 1);
    }
    return out;
}

std::string utf8_from_utf16(std::string_view bytes, bool big_endian) {
    std::string out;
    out.reserve(bytes.size());
    const auto unit_at = [&](std::size_t i) {
        const std::uint32_t first = byte_at(bytes, i);
        const std::uint32_t second = byte_at(bytes, i + 1);
        return big_endian ? first << 8 | second : second << 8 | first;
    };
    for (std::size_t i = 0; i + 1 < bytes.size(); i += 2) {
        std::uint32_t c = unit_at(i);
        if (c >= 0xD800 && c <= 0xDFFF) {
            const std::uint32_t low = i + 3 < bytes.size() ? unit_at(i + 2) : 0;
            const bool pair = c <= 0xDBFF && low >= 0xDC00 && low <= 0xDFFF;
            c = pair ? 0x10000 + ((c - 0xD800) << 10) + (low - 0xDC00) : kReplacement;
            if (pair) i += 2;
        }
        append_utf8(out, c == 0 ? kReplacement : c);
    }
    return out;
}

// What Windows-1252 puts where Latin-1 has control characters (0x80 to 0x9F), as the WHATWG Encoding Standard lists it.
constexpr std::array<std::uint16_t, 32> kWindows1252{0x20AC, 0x0081, 0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021,
                                                     0x02C6, 0x2030, 0x0160, 0x2039, 0x0152, 0x008D, 0x017D, 0x008F,
                                                     0x0090, 0x2018, 0x2019, 0x201C, 0x201D, 0x2022, 0x2013, 0x2014,
                                                     0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0x009D, 0x017E, 0x0178};

/// Browsers read a declared Latin-1 as Windows-1252 too.
std::string utf8_from_single_bytes(std::string_view bytes) {
    std::string out;
    out.reserve(bytes.size() + bytes.size() / 8);
    for (std::size_t i = 0; i < bytes.size(); ++i) {
        const std::uint32_t c = byte_at(bytes, i);
        append_utf8(out, c == 0 ? kReplacement : c >= 0x80 && c < 0xA0 ? kWindows1252[c - 0x80] : c);
    }
    return out;
}

std::string_view declared_encoding(std::string_view text) {
    if (!text.starts_with("<?xml")) return {};
    const std::string_view declaration = text.substr(0, std::min(text.find("?>"), text.size()));
    std::size_t at = declaration.find("encoding");
    if (at == std::string_view::npos) return {};
    at = declaration.find_first_of("\"'", at);
    if (at == std::string_view::npos) return {};
    const std::size_t end = declaration.find(declaration[at], at + 1);
    return end == std::string_view::npos ? std::string_view{} : declaration.substr(at + 1, end - at - 1);
}

bool is_one_of(std::string_view name, std::initializer_list<std::string_view> known) {
    return std::any_of(known.begin(), known.end(), [&](std::string_view k) { return equal_ignoring_case(name, k); });
}

DecodedText stored(std::string text) {
    DecodedText decoded;
    decoded.storage = std::move(text);
    return decoded;
}

DecodedText decode_bytes(std::string_view bytes) {
    const std::string_view name = declared_encoding(bytes);
    if (is_one_of(name, {"iso-8859-1", "iso_8859-1", "latin1", "l1", "windows-1252", "cp1252", "iso-8859-15"}))
        return stored(utf8_from_single_bytes(bytes));
    const bool unicode = name.empty() || is_one_of(name, {"utf-8", "utf8", "us-ascii", "ascii", "utf-16"});
    const std::size_t flaw = first_flaw(bytes);
    DecodedText decoded;
    if (flaw == std::string_view::npos) {
        decoded.text = bytes;
        if (unicode) return decoded;
        decoded.remarks.push_back(
            {Severity::Note, "encoding", "the encoding \"" + std::string(name) + "\" is read as UTF-8", "1:1", {}});
        return decoded;
    }
    if (!unicode) {
        decoded = stored(utf8_from_single_bytes(bytes));
        decoded.remarks.push_back({Severity::Warning,
                                   "encoding",
                                   "the encoding \"" + std::string(mended_utf8(name)) +
                                       "\" is not known: names with letters beyond a-z may be wrong; save as UTF-8",
                                   "1:1",
                                   {}});
        return decoded;
    }
    decoded = stored(mended_utf8(bytes));
    decoded.remarks.push_back({Severity::Warning,
                               "encoding",
                               "byte " + std::to_string(flaw + 1) + " is no UTF-8: such characters are read as U+FFFD",
                               "",
                               {}});
    return decoded;
}

/// Files of other kinds that bear the wrong name by their first bytes: what a person calls them; empty: none known.
std::string_view other_kind(std::string_view bytes) {
    using namespace std::string_view_literals;
    static constexpr std::array<std::pair<std::string_view, std::string_view>, 8> kKinds{
        {{"\xFF\xD8\xFF"sv, "a JPEG picture"},
         {"\x89PNG"sv, "a PNG picture"},
         {"GIF8"sv, "a GIF picture"},
         {"%PDF"sv, "a PDF"},
         {"%!PS"sv, "a PostScript drawing"},
         {"II*\0"sv, "a TIFF picture"},
         {"MM\0*"sv, "a TIFF picture"},
         {"PK\x03\x04"sv, "a packed folder"}}};
    for (const auto& [beginning, kind] : kKinds)
        if (bytes.starts_with(beginning)) return kind;
    return {};
}

/// A chart, or something else in braces, that bears the name of a drawing; empty: neither.
std::string words_on_braces(std::string_view bytes) {
    if (bytes.starts_with("\xEF\xBB\xBF")) bytes.remove_prefix(3);
    if (!trimmed(bytes).starts_with('{')) return "";
    constexpr std::size_t kHead = 4096; // the format is told first
    const std::string_view head = bytes.substr(0, kHead);
    const std::size_t format = head.find("\"format\"");
    if (format != std::string_view::npos && head.find("\"padchart\"", format) != std::string_view::npos)
        return "this is a Padchart chart, not a traced drawing: open it";
    return "this is a JSON file, not an SVG drawing; right would be the traced drawing, saved as plain SVG";
}

} // namespace

Result<DecodedText> decode(std::string_view bytes) {
    if (std::string words = words_on_braces(bytes); !words.empty()) return Error{std::move(words), ""};
    if (const std::string_view kind = other_kind(bytes); !kind.empty())
        return Error{"this is " + std::string(kind) +
                         ", not an SVG drawing; right would be the traced drawing, saved as plain SVG",
                     ""};
    if (bytes.starts_with("\x1F\x8B")) return Error{"the file is compressed: save it as plain SVG", ""};
    if (bytes.starts_with(std::string_view("\xFF\xFE\0\0", 4)) ||
        bytes.starts_with(std::string_view("\0\0\xFE\xFF", 4)))
        return Error{"the file is UTF-32: save it as UTF-8", ""};
    if (bytes.starts_with("\xEF\xBB\xBF")) bytes.remove_prefix(3);
    if (bytes.starts_with("\xFF\xFE")) return stored(utf8_from_utf16(bytes.substr(2), false));
    if (bytes.starts_with("\xFE\xFF")) return stored(utf8_from_utf16(bytes.substr(2), true));
    if (bytes.starts_with(std::string_view("<\0", 2))) return stored(utf8_from_utf16(bytes, false));
    if (bytes.starts_with(std::string_view("\0<", 2))) return stored(utf8_from_utf16(bytes, true));
    if (trimmed(bytes).empty()) return Error{"the file is empty", ""};
    return decode_bytes(bytes);
}

} // namespace padchart::svg
