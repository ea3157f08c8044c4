#pragma once
// The value a code printed on a part stands for: letter codes of IEC 60062 (4R7, R47, 4K7, 470R, 4n7), three and four
// digits (103, 1002), two digits with a letter (01C, the 96 values of a decade), and 0 for a jumper. What unit a code
// of digits has depends on the part; ceramic chip capacitors normally bear none.

#include <string>
#include <string_view>

#include "base/result.hpp"
#include "document/vocabulary.hpp"

namespace padchart::patterns {

enum class ValueUnit { Ohm, Farad, Henry };

struct CodedValue {
    double value = 0.0; ///< in the plain unit
    ValueUnit unit = ValueUnit::Ohm;
    bool is_jumper = false;

    bool operator==(const CodedValue&) const = default;
};

/// Digits: on resistors ohm, on capacitors picofarad (on aluminium cans plain microfarad), on inductors microhenry. R
/// is the point of an ohm, on inductors of a microhenry. Errors: no code, or digits on a part whose kind says no unit.
[[nodiscard]] Result<CodedValue> read_value_code(std::string_view code, document::PartClass part_class);

/// "4.7 kohm", "10 nF", "0.47 ohm", "jumper".
[[nodiscard]] std::string in_words(const CodedValue& value);

} // namespace padchart::patterns
