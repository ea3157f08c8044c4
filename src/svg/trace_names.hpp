#pragma once
// What the words of one label, id or class say: the rules are told in trace_to_chart.hpp.

#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "document/vocabulary.hpp"
#include "svg/trace_to_chart.hpp"

namespace padchart::svg {

struct NameReading {
    std::optional<Role> role;
    std::optional<document::Side> side;
    std::optional<document::MarkKind> mark;
    bool sensitive = false;
    std::string part_name;  ///< "U4", or empty
    std::string part_role;  ///< "charge controller", or empty
    std::string pad_number; ///< what follows the part's name: "3" of "U4-3"
};

[[nodiscard]] NameReading read_name(std::string_view name);

/// "1", "A1", "EP", "pad 3", "pin3", "_7": the number of a pad whose part is told elsewhere; empty when it is none.
[[nodiscard]] std::string pad_number_of(std::string_view name);

/// A letter or more and a number, and not one of the ids drawing programs give by themselves.
[[nodiscard]] bool is_part_name(std::string_view word);

/// An id a drawing program gave by itself ("rect123", "path7-3"): worth nothing as a name.
[[nodiscard]] bool is_generated_id(std::string_view id);

} // namespace padchart::svg
