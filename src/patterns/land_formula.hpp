#pragma once
// The arithmetic between a part's measures and its lands, for two-terminal parts and gull wings: the formula of
// IPC-7351 (from memory) and the identities of the handbook's Z, G, Y and C. All in mm.

namespace padchart::patterns {

/// Z, G and X of the handbooks.
struct LandSpan {
    double outer = 0.0; ///< Z, over both lands
    double gap = 0.0;   ///< G, between them
    double width = 0.0; ///< X

    /// Y, of one land.
    [[nodiscard]] constexpr double length() const { return (outer - gap) / 2; }
    /// C, from centre to centre.
    [[nodiscard]] constexpr double spacing() const { return (outer + gap) / 2; }
};

struct Range {
    double min = 0.0;
    double max = 0.0;
};

/// How far the solder should reach beyond the termination.
struct FilletGoals {
    double toe = 0.0;
    double heel = 0.0;
    double side = 0.0;
};

struct TerminalMeasures {
    Range length;   ///< L, over the terminations
    Range terminal; ///< T, of one termination along L
    Range width;    ///< W
};

/// Lands for the part with fabrication tolerance 0.05 and placement tolerance 0.025.
/// Requires: each range with min <= max.
[[nodiscard]] LandSpan land_span(const TerminalMeasures& part, const FilletGoals& goals);

} // namespace padchart::patterns
