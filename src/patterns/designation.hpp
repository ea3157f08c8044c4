#pragma once
// What the letters of a name such as "C14" usually stand for. Standards (IEEE 315 with ASME Y14.44) and boards differ,
// and boards mix them: a letter is a hint for a form to start from, not evidence of what the part is or does.

#include <span>
#include <string_view>
#include <vector>

#include "document/vocabulary.hpp"

namespace padchart::patterns {

struct ClassHint {
    document::PartClass part_class = document::PartClass::Unknown;
    bool in_standard = false; ///< IEEE 315 uses the letter so; else only seen on boards

    bool operator==(const ClassHint&) const = default;
};

/// Likely first. Empty when the name does not begin with known letters followed by a digit, or by nothing.
[[nodiscard]] std::vector<ClassHint> class_hints(std::string_view name);

/// The letters a name begins with: "C" of "C14".
[[nodiscard]] std::string_view class_letters(std::string_view name);

/// Names that the program makes up begin so: no class, no maker and no board uses these letters.
inline constexpr std::string_view kMadeUpLetters = "PART";

/// To be shown beside every hint.
inline constexpr std::string_view kLetterCaution = "The letter is not evidence of role: look at the part.";

} // namespace padchart::patterns
