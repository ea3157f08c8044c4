#include "analysis/compare_register.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numeric>

namespace padchart::analysis {
namespace {

using geometry::Affine;
using geometry::Vec2;

constexpr std::size_t kTryAllPairsBelow = 48;
constexpr std::size_t kTries = 500;
constexpr double kExact_mm = 1e-6;
/// A mirrored explanation (or a straight one, where mirrored is preferred) must explain that much more weight.
constexpr double kMargin = 0.9;
/// So much more must agree with a stretched chart than with one that is not.
constexpr double kWorthStretching = 1.2;
/// Of the outline's corners and holes; with three parts besides these are fixed points enough, however many parts
/// moved.
constexpr double kWholeOutline = 0.9;

Vec2 mirrored_in_x(Vec2 p) {
    return {-p.x, p.y};
}

/// From sums of products to a motion: rotation by the angle of (cosine, sine), both times a common factor.
Motion motion_from(Vec2 before_mean, Vec2 after_mean, double cosine, double sine, double scale, bool mirrored) {
    const double size = std::hypot(cosine, sine);
    const double c = size > 0.0 ? cosine / size * scale : scale;
    const double s = size > 0.0 ? sine / size * scale : 0.0;
    const Affine turn{c, s, -s, c, 0, 0};
    const Affine flip = mirrored ? Affine::scaling(-1, 1) : Affine{};
    Motion motion;
    motion.before_from_after = Affine::translation(before_mean) * turn * flip * Affine::translation(-after_mean);
    motion.scale = scale;
    motion.mirrored = mirrored;
    return motion;
}

double clamped_scale(double scale, double freedom) {
    return std::clamp(scale, 1.0 - freedom, 1.0 + freedom);
}

double residual(const Motion& motion, const PointPair& pair) {
    return geometry::distance(motion.before_from_after(pair.after), pair.before);
}

double total_weight(const std::vector<PointPair>& pairs) {
    return std::accumulate(pairs.begin(), pairs.end(), 0.0,
                           [](double sum, const PointPair& pair) { return sum + pair.weight; });
}

/// Weight that agrees, less where it agrees loosely.
double score(const Motion& motion, const std::vector<PointPair>& pairs, double gate_mm) {
    double sum = 0.0;
    for (const PointPair& pair : pairs) {
        const double share = residual(motion, pair) / gate_mm;
        if (share < 1.0) sum += pair.weight * (1.0 - share * share);
    }
    return sum;
}

/// Nothing where the two distances cannot be the same one.
std::optional<Motion> motion_of_two(const PointPair& p, const PointPair& q, bool mirrored, const MotionLimits& limits) {
    const double before = geometry::distance(p.before, q.before);
    const double after = geometry::distance(p.after, q.after);
    if (before <= limits.gate_mm || after <= limits.gate_mm) return std::nullopt;
    const double scale = clamped_scale(before / after, limits.scale_freedom);
    if (std::abs(before - scale * after) > limits.gate_mm) return std::nullopt;
    return least_squares_motion({{p.before, p.after, 1.0}, {q.before, q.after, 1.0}}, mirrored, limits.scale_freedom);
}

/// Pairs of positions to try: all of few points, a fixed draw of many.
std::vector<std::pair<std::size_t, std::size_t>> tries_for(std::size_t count) {
    std::vector<std::pair<std::size_t, std::size_t>> out;
    if (count < kTryAllPairsBelow) {
        for (std::size_t i = 0; i < count; ++i)
            for (std::size_t k = i + 1; k < count; ++k)
                out.emplace_back(i, k);
        return out;
    }
    std::uint64_t state = 0x9E3779B97F4A7C15U;
    const auto next = [&] { // multiplier and addend of Knuth's MMIX, from memory; high bits are the better ones
        state = state * 6364136223846793005U + 1442695040888963407U;
        return static_cast<std::size_t>((state >> 33U) % count);
    };
    while (out.size() < kTries) {
        const std::size_t i = next();
        const std::size_t k = next();
        if (i != k) out.emplace_back(i, k);
    }
    return out;
}

struct Best {
    Motion motion;
    double score = -1.0;
};

Best best_of_kind(const std::vector<PointPair>& pairs, bool mirrored, const MotionLimits& limits) {
    Best best;
    if (!mirrored) best = {Motion{}, score(Motion{}, pairs, limits.gate_mm)};
    for (const auto& [i, k] : tries_for(pairs.size()))
        if (const auto motion = motion_of_two(pairs[i], pairs[k], mirrored, limits))
            if (const double value = score(*motion, pairs, limits.gate_mm); value > best.score + 1e-9)
                best = {*motion, value};
    return best;
}

double median(std::vector<double> values) {
    if (values.empty()) return 0.0;
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

/// Weighted anew by how well each point agrees: the exact majority wins over what moved a little.
Motion refined(Motion motion, const std::vector<PointPair>& pairs, const MotionLimits& limits) {
    for (int round = 0; round < 12; ++round) {
        std::vector<PointPair> near;
        std::vector<double> distances;
        for (const PointPair& pair : pairs) {
            const double r = residual(motion, pair);
            if (r > 1.5 * limits.gate_mm) continue;
            near.push_back(pair);
            distances.push_back(r);
        }
        if (near.size() < 2) return motion;
        const double soft = std::max(median(distances), 1e-5);
        for (std::size_t i = 0; i < near.size(); ++i)
            near[i].weight /= 1.0 + distances[i] * distances[i] / (soft * soft);
        motion = least_squares_motion(near, motion.mirrored, limits.scale_freedom);
    }
    return motion;
}

bool holds_exactly(const Motion& motion, const std::vector<PointPair>& pairs) {
    double exact = 0.0;
    for (const PointPair& pair : pairs)
        if (residual(motion, pair) <= kExact_mm) exact += pair.weight;
    return exact > total_weight(pairs) / 2;
}

// Points of charts -----------------------------------------------------------------------------------------------

std::vector<double> edge_lengths(const geometry::Ring& ring) {
    std::vector<double> out;
    for (std::size_t i = 0; i < ring.size(); ++i)
        out.push_back(geometry::distance(ring[i], ring[(i + 1) % ring.size()]));
    return out;
}

/// How many corners on the second ring begins, judged by the lengths of the edges; 0 unless another is clearly better.
std::size_t shift_between(const geometry::Ring& before, const geometry::Ring& after) {
    const std::vector<double> a = edge_lengths(before);
    const std::vector<double> b = edge_lengths(after);
    std::size_t best = 0;
    double best_sum = -1.0;
    for (std::size_t shift = 0; shift < a.size(); ++shift) {
        double sum = 0.0;
        for (std::size_t i = 0; i < a.size(); ++i)
            sum += std::abs(a[i] - b[(i + shift) % b.size()]);
        if (best_sum >= 0.0 && sum >= best_sum - 1e-3) continue;
        best = shift;
        best_sum = sum;
    }
    return best;
}

void add_outline(const document::Chart& before, const document::Chart& after, std::vector<PointPair>& out) {
    constexpr std::size_t kMostCorners = 500;
    if (!before.board.outline || !after.board.outline) return;
    const geometry::Ring& a = before.board.outline->outer;
    const geometry::Ring& b = after.board.outline->outer;
    if (a.size() == b.size() && !a.empty() && a.size() <= kMostCorners) {
        const std::size_t shift = shift_between(a, b);
        // A traced curve has many points and says no more than a few corners do.
        const double weight = std::min(1.0, 4.0 / static_cast<double>(a.size()));
        for (std::size_t i = 0; i < a.size(); ++i)
            out.push_back({a[i], b[(i + shift) % b.size()], weight});
    }
    if (before.board.outline->holes.size() != after.board.outline->holes.size()) return;
    for (std::size_t i = 0; i < before.board.outline->holes.size(); ++i)
        out.push_back({geometry::centroid(before.board.outline->holes[i]),
                       geometry::centroid(after.board.outline->holes[i]), 1.0});
}

std::vector<PointPair> points_of(const document::Chart& before, const document::Chart& after,
                                 const std::vector<PartPair>& pairs) {
    std::vector<PointPair> out;
    add_outline(before, after, out);
    for (const PartPair& pair : pairs)
        out.push_back({middle_on_board(before.parts[pair.before]), middle_on_board(after.parts[pair.after]), 1.0});
    return out;
}

bool most_changed_side(const document::Chart& before, const document::Chart& after,
                       const std::vector<PartPair>& pairs) {
    const auto changed = std::count_if(pairs.begin(), pairs.end(), [&](const PartPair& pair) {
        return before.parts[pair.before].placement.side != after.parts[pair.after].placement.side;
    });
    return 2 * static_cast<std::size_t>(changed) > pairs.size();
}

double uncertainty_of(const document::Chart& chart) {
    return chart.scale ? chart.scale->relative_uncertainty : 0.0;
}

double agreeing_weight(const Motion& motion, const std::vector<PointPair>& points, double gate_mm) {
    double sum = 0.0;
    for (const PointPair& point : points)
        if (residual(motion, point) <= gate_mm) sum += point.weight;
    return sum;
}

/// The first `of_outline` points are the outline's, the others parts.
bool outline_and_parts_agree(const Motion& motion, const std::vector<PointPair>& points, std::size_t of_outline,
                             double gate_mm) {
    constexpr std::size_t kLeastCorners = 4;
    const auto edge = points.begin() + static_cast<std::ptrdiff_t>(of_outline);
    const auto agrees = [&](const PointPair& point) { return residual(motion, point) <= gate_mm; };
    const auto corners = static_cast<double>(std::count_if(points.begin(), edge, agrees));
    return of_outline >= kLeastCorners && corners >= kWholeOutline * static_cast<double>(of_outline) &&
           std::count_if(edge, points.end(), agrees) >= 3;
}

void measure(Registration& out, const Motion& motion, const std::vector<PointPair>& points, std::size_t of_outline,
             double gate_mm) {
    double squares = 0.0;
    for (const PointPair& point : points) {
        const double r = residual(motion, point);
        if (r > gate_mm) continue;
        ++out.points_used;
        squares += r * r;
        out.worst_mm = std::max(out.worst_mm, r);
    }
    out.points = points.size();
    if (out.points_used > 0) out.rms_mm = std::sqrt(squares / static_cast<double>(out.points_used));
    const bool most_agree = 2 * agreeing_weight(motion, points, gate_mm) >= total_weight(points);
    out.is_sure = out.points_used >= 3 && (most_agree || outline_and_parts_agree(motion, points, of_outline, gate_mm));
}

} // namespace

Motion least_squares_motion(const std::vector<PointPair>& pairs, bool mirrored, double scale_freedom) {
    const double weight = total_weight(pairs);
    if (weight <= 0.0) return {};
    Vec2 before_mean;
    Vec2 after_mean;
    for (const PointPair& pair : pairs) {
        before_mean += pair.before * (pair.weight / weight);
        after_mean += pair.after * (pair.weight / weight);
    }
    double cosine = 0.0;
    double sine = 0.0;
    double spread = 0.0;
    for (const PointPair& pair : pairs) {
        const Vec2 b = pair.before - before_mean;
        const Vec2 a = mirrored ? mirrored_in_x(pair.after - after_mean) : pair.after - after_mean;
        cosine += pair.weight * geometry::dot(a, b);
        sine += pair.weight * geometry::cross(a, b);
        spread += pair.weight * geometry::dot(a, a);
    }
    const double free_scale = spread > 0.0 ? std::hypot(cosine, sine) / spread : 1.0;
    return motion_from(before_mean, after_mean, cosine, sine, clamped_scale(free_scale, scale_freedom), mirrored);
}

Motion robust_motion(const std::vector<PointPair>& pairs, const MotionLimits& limits) {
    if (pairs.empty() || holds_exactly(Motion{}, pairs)) return {};
    const Best straight = best_of_kind(pairs, false, limits);
    const Best mirrored = best_of_kind(pairs, true, limits);
    const double margin = limits.prefer_mirrored ? -kMargin : kMargin;
    const bool is_mirrored = mirrored.score > straight.score + margin;
    return refined(is_mirrored ? mirrored.motion : straight.motion, pairs, limits);
}

Registration register_charts(const document::Chart& before, const document::Chart& after,
                             const std::vector<PartPair>& pairs, double moved_mm) {
    const std::vector<PointPair> points = points_of(before, after, pairs);
    MotionLimits limits;
    limits.gate_mm = 2.0 * moved_mm;
    limits.prefer_mirrored = !pairs.empty() && most_changed_side(before, after, pairs);
    Motion motion = robust_motion(points, limits);
    // Lengths are stretched only where the charts cannot be laid on each other without: two moved parts can look like
    // a stretched chart.
    const double agrees = agreeing_weight(motion, points, limits.gate_mm);
    if (2 * agrees < total_weight(points)) {
        limits.scale_freedom = uncertainty_of(before) + uncertainty_of(after);
        const Motion stretched = robust_motion(points, limits);
        if (agreeing_weight(stretched, points, limits.gate_mm) > kWorthStretching * agrees) motion = stretched;
    }
    Registration out;
    out.before_from_after = motion.before_from_after;
    out.scale = motion.scale;
    out.mirrored = motion.mirrored;
    out.sides_swapped = motion.mirrored && limits.prefer_mirrored;
    measure(out, motion, points, points.size() - pairs.size(), limits.gate_mm);
    return out;
}

} // namespace padchart::analysis
