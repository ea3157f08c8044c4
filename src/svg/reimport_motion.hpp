#pragma once
// A corrected trace that lies elsewhere on its page as a whole: shifted, turned or mirrored against the one before. For
// svg/reimport alone.

#include <optional>

#include "base/diagnostic.hpp"
#include "document/chart.hpp"

namespace padchart::svg {

enum class Doubt {
    None,
    Names,  ///< most things lie where others lay: either the drawing went there or only names did
    Motion, ///< most things lie elsewhere, and no one way in which they went is sure
    Alike   ///< no names tell, and what is drawn lies on what was drawn in more than one way, or mirrored: nothing is
            ///< taken
};

struct WholeMove {
    std::optional<geometry::Affine> motion{}; ///< by which most of what both drawings name went
    std::optional<Diagnostic> finding{};
    bool is_mirrored = false;
    Doubt doubt = Doubt::None;
};

/// How the drawing lies against the one before. No motion where things went their own ways, where the board's edge
/// stayed, or where nothing went anywhere. Findings: "drawing-moved" with a motion, how the whole went and what goes
/// along; "motion-in-doubt" where most things lie elsewhere and it is not sure what the whole did, as when a row went
/// along itself by its own pitch; "drawing-mirrored" where the one is a mirror image of the other; "lies-in-doubt"
/// where what is drawn would do in more than one way and no names tell.
[[nodiscard]] WholeMove how_the_whole_went(const document::Chart& current, const document::Chart& fresh);

/// The board drawn on the other side as it is seen from there: the mirror that lays the chart so, and what is told.
[[nodiscard]] WholeMove how_the_whole_was_laid_over(const document::Chart& current, const document::Chart& fresh);

/// How many times as large the fresh drawing is as the current one, both in the lengths they have: 1 where most things
/// kept their distances. Nothing where things went their own ways or are too few to tell.
[[nodiscard]] std::optional<double> common_factor(const document::Chart& current, const document::Chart& fresh);

} // namespace padchart::svg
