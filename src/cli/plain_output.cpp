#include "cli/plain_output.hpp"

#include <utility>

namespace padchart::cli {
namespace {

constexpr const char* kReplacement = "\xEF\xBF\xBD"; // U+FFFD
constexpr char kC1Lead = '\xC2';

bool is_control(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return (byte < 0x20U && c != '\n' && c != '\t') || byte == 0x7FU;
}

} // namespace

PlainBuffer::int_type PlainBuffer::overflow(int_type c) {
    if (!traits_type::eq_int_type(c, traits_type::eof())) put(traits_type::to_char_type(c));
    return to_ ? traits_type::not_eof(c) : traits_type::eof();
}

int PlainBuffer::sync() {
    to_.flush();
    return to_ ? 0 : -1;
}

void PlainBuffer::settle() {
    const char held = std::exchange(held_, '\0');
    if (held == '\r') to_ << kReplacement;
    if (held == kC1Lead) to_.put(held);
}

void PlainBuffer::put(char c) {
    const auto byte = static_cast<unsigned char>(c);
    if (held_ == '\r' && c == '\n') {
        held_ = '\0';
        to_ << "\r\n";
        return;
    }
    if (held_ == kC1Lead && byte >= 0x80U && byte < 0xA0U) {
        held_ = '\0';
        to_ << kReplacement;
        return;
    }
    settle();
    if (c == '\r' || c == kC1Lead)
        held_ = c;
    else if (is_control(c))
        to_ << kReplacement;
    else
        to_.put(c);
}

} // namespace padchart::cli
