#include "document/id.hpp"

#include <algorithm>
#include <array>
#include <cstdint>

namespace padchart::document {
namespace {

bool is_lower_or_digit(char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
}

std::uint64_t fnv1a(std::string_view text) {
    std::uint64_t hash = 14695981039346656037ULL;
    for (const char c : text) {
        hash ^= static_cast<unsigned char>(c);
        hash *= 1099511628211ULL;
    }
    return hash;
}

} // namespace

bool is_well_formed(const Id& id) {
    if (id.text.empty() || id.text.size() > 64 || !is_lower_or_digit(id.text.front())) return false;
    return std::all_of(id.text.begin(), id.text.end(),
                       [](char c) { return is_lower_or_digit(c) || c == '-' || c == '_'; });
}

Id id_of(std::string_view prefix, std::string_view seed) {
    // 50 bits in ten letters of 32: short enough to read in a diff, and two of a million things collide with a chance
    // of one in two thousand; free_id then takes the next seed.
    static constexpr std::string_view kLetters = "0123456789abcdefghjkmnpqrstvwxyz";
    std::uint64_t hash = fnv1a(seed);
    hash ^= hash >> 29;
    std::array<char, 10> text{};
    for (char& c : text) {
        c = kLetters[hash & 31U];
        hash >>= 5;
    }
    return {std::string(prefix) + "-" + std::string(text.data(), text.size())};
}

} // namespace padchart::document
