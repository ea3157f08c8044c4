#pragma once
// CSS selectors on XML elements.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <pugixml.hpp>

#include "svg/properties.hpp"

namespace padchart::svg {

/// The name without its namespace prefix.
[[nodiscard]] std::string_view local_name(std::string_view name);
/// True when the blank-separated list holds the word.
[[nodiscard]] bool has_word(std::string_view list, std::string_view word);

struct AttributeTest {
    std::string name;
    char how = '\0'; ///< '\0' present, '=' equal, '~' word, '|' dash, '^' start, '$' end, '*' part
    std::string value;
    bool any_case = false; ///< [name="value" i]
};

/// Place among the siblings, counted from 1 from the first or from the last, all of them or those of the same type.
struct Structure {
    enum class Kind : std::uint8_t { Root, FromFirst, FromLast };
    Kind kind = Kind::Root;
    bool of_type = false;
    int place = 1;
};

/// What must hold for one element: "rect.pad#u4[data-x]:first-child".
struct Compound {
    std::string type; ///< empty: any
    std::vector<std::string> ids;
    std::vector<std::string> classes;
    std::vector<AttributeTest> attributes;
    std::vector<Structure> structures;
    std::vector<Compound> nots;
    std::vector<std::vector<Compound>> any_of; ///< of each list one must hold: ":is(...)", ":where(...)"
};

struct Selector {
    std::vector<Compound> compounds; ///< from left to right
    std::vector<char> combinators;   ///< between them: ' ', '>', '+', '~'
    Weight weight = 0;
};

/// All selectors of a list, or nothing when one of them is not understood (then the whole rule is void).
[[nodiscard]] std::optional<std::vector<Selector>> selectors_of(std::string_view text);

/// `budget`: how many elements may still be looked at, counted down; below 0 the answer is no.
[[nodiscard]] bool matches(const Selector& selector, const pugi::xml_node& element, const pugi::xml_node& scope,
                           std::int64_t& budget);

} // namespace padchart::svg
