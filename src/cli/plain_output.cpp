#include "cli/plain_output.hpp"

#include <string_view>
#include <utility>

namespace padchart::cli {
namespace {

constexpr std::string_view kReplacement = "\xEF\xBF\xBD"; // U+FFFD

bool is_control(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return (byte < 0x20U && c != '\n' && c != '\t') || byte == 0x7FU;
}

/// What the bytes are the beginning of, or all of.
enum class Piece { Open, Hidden, Plain };

bool is_between(char c, unsigned low, unsigned high) {
    const auto byte = static_cast<unsigned char>(c);
    return byte >= low && byte <= high;
}

/// C1: C2 80 to C2 9F. U+202A to U+202E: E2 80 AA to E2 80 AE. U+2066 to U+2069: E2 81 A6 to E2 81 A9.
Piece piece_of(std::string_view bytes) {
    if (bytes == "\r" || bytes == "\xC2" || bytes == "\xE2" || bytes == "\xE2\x80" || bytes == "\xE2\x81")
        return Piece::Open;
    if (bytes.size() == 2 && bytes[0] == '\xC2' && is_between(bytes[1], 0x80, 0x9F)) return Piece::Hidden;
    if (bytes.size() != 3 || bytes[0] != '\xE2') return Piece::Plain;
    const bool turns =
        bytes[1] == '\x80' ? is_between(bytes[2], 0xAA, 0xAE) : bytes[1] == '\x81' && is_between(bytes[2], 0xA6, 0xA9);
    return turns ? Piece::Hidden : Piece::Plain;
}

} // namespace

PlainBuffer::int_type PlainBuffer::overflow(int_type c) {
    if (!traits_type::eq_int_type(c, traits_type::eof())) {
        put(traits_type::to_char_type(c));
        if (traits_type::to_char_type(c) == '\n') hand_on();
    }
    return to_ ? traits_type::not_eof(c) : traits_type::eof();
}

std::streamsize PlainBuffer::xsputn(const char* text, std::streamsize count) {
    for (std::streamsize i = 0; i < count; ++i)
        put(text[i]);
    hand_on();
    return to_ ? count : 0;
}

int PlainBuffer::sync() {
    hand_on();
    to_.flush();
    return to_ ? 0 : -1;
}

void PlainBuffer::hand_on() {
    to_ << std::exchange(ready_, {});
}

void PlainBuffer::settle() {
    const std::string held = std::exchange(held_, {});
    ready_ += held == "\r" ? kReplacement : std::string_view(held);
}

void PlainBuffer::put(char c) {
    if (held_ == "\r" && c == '\n') {
        held_.clear();
        ready_ += "\r\n";
        return;
    }
    const std::string joined = held_ + c;
    switch (held_ == "\r" ? Piece::Plain : piece_of(joined)) {
    case Piece::Open: held_ = joined; return;
    case Piece::Hidden:
        held_.clear();
        ready_ += kReplacement;
        return;
    case Piece::Plain: break;
    }
    settle();
    if (piece_of({&c, 1}) == Piece::Open)
        held_ = c;
    else if (is_control(c))
        ready_ += kReplacement;
    else
        ready_ += c;
}

} // namespace padchart::cli
