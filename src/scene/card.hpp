#pragma once
// The orientation card of one part: how it lies on the board, where its mark goes, what the mark means and what it must
// not be confused with, which wrong turns sit as well, and room for two people to sign. For the bench, beside the part.
// Paper: A6 lying (ISO 216), or a smaller box on a page of the sheet. Letters have capitals of 2.5 mm (first size of
// ISO 3098). No meaning rests on colour. Pictures are seen from the part's own side with the board's up edge up.

#include <string>
#include <vector>

#include "analysis/fit.hpp"
#include "document/chart.hpp"
#include "scene/page.hpp"

namespace padchart::scene {

inline constexpr double kCardWidth_mm = 148.0;
inline constexpr double kCardHeight_mm = 105.0;
/// The smallest box a card may be laid in.
inline constexpr double kLeastCardWidth_mm = 84.0;
inline constexpr double kLeastCardHeight_mm = 83.0;

/// One card on its own page. Any part may have one; for a part that sits one way only it says so. `seen`: the piece of
/// a photo that is the record's evidence, or null.
[[nodiscard]] Page orientation_card(const document::Chart& chart, const document::Footprint& part,
                                    const analysis::PartFit& fit, const Picture* seen = nullptr);

/// Lays the card of a part into a box of the page: words into the page's last scene (made if there is none), pictures
/// as scenes of their own below it. Requires: the box is no smaller than the least card.
void add_card(Page& page, const geometry::Box& box, const document::Chart& chart, const document::Footprint& part,
              const analysis::PartFit& fit, const Picture* seen = nullptr);

/// Null where there is none of that part.
[[nodiscard]] const Picture* evidence_of(const std::vector<EvidencePicture>& evidence, const document::Id& part);

/// The parts that need a card, in chart order: those with a risky turn, less those never fitted.
[[nodiscard]] std::vector<document::Id> parts_that_need_a_card(const document::Chart& chart,
                                                               const analysis::FitReport& fit);

/// One page for each part named, in that order. Requires: each is a part of the chart, the report is of this chart.
[[nodiscard]] Document orientation_cards(const document::Chart& chart, const analysis::FitReport& fit,
                                         const std::vector<document::Id>& parts,
                                         const std::vector<EvidencePicture>& evidence = {});

} // namespace padchart::scene
