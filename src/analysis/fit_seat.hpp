#pragma once
// Does one pattern of lands sit on another: exactly, or so that it could be soldered? Shared by the fit_*.cpp only.
//
// How the best shift is found. The square of shifts is cut into ever smaller squares. Over each small square the
// overlap of every pair of lands is bounded from below and above (overlap_over); a square in which some land is surely
// covered too little, surely bridges, or surely shares its land with another is left out for good. It ends with a shift
// that seats, or with no square left: then there is none, however narrow. Where squares are left at the finest step
// (kFinestSquare_mm; kFineSquare_mm where a whole line of them is left) the answer hangs on less than that, and the
// part is taken to seat: a warning too many is better than one too few.

#include <limits>
#include <memory>
#include <optional>
#include <vector>

#include "analysis/fit_pattern.hpp"
#include "geometry/box_index.hpp"

namespace padchart::analysis::fitting {

/// Half sides, mm.
inline constexpr double kFineSquare_mm = 0.00025;
inline constexpr double kFinestSquare_mm = 1e-6;

/// The lands that stay on the board, ready to be asked many times.
class Board {
public:
    /// Requires: the pattern outlives this.
    explicit Board(const Pattern& pattern);
    [[nodiscard]] const Pattern& pattern() const { return pattern_; }
    /// Lands whose boxes touch `box`, in rising order.
    void find(const geometry::Box& box, std::vector<std::size_t>& found) const;

private:
    const Pattern& pattern_;
    std::vector<geometry::Box> boxes_;
    std::optional<geometry::BoxIndex> index_;
};

/// Every land of `part` lies on a land of its own: centres and outlines within the tolerance.
[[nodiscard]] bool matches(const Board& board, const Pattern& part, double tolerance_mm);

/// What measuring may have got wrong. > 0 asks for more: it seats however the error fell; < 0 is lenient: it seats if
/// the error fell well.
struct Margin {
    double edge_mm = 0.0;  ///< every edge, as a share of the land's width
    double place_mm = 0.0; ///< every land of the part against the one under it, each its own way, in x and in y
    double reach_mm = 0.0; ///< the lands' centre, and with it how far there is to slide, in x and in y
};

/// One pattern tried on the board at any shift within the board's reach.
class Trial {
public:
    /// `farthest_mm`: the largest sum of place and reach of a margin that will be asked for, without its sign.
    /// Requires: board and part outlive this; equally many lands.
    Trial(const Board& board, const Pattern& part, double farthest_mm = 0.0);

    [[nodiscard]] bool seats_at(geometry::Vec2 shift, const Margin& margin = {}) const;
    /// A shift at which it seats: none at all where that will do. `finest_mm`: half side of the smallest squares looked
    /// at.
    [[nodiscard]] std::optional<geometry::Vec2> find_shift(const Margin& margin = {},
                                                           double finest_mm = kFinestSquare_mm) const;
    /// From a shift that seats to one near it at which the worst land fares best.
    [[nodiscard]] geometry::Vec2 eased(geometry::Vec2 shift) const;

private:
    struct Neighbour {
        std::size_t outline = 0;
        geometry::Vec2 offset; ///< from the board's land to the part's
    };
    /// Lands of the part that see the same things round them, so that one answer holds for all.
    struct Group {
        std::size_t outline = 0;
        std::vector<Neighbour> near;
        std::vector<std::vector<std::size_t>> targets; ///< per land: the board's lands, in the order of `near`
    };
    struct Limits {
        double cover = 0.0;
        double bridge = 0.0;
        double place_mm = 0.0; ///< as in Margin
    };
    /// What a neighbour has of a land's own area, as it counts for being covered and for bridging.
    struct Share {
        OverlapRange cover;
        OverlapRange bridge;
    };
    struct Square {
        geometry::Vec2 middle;
        double half = 0.0;
    };
    using Groups = std::vector<std::size_t>;
    struct Judgement {
        bool excluded = false; ///< nowhere in the square
        bool seats = false;    ///< in its middle
        /// In its middle: by how much the worst land passes.
        double slack = std::numeric_limits<double>::infinity();
        Groups open; ///< groups that do not pass all over the square, the worst first
    };
    /// A square left to look at, and the groups that are not known to pass all over it.
    struct Search {
        Square square;
        std::shared_ptr<const Groups> groups;
    };
    struct Round {
        std::vector<Search> left;              ///< four for each square that was not ruled out
        std::optional<geometry::Vec2> nearest; ///< of the middles that seat, the one nearest to no shift
        geometry::Vec2 most_likely;            ///< the middle that seats best, or misses it least
    };
    /// What is known of one group over one square.
    struct Outlook {
        bool possible = false;
        std::optional<std::size_t> surely; ///< the neighbour that covers it all over the square
        std::size_t best = 0;              ///< the neighbour that covers it most in the middle
        double slack = -1.0;
    };

    void add_land(std::size_t land, const std::vector<std::size_t>& near);
    void note_contests();
    [[nodiscard]] Limits limits(const Group& group, const Margin& margin) const;
    /// False when the boxes alone leave no land to cover the group's.
    [[nodiscard]] bool may_cover(const Group& group, const Square& square, const Limits& limits) const;
    /// Of the own area, by each neighbour.
    [[nodiscard]] std::vector<Share> shares(const Group& group, const Square& square, const Limits& limits) const;
    [[nodiscard]] static Outlook outlook(const std::vector<Share>& shares, const Limits& limits);
    [[nodiscard]] Judgement judge(const Square& square, const Groups& groups, const Margin& margin) const;
    [[nodiscard]] Judgement judge_point(geometry::Vec2 shift, const Margin& margin) const;
    [[nodiscard]] Round search_round(const std::vector<Search>& searches, const Margin& margin) const;
    template <class Choice>
    [[nodiscard]] bool shares_a_land(const std::vector<Outlook>& outlooks, Choice choice) const;

    const Board& board_;
    const Pattern& part_;
    std::vector<Group> groups_;
    bool hopeless_ = false;  ///< some land reaches no other
    bool contested_ = false; ///< two lands may want the same one
    Groups all_groups_;
};

} // namespace padchart::analysis::fitting
