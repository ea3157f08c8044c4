#pragma once
// A corrected trace that lies elsewhere on its page as a whole: shifted, turned or mirrored against the one before. For
// svg/reimport alone.

#include <optional>

#include "base/diagnostic.hpp"
#include "document/chart.hpp"

namespace padchart::svg {

/// Where most of what both drawings name went by one and the same motion: that motion. Nothing where things went their
/// own ways, where the board's edge stayed, or where nothing went anywhere.
[[nodiscard]] std::optional<geometry::Affine> common_motion(const document::Chart& current,
                                                            const document::Chart& fresh);

/// Finding "motion-in-doubt" where a row went along itself by its own pitch and nothing else tells what that means.
[[nodiscard]] std::optional<Diagnostic> motion_in_doubt(const document::Chart& current, const document::Chart& fresh);

/// How many times as large the fresh drawing is as the current one, both in the lengths they have: 1 where most things
/// kept their distances. Nothing where things went their own ways or are too few to tell.
[[nodiscard]] std::optional<double> common_factor(const document::Chart& current, const document::Chart& fresh);

/// Finding "drawing-mirrored" where the fresh drawing is a mirror image of the current one.
[[nodiscard]] std::optional<Diagnostic> mirrored_whole(const document::Chart& current, const document::Chart& fresh);

/// Finding "drawing-moved": how the whole drawing went, and what goes along.
[[nodiscard]] Diagnostic told_motion(const geometry::Affine& motion, const document::Chart& current);

} // namespace padchart::svg
