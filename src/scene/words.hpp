#pragma once
// The closed word lists as people read them on a map or sheet; patterns/labels.hpp has the single words.

#include <string>
#include <vector>

#include "document/chart.hpp"

namespace padchart::scene {

/// A word of a list with blanks for its dashes: right for most of them.
template <class Enum>
[[nodiscard]] std::string plain_words(Enum value) {
    std::string text(document::to_text(value));
    for (char& c : text)
        if (c == '-') c = ' ';
    return text;
}

[[nodiscard]] std::string in_words(document::PartClass part_class);
[[nodiscard]] std::string in_words(document::ScaleSource source);

/// What is known of which way round it sits: "bar = anode", "dot, meaning unknown", "no mark to be seen", "not
/// recorded".
[[nodiscard]] std::string mark_and_meaning(const document::Orientation& orientation);
/// Where the mark is for someone who looks at the part's own side of the board with its up edge up: "upper left".
[[nodiscard]] std::string mark_place(const document::Footprint& part);
/// All five answers, the ones not checked left out: "missing", "skewed, joint cold"; "not checked" when none was given.
[[nodiscard]] std::string condition_in_words(const document::Footprint& part);
/// The pads that are not as they should be: "pad 2: land lifted".
[[nodiscard]] std::string pad_faults_in_words(const document::Footprint& part);
/// Some answer says that something is not as it should be.
[[nodiscard]] bool has_fault(const document::Footprint& part);
[[nodiscard]] bool has_fault(const document::Condition& of_the_part_itself);
[[nodiscard]] bool has_fault(const document::Pad& pad);
/// Not on the board: missing, removed, lost or never fitted.
[[nodiscard]] bool is_absent(const document::Footprint& part);

/// "0.482 V", "OL", "short".
[[nodiscard]] std::string value_in_words(const document::Reading& reading);
/// "1.85 kΩ", "220 Ω".
[[nodiscard]] std::string ohms_in_words(double ohm);
/// "260 °C", without decimals that say nothing.
[[nodiscard]] std::string celsius(double value_c);
/// The sentences of a report write "310 C", as a terminal can show it; paper and screen write "310 °C".
[[nodiscard]] std::string with_degrees(std::string text);
[[nodiscard]] std::vector<std::string> with_degrees(std::vector<std::string> sentences);
/// A plain number with at most `decimals` of them, without tail: 2, 0.5.
[[nodiscard]] std::string number(double value, int decimals);

} // namespace padchart::scene
