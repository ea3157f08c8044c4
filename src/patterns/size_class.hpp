#pragma once
// Size codes of chips, cases and cans, and which of them a measured body could be. The same four digits mean different
// parts in inch and metric, so every answer spells both out. A size is a suggestion, never an identification.
// Sources: the code rule of EIA and JEITA; EIA-535BAAC for tantalum cases; row by row in
// assets/tables/size_classes.tsv.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.hpp"
#include "base/result.hpp"

namespace padchart::patterns {

struct SizeClass {
    std::string_view
        kind; ///< "chip", "chip with long-side terminations", "tantalum case", "LED", "crystal or oscillator"
    std::string_view metric; ///< "1608M" for chips; "3528" for cases and LEDs, which are metric without the M
    std::string_view inch;   ///< "0603", empty where there is none
    double length_mm = 0.0;  ///< nominal; of long-side chips, the short way from termination to termination
    double width_mm = 0.0;
    double tolerance_mm = 0.0; ///< of the body, either way
    std::string_view family;   ///< key of the package family, empty where there is none
    std::string_view standing;
    std::string_view source;
};

/// The table, small before large within each kind.
[[nodiscard]] std::span<const SizeClass> size_classes();

/// "1608M (inch 0603)", "3528 tantalum case (metric)".
[[nodiscard]] std::string label_of(const SizeClass& size);

struct SizeMatch {
    const SizeClass* size = nullptr;
    double deviation_mm = 0.0; ///< the larger of the two differences from nominal
};

/// Bodies that could be `length` x `width` within the measuring tolerance and the body's own, nearest first, either
/// side named first. Measured from a photograph, 0.1 mm is about the best. Requires: all finite, lengths above 0,
/// tolerance not negative.
[[nodiscard]] std::vector<SizeMatch> size_matches(double length_mm, double width_mm, double tolerance_mm = 0.1);

struct SizeCode {
    std::vector<const SizeClass*> readings; ///< never empty; more than one where the code alone does not decide
    Diagnostics findings;                   ///< "size-code-ambiguous", "size-code-without-m", "size-code-other-print"
};

/// A code as people write it: "1608M", "0603", "inch 0603", "0603 inch", "metric 1608", "3528-21", "6432".
/// Errors: no known size bears the code.
[[nodiscard]] Result<SizeCode> parse_size_code(std::string_view text);

} // namespace padchart::patterns
