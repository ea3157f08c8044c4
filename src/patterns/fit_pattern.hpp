#pragma once
// Which package family do traced lands belong to, and with which measures? The lands are moved, turned and stretched
// parameter by parameter, by least squares, until the family's own lands lie on them; what is left over is reported.
// A good fit is a suggestion, never an identification: lands of different parts can be the same.
//
// Traced lands and the answer's place lie in one frame: mm, y down, seen from the side the part sits on.

#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "document/footprint.hpp"
#include "patterns/family.hpp"

namespace padchart::patterns {

struct PatternFit {
    std::string family;                   ///< key
    std::vector<double> parameters;       ///< measured where the lands show them, else the family's own
    geometry::Vec2 at;                    ///< where the pattern's origin lies in the traced frame
    Angle turn;                           ///< of the pattern there, counter-clockwise, [0, 360)
    std::vector<std::size_t> pattern_pad; ///< for each traced land, the position of its partner in the pattern
    double rms_mm = 0.0;                  ///< between centres of partners
    double max_mm = 0.0;
    double size_rms_mm = 0.0;  ///< between widths and heights of partners
    double as_is_rms_mm = 0.0; ///< of centres and sizes, had the family kept its own measures (not its counts)
    int numbers_agreeing = 0;  ///< traced lands that bear the number of their partner
};

/// The best fit of one family. Symmetric patterns fit in several turns: of equally good ones the one is taken in which
/// most traced numbers agree, then the smallest turn. Grids leave out the places that nobody traced.
/// Errors: no lands, a centre not finite, a number of lands that the family cannot have, lands that do not pair off.
[[nodiscard]] Result<PatternFit> fit_family(const Family& family, std::span<const document::Pad> traced);

/// The families that fit with centres within `worst_mm`, best first: by what is left over after stretching and by how
/// far the family had to be stretched. At most `limit`.
[[nodiscard]] std::vector<PatternFit> suggest_families(std::span<const document::Pad> traced, std::size_t limit = 10,
                                                       double worst_mm = 0.15);

/// The pattern of the fit. Errors: as generate().
[[nodiscard]] Result<document::Footprint> pattern_of(const PatternFit& fit);

/// Where the pattern goes on the board when it takes the place of the part whose lands were fitted.
[[nodiscard]] document::Placement placement_of(const document::Footprint& traced, const PatternFit& fit);

} // namespace padchart::patterns
