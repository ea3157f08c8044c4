// The part's own axes; see fit_pattern.hpp for the rule.

#include <algorithm>
#include <cmath>
#include <numbers>

#include "analysis/fit_pattern.hpp"
#include "geometry/overlay.hpp"

namespace padchart::analysis::fitting {

using document::ShapeKind;
using geometry::Ring;
using geometry::Vec2;

namespace {

/// Edges that differ by less belong to one direction: hand tracing is no better.
constexpr double kSameDirection_deg = 1.5;
/// Two votes nearer than this are one.
constexpr double kSameVote_deg = 1e-7;

// What a direction is worth. Copper edges decide; the rest only settles what copper leaves open, in this order.
constexpr double kNeighbourWorth = 0.2;
constexpr double kBodyWorth = 0.25;
constexpr double kFrameWorth = 0.01;

// Less agreement than this says nothing: an odd outline or a handful of scattered lands has no axes of its own.
constexpr double kLeastEdgeShare = 0.4;
constexpr double kLeastNeighbourShare = 0.75;

struct Vote {
    double deg = 0.0; ///< in [0, 90)
    double weight = 0.0;
};

double quarter_of(double deg) {
    const double rest = std::fmod(deg, 90.0);
    const double positive = rest < 0.0 ? rest + 90.0 : rest;
    return positive >= 90.0 - kSameVote_deg ? 0.0 : positive;
}

/// From a to b the short way round, both directions being the same after a quarter turn.
double apart(double a, double b) {
    return std::remainder(b - a, 90.0);
}

/// Equal votes together, in rising order.
std::vector<Vote> gathered(std::vector<Vote> votes) {
    std::sort(votes.begin(), votes.end(), [](const Vote& a, const Vote& b) { return a.deg < b.deg; });
    std::vector<Vote> together;
    for (const Vote& vote : votes) {
        if (!together.empty() && vote.deg - together.back().deg <= kSameVote_deg)
            together.back().weight += vote.weight;
        else
            together.push_back(vote);
    }
    return together;
}

/// Weight of the votes near each direction, less than one of all of them.
class Ballot {
public:
    explicit Ballot(std::vector<Vote> votes) : votes_(gathered(std::move(votes))) {
        for (const Vote& vote : votes_)
            total_ += vote.weight;
    }
    [[nodiscard]] const std::vector<Vote>& votes() const { return votes_; }
    [[nodiscard]] double share(double deg) const {
        if (total_ <= 0.0) return 0.0;
        double sum = 0.0;
        for (const double lap : {-90.0, 0.0, 90.0}) {
            auto at = std::lower_bound(votes_.begin(), votes_.end(), deg + lap - kSameDirection_deg,
                                       [](const Vote& vote, double from) { return vote.deg < from; });
            for (; at != votes_.end() && at->deg <= deg + lap + kSameDirection_deg; ++at)
                sum += at->weight;
        }
        return sum / total_;
    }
    /// The direction near `deg` that most of the weight follows exactly; the mean of all where no single one does.
    [[nodiscard]] Vote strongest_near(double deg) const {
        Vote best{deg, 0.0};
        double weight = 0.0;
        double turn = 0.0;
        for (const Vote& vote : votes_) {
            const double off = apart(deg, vote.deg);
            if (std::abs(off) > kSameDirection_deg) continue;
            if (vote.weight > best.weight + 1e-12) best = vote;
            weight += vote.weight;
            turn += off * vote.weight;
        }
        const bool is_clear = best.weight >= weight / 2.0;
        return is_clear || weight <= 0.0 ? best : Vote{quarter_of(deg + turn / weight), weight};
    }

private:
    std::vector<Vote> votes_;
    double total_ = 0.0;
};

/// An outline with more points than this was drawn by hand or is curved: its small steps say nothing.
constexpr std::size_t kPlainCorners = 8;
constexpr double kStep = 0.06; ///< of the outline's smaller extent

Ring without_steps(const Ring& ring) {
    const geometry::Box box = geometry::bounds(ring);
    const geometry::Region plain = geometry::simplify({{ring, {}}}, kStep * std::min(box.width(), box.height()));
    return plain.empty() ? ring : plain.front().outer;
}

void add_ring_votes(const Ring& drawn, Angle turn, std::vector<Vote>& votes) {
    const Ring ring = drawn.size() > kPlainCorners ? without_steps(drawn) : drawn;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 edge = ring[(i + 1) % ring.size()] - ring[i];
        if (length(edge) > 0.0) votes.push_back({quarter_of((geometry::bearing(edge) + turn).degrees()), length(edge)});
    }
}

void add_shape_votes(const document::Shape& shape, Angle turn, std::vector<Vote>& votes) {
    const double own = quarter_of(turn.degrees());
    switch (shape.kind) {
    case ShapeKind::Rectangle: votes.push_back({own, 2.0 * (shape.width_mm + shape.height_mm)}); break;
    case ShapeKind::Oblong: votes.push_back({own, 2.0 * std::abs(shape.width_mm - shape.height_mm)}); break;
    case ShapeKind::Polygon: add_ring_votes(shape.points, turn, votes); break;
    case ShapeKind::Round: break;
    }
}

/// The turn most pads are stored with: the frame, as the pads tell it.
double frame_of(const document::Footprint& part) {
    std::vector<Vote> turns;
    for (const document::Pad& pad : part.pads)
        turns.push_back({quarter_of(pad.turn.degrees()), 1.0});
    turns = gathered(std::move(turns));
    const auto most =
        std::max_element(turns.begin(), turns.end(), [](const Vote& a, const Vote& b) { return a.weight < b.weight; });
    return most == turns.end() ? 0.0 : most->deg;
}

/// Each pad's directions to its nearest neighbours.
std::vector<Vote> neighbour_votes(const document::Footprint& part) {
    constexpr double kAsNear = 1.02;
    std::vector<Vote> votes;
    std::vector<double> gaps(part.pads.size());
    for (const document::Pad& pad : part.pads) {
        double nearest = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < part.pads.size(); ++i) {
            gaps[i] = distance(pad.at, part.pads[i].at);
            if (gaps[i] > 0.0) nearest = std::min(nearest, gaps[i]);
        }
        for (std::size_t i = 0; i < part.pads.size(); ++i)
            if (gaps[i] > 0.0 && gaps[i] <= nearest * kAsNear)
                votes.push_back({quarter_of(geometry::bearing(part.pads[i].at - pad.at).degrees()), 1.0});
    }
    return votes;
}

Angle to_half_quarter(double deg) {
    const double turn = deg > 45.0 ? deg - 90.0 : deg;
    return Angle::degrees(std::abs(turn) <= kSameVote_deg ? 0.0 : turn);
}

} // namespace

Angle own_axes(const document::Footprint& part) {
    std::vector<Vote> copper;
    for (const document::Pad& pad : part.pads)
        add_shape_votes(pad.shape, pad.turn, copper);
    const Ballot edges(std::move(copper));
    const double frame = frame_of(part);
    constexpr double kClear = 0.75;
    Vote clear{0.0, 0.0};
    for (const Vote& vote : edges.votes())
        if (const double share = edges.share(vote.deg); share > clear.weight + 1e-9) clear = {vote.deg, share};
    if (clear.weight >= kClear) return to_half_quarter(edges.strongest_near(clear.deg).deg);

    std::vector<Vote> outline;
    if (part.body) add_shape_votes(part.body->shape, part.body->turn, outline);
    const Ballot body(std::move(outline));
    const Ballot neighbours(neighbour_votes(part));
    const auto worth_of = [](double share, double least) { return share >= least ? share : 0.0; };
    const auto worth = [&](double deg) {
        const bool is_frame = std::abs(apart(deg, frame)) <= kSameDirection_deg;
        return worth_of(edges.share(deg), kLeastEdgeShare) + kBodyWorth * worth_of(body.share(deg), kLeastEdgeShare) +
               kNeighbourWorth * worth_of(neighbours.share(deg), kLeastNeighbourShare) + (is_frame ? kFrameWorth : 0.0);
    };
    Vote best{frame, worth(frame)};
    for (const Ballot* ballot : {&edges, &body, &neighbours})
        for (const Vote& vote : ballot->votes())
            if (const double here = worth(vote.deg); here > best.weight + 1e-9) best = {vote.deg, here};
    if (std::abs(apart(best.deg, frame)) <= kSameVote_deg) return to_half_quarter(frame);
    for (const Ballot* ballot : {&edges, &body, &neighbours})
        if (const Vote near = ballot->strongest_near(best.deg); near.weight > 0.0) return to_half_quarter(near.deg);
    return to_half_quarter(best.deg);
}

} // namespace padchart::analysis::fitting
