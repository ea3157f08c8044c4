#pragma once
// What a thing is called for as long as it lives, whatever its name becomes. Never shown as the part's name, never
// reused. Lower-case letters, digits, '-' and '_', starting with a letter or digit, 1 to 64 characters.

#include <compare>
#include <functional>
#include <string>
#include <string_view>

namespace padchart::document {

struct Id {
    std::string text;

    auto operator<=>(const Id&) const = default;
    [[nodiscard]] bool is_empty() const { return text.empty(); }
};

[[nodiscard]] bool is_well_formed(const Id& id);

/// An id made of a prefix and a hash of what the thing is: the same text gives the same id on every machine, so that
/// the second import of a trace finds the things of the first.
[[nodiscard]] Id id_of(std::string_view prefix, std::string_view seed);

} // namespace padchart::document

template <>
struct std::hash<padchart::document::Id> {
    std::size_t operator()(const padchart::document::Id& id) const noexcept {
        return std::hash<std::string>{}(id.text);
    }
};
