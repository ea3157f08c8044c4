#pragma once
// Does what a part is called fit what it is said to be? Class letters by IEEE 315 with ASME Y14.44 and as seen on
// boards (designation.hpp), value codes by IEC 60062 (value_code.hpp). Letters and codes are hints: nothing here is a
// fault.

#include <optional>
#include <string>

#include "base/diagnostic.hpp"
#include "patterns/value_code.hpp"

namespace padchart::document {
struct Footprint;
}

namespace padchart::patterns {

/// The value as a hand writes it: a code (4K7, 103, R47), a number with prefix and unit ("4.7 uF", "10 kohm", "100nF"),
/// with anything behind it (voltage, tolerance, dielectric) left alone. Errors: as read_value_code.
[[nodiscard]] Result<CodedValue> read_value(const std::string& text, document::PartClass part_class);

/// True where a value of that class is a resistance, a capacitance or an inductance.
[[nodiscard]] bool has_value_code(document::PartClass part_class);

/// Codes:
/// name-form           no letters followed by a number ("14", "R", "my coil")
/// name-letters        letters that stand for no class in IEEE 315 and are not seen on boards either
/// name-against-class  letters that stand for other classes than the one stated
/// value-not-read      a resistor, capacitor or inductor whose value is no value
/// Target is the part's id. An empty name or value is no finding here.
[[nodiscard]] Diagnostics naming_findings(const document::Footprint& part);

} // namespace padchart::patterns
