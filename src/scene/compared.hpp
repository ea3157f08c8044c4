#pragma once
// What the comparison with before comes to, in the same words for window, paper and page.

#include <string>

#include "analysis/sweep.hpp"
#include "base/diagnostic.hpp"
#include "scene/sheet.hpp"

namespace padchart::scene {

struct Outcome {
    enum class Kind { NoPart, Differs, AsBefore, NotAllSeen };
    Kind kind = Kind::NoPart;
    std::string headline; ///< "3 parts differ."
    std::string words;    ///< "0 of 20 compared; 3 differ by the charts; ...", or empty
};
[[nodiscard]] Outcome outcome_of(const analysis::SweepProgress& progress);

/// The headline, then how far somebody has looked, then a line for whatever the two charts tell that is not harmless.
/// `findings`: of the file from before.
[[nodiscard]] SheetSection compared_section(const document::Chart& before, const document::Chart& after,
                                            const Diagnostics& findings = {});

} // namespace padchart::scene
