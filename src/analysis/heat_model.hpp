#pragma once
// The chart as a heat network: board cells, bodies on both faces, shields, the jet, what is below. Built once per
// chart, side and cell size (HeatLayout), then once per case (HeatModel), then aimed at will.
//
// Board cell: k t between cells; the jet's film, lessened for the board's own thickness, where no body stands; still
// air or a preheater below, where no body hangs; grey radiation from free faces. Sources: thin-plate balance, Carslaw
// and Jaeger; Incropera.
// Body: one node per covered cell (small and ceramic ones: one node), a conductance to the board, its own film on the
// top and on walls that face the air. Cells of a body less than half covered are joined to their neighbour. On the far
// side the same, but that its outer face meets what is below (still air and its radiation, or the preheater) and its
// walls count for nothing. So a body there lags and stays below the board over it in still air, and lies between board
// and plate over a preheater; it also takes heat the joints above it are waiting for. What stands under a shield can is
// out of the air and of the radiation of the room: it takes heat from the board, and from the hot can over it through
// the air between them and by radiation.

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "analysis/heat_jet.hpp"
#include "analysis/heat_network.hpp"
#include "base/diagnostic.hpp"
#include "document/chart.hpp"
#include "patterns/stack.hpp"

namespace padchart::analysis {

/// One choice of everything that is not known.
struct HeatCase {
    double h_factor = 1.0;
    double exit_factor = 0.9;
    double spread = 1.9;
    double conductivity = 30.0; ///< of the board, in plane
    double heat_capacity = 2.2e6;
    double emissivity = 0.9;
    double entrainment = 0.4; ///< over a preheater: how far the air drawn in is warmed towards it
    double shield_h = 0.2;    ///< what a shield leaves of the film
    int contact = 0;          ///< -1 loose, 0 usual, 1 tight: bodies on the board

    bool operator==(const HeatCase&) const = default;
};

/// The cases that are run: all that pushes cold; most likely; all that pushes hot near the nozzle; the same with a
/// board that spreads well, which is what hurts farther away.
struct HeatCases {
    HeatCase low, nominal, high, high_spread;

    bool operator==(const HeatCases&) const = default;
};
[[nodiscard]] HeatCases heat_cases(const patterns::BoardData& board);

/// Weighted nodes whose mean is meant, or among which the hottest is meant.
struct Probe {
    std::vector<std::pair<std::size_t, double>> nodes; ///< weights sum to 1

    [[nodiscard]] bool is_empty() const { return nodes.empty(); }
    [[nodiscard]] double mean(std::span<const double> celsius) const;
    /// Position in `nodes` of the hottest. Requires: not empty.
    [[nodiscard]] std::size_t hottest(std::span<const double> celsius) const;
};

/// Thermal data of a body.
struct BodyData {
    double height_m = 1e-3;
    double heat_capacity = 2e6;
    double conductivity = 1.0;
    double contact[3] = {500, 1500, 5000}; ///< W/(m2 K), loose to tight
    bool has_wall = true;
    double emissivity = 0.9;
};

struct BodyPatch {
    std::size_t cell = 0;
    double area_m2 = 0.0;
    double shielded = 0.0; ///< share of the patch under a shield in place
};

struct BodyNode {
    std::vector<BodyPatch> patches;
    double area_m2 = 0.0;
    std::vector<EdgePiece> walls; ///< none under a shield: it hangs over them
};

struct BodyLink {
    std::size_t a = 0; ///< body nodes
    std::size_t b = 0;
    double open_share = 0.0;
};

/// Between a body and the can over it.
struct RoofLink {
    std::size_t body = 0; ///< body nodes
    std::size_t can = 0;
    double area_m2 = 0.0;
};

struct HeatBody {
    document::Id source;
    bool is_keep_out = false;
    bool is_far = false; ///< hangs below the board, seen from where the air comes
    BodyData data;
    std::size_t first = 0; ///< of its body nodes
    std::size_t count = 0;
    std::vector<BodyLink> links;
    document::Id under;         ///< the shield can over it; empty: none
    std::vector<RoofLink> roof; ///< to that can
    double roof_w_per_m2_k = 0.0;

    [[nodiscard]] bool is_in_the_air() const { return !is_far && under.is_empty(); }
};

struct HeatLayout {
    Grid grid;
    document::Side side = document::Side::Top; ///< the air comes from here
    geometry::Region board;
    std::vector<double> share; ///< of each cell that is board
    Openings open;
    std::vector<double> spread; ///< factor on the conductivity of each cell, by the chart's copper areas; empty: none
    std::vector<double> free_share; ///< of each cell: board with no body on it
    std::vector<double> free_below; ///< the same of the far face
    geometry::Region shields;       ///< those in place on this side
    std::vector<double> shielded;   ///< share of each cell under them
    std::vector<HeatBody> bodies;
    std::vector<BodyNode> body_nodes;
    PlateNodes plate; ///< board nodes are numbered first
    Diagnostics remarks;

    [[nodiscard]] std::size_t board_nodes() const { return plate.cell_of_node.size(); }
    [[nodiscard]] std::size_t node_of_body(std::size_t body_node) const { return board_nodes() + body_node; }
    [[nodiscard]] const HeatBody* body_of(const document::Id& source) const;
    /// Board nodes under an area, by covered area; the nearest node where the area misses the board.
    [[nodiscard]] Probe board_probe(const geometry::Ring& area) const;
    [[nodiscard]] Probe body_probe(const HeatBody& body) const;
    /// Where a node of the model lies on the board.
    [[nodiscard]] geometry::Vec2 place_of(std::size_t node) const;
};

/// `cell_mm` as asked, or larger to stay below `most_cells`.
/// Requires: the chart has a scale. `without`: a body left out, e.g. one that is not there yet.
[[nodiscard]] HeatLayout heat_layout(const document::Chart& chart, document::Side side,
                                     const std::vector<document::Id>& shields, double cell_mm,
                                     const document::Id& target);
/// The board's outline, or a stand-in round all parts where none is traced.
[[nodiscard]] geometry::Region board_region(const document::Chart& chart);
/// True when the part is on the board as far as the chart says.
[[nodiscard]] bool stands_on_board(const document::Footprint& part);
/// Cells and the share of each that a ring covers, looking only where the ring is.
[[nodiscard]] std::vector<std::pair<std::size_t, double>> covered_cells(const Grid& grid, const geometry::Ring& ring);

inline constexpr double kStillAir_h = 6.0;   ///< W/(m2 K) by free convection, a face; 3 to 8, Incropera chapter 9
inline constexpr double kPreheater_h = 22.0; ///< with its radiation; common practice 15 to 30

class HeatModel {
public:
    /// Requires: `layout` outlives the model.
    HeatModel(const HeatLayout& layout, const patterns::BoardData& board, const HeatCase& unknowns, double room_c);

    void set_below(std::optional<double> preheat_c);
    /// The jet upright at `aim`.
    void set_jet(const JetField& jet, geometry::Vec2 aim);
    void set_still_air();

    [[nodiscard]] const HeatNetwork& network() const { return network_; }
    [[nodiscard]] const HeatCase& unknowns() const { return case_; }
    /// What the jet needs to know of this case.
    [[nodiscard]] JetShape jet_shape(std::optional<double> preheat_c, double circle_radius_mm) const;
    /// How much hotter than the mean the face under the air is, per board node: q t / (3 k_z), q the flux into it. What
    /// comes through a body is lessened as if that resistance stood in its way too, so that no face is hotter than the
    /// air that heats it.
    void top_excess(std::span<const double> celsius, std::vector<double>& excess) const;

private:
    struct Contact {
        std::size_t board = 0;
        std::size_t body = 0;
        double w_per_k = 0.0;
    };
    void add_bodies();
    void set_radiation();
    void set_passing();

    const HeatLayout* layout_;
    HeatCase case_;
    double room_c_;
    double face_resistance_; ///< t / (3 k_z), m2 K/W
    HeatNetwork network_;
    std::vector<Contact> contacts_;
    /// Of a body on the air's side: to the board, and how much of its flux would pass with the face's resistance added.
    struct Standing {
        double w_per_k = 0.0;
        double area_m2 = 0.0;
        double passing = 1.0;
    };
    std::vector<Standing> standing_; ///< per body node
    std::vector<double> top_radiance_;
    std::vector<JetSpot> spots_;
    bool is_preheated_ = false;
};

/// The jet in every cell of a grid, by quadrature near the axis.
void jet_on_grid(const Grid& grid, const JetField& jet, geometry::Vec2 aim, std::vector<JetSpot>& spots);

} // namespace padchart::analysis
