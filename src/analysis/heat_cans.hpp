#pragma once
// Shield cans over parts: what stands under one is out of the air. Inside of heat_layout.

#include "analysis/heat_model.hpp"

namespace padchart::analysis {

/// The cans that stand on one side of the board.
class Cans {
public:
    /// `target`: the part to be lifted, or none. A can over it has to come off before any air, so it counts as lifted.
    Cans(const document::Chart& chart, document::Side side, const document::Id& target);

    [[nodiscard]] const document::Id& lifted() const { return lifted_; }
    /// The can that stands over a place, which is not the thing itself; empty: none.
    [[nodiscard]] document::Id over(const document::Id& self, geometry::Vec2 place) const;

private:
    std::vector<std::pair<document::Id, geometry::Ring>> cans_;
    document::Id lifted_;
};

/// Joins each body under a can to the can: the air between them at rest and grey radiation, as between wide parallel
/// faces (Incropera, chapters 9 and 13: below a Rayleigh number of 1708 the air only conducts, which holds for these
/// gaps).
void roof_over(HeatLayout& layout);

} // namespace padchart::analysis
