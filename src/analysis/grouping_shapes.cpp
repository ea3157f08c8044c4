#include "analysis/grouping_shapes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <set>

#include "base/counted.hpp"
#include "geometry/box_index.hpp"
#include "geometry/turned_box.hpp"

namespace padchart::analysis {
namespace {

using geometry::Vec2;
using Indices = std::vector<std::size_t>;

// All common practice, no source.
constexpr double kSameSize = 0.15;     ///< sides of equal lands differ by less than this share
constexpr double kSamePitch = 0.12;    ///< places of a row are off by less than this share of the pitch
constexpr double kSquare = 0.15;       ///< cosine below which two directions are at right angles
constexpr double kRowReach_mm = 2.8;   ///< the widest pitch looked for
constexpr double kSpan_mm = 25.0;      ///< two rows farther apart than this are two parts
constexpr double kPairGap = 1.5;       ///< two lands face each other across at most this many of their own lengths
constexpr double kWidePairGap = 1.3;   ///< ... or of their widths, where they are wider than long
constexpr double kRowTighter = 0.75;   ///< in a row neighbours are nearer than this share of the way across
constexpr double kCentreLand = 3.0;    ///< a centre land is this many times as large as one of a row
constexpr double kDrawnSize_mm = 0.06; ///< ... or by no more than a hand draws two sides wrong
constexpr double kDrawnPlace_mm = 0.1; ///< ... or by no more than a hand puts two lands wrong
constexpr double kOddSize = 0.4;       ///< a land in a gap of a row may be this much of another size
constexpr double kTabWide = 1.2;       ///< a tab is this many pitches of its leads wide
constexpr double kTabReach = 4.0;      ///< ... and this many pitches away from them at most
constexpr std::size_t kTabLeads = 3;
constexpr std::size_t kLeastGrid = 3; ///< rows and columns below which a lattice is not told from rows of chips
/// ... but where its lands are round, as no chip's are: a connector's pins, a small array's balls.
constexpr std::size_t kLeastRoundGrid = 2, kLeastRoundLands = 6;
constexpr double kRound = 0.05; ///< a round land's sides and area are a circle's within this share

/// Small lands are drawn as far off as large ones: the share of a side alone would tear them apart.
bool same_size(const DrawnLand& a, const DrawnLand& b) {
    const auto alike = [](double p, double q) {
        const double larger = std::max(p, q);
        return std::abs(p - q) <= std::max(kSameSize * larger, std::min(kDrawnSize_mm, 0.25 * larger));
    };
    return alike(a.longer_mm, b.longer_mm) && alike(a.shorter_mm, b.shorter_mm);
}

bool fills_a_gap(const DrawnLand& a, const DrawnLand& b) {
    const auto alike = [](double p, double q) { return std::abs(p - q) <= kOddSize * std::max(p, q); };
    return alike(a.longer_mm, b.longer_mm) && alike(a.shorter_mm, b.shorter_mm);
}

/// How far a land may lie off its place.
double slack_of(double pitch) {
    return std::max(kSamePitch * pitch, std::min(kDrawnPlace_mm, 0.2 * pitch));
}

/// How far the land reaches from its centre along a direction, both ways together.
double extent_along(const DrawnLand& land, Vec2 u) {
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    for (const Vec2 p : land.outline) {
        low = std::min(low, dot(p, u));
        high = std::max(high, dot(p, u));
    }
    return high - low;
}

double gap_along(const DrawnLand& a, const DrawnLand& b) {
    const Vec2 way = b.centre - a.centre;
    const double far = geometry::length(way);
    const Vec2 u = way / far;
    return far - (extent_along(a, u) + extent_along(b, u)) / 2.0;
}

bool is_round(const DrawnLand& land) {
    const double circle = std::numbers::pi / 4.0 * land.longer_mm * land.longer_mm;
    return land.longer_mm - land.shorter_mm <= kRound * land.longer_mm &&
           std::abs(std::abs(geometry::signed_area(land.outline)) - circle) <= kRound * circle;
}

class Grouper {
public:
    Grouper(const std::vector<DrawnLand>& lands, const std::stop_token& stop)
        : lands_(lands), stop_(stop), free_(lands.size(), true), copy_(copies(lands)), index_(boxes(lands, copy_)) {
        for (std::size_t i = 0; i < lands.size(); ++i)
            if (copy_[i]) take({GroupKind::Single, {i}, fmt::format("one pad {}, drawn on its like", size_words(i))});
    }

    std::vector<LandSet> run() {
        grids();
        rows();
        threes();
        pairs();
        for (std::size_t i = 0; i < lands_.size(); ++i)
            if (free_[i]) take({GroupKind::Single, {i}, single_words(i)});
        std::sort(sets_.begin(), sets_.end(), [](const LandSet& a, const LandSet& b) {
            return *std::min_element(a.lands.begin(), a.lands.end()) <
                   *std::min_element(b.lands.begin(), b.lands.end());
        });
        return std::move(sets_);
    }

private:
    /// Lands drawn on one that came before, to a micrometre: thousands on one place would all be each other's
    /// neighbours.
    static std::vector<bool> copies(const std::vector<DrawnLand>& lands) {
        constexpr double kSame_mm = 1e-3;
        const auto whole = [](double v) { return std::llround(v / kSame_mm); };
        std::set<std::array<long long, 4>> seen;
        std::vector<bool> all;
        for (const DrawnLand& land : lands)
            all.push_back(!seen.insert({whole(land.box.min.x), whole(land.box.min.y), whole(land.box.max.x),
                                        whole(land.box.max.y)})
                               .second);
        return all;
    }

    static std::vector<geometry::Box> boxes(const std::vector<DrawnLand>& lands, const std::vector<bool>& copy) {
        std::vector<geometry::Box> all;
        for (std::size_t i = 0; i < lands.size(); ++i)
            all.push_back(copy[i] ? geometry::Box{} : lands[i].box);
        return all;
    }

    void take(LandSet set) {
        for (const std::size_t i : set.lands)
            free_[i] = false;
        sets_.push_back(std::move(set));
    }

    [[nodiscard]] Vec2 at(std::size_t i) const { return lands_[i].centre; }
    [[nodiscard]] double far(std::size_t i, std::size_t j) const { return geometry::distance(at(i), at(j)); }

    /// Free lands of the same size whose centres are within reach, nearest first.
    [[nodiscard]] Indices like(std::size_t i, double reach) const {
        Indices found;
        for (const std::size_t j : index_.touching(lands_[i].box.grown(reach)))
            if (j != i && free_[j] && far(i, j) <= reach && far(i, j) > 0.0 && same_size(lands_[i], lands_[j]))
                found.push_back(j);
        std::stable_sort(found.begin(), found.end(),
                         [&](std::size_t a, std::size_t b) { return far(i, a) < far(i, b); });
        return found;
    }

    /// The free land of the size of `i` within `slack` of a place.
    [[nodiscard]] std::optional<std::size_t> like_at(std::size_t i, Vec2 place, double slack,
                                                     bool is_alike(const DrawnLand&,
                                                                   const DrawnLand&) = same_size) const {
        geometry::Box box;
        box.add(place);
        std::optional<std::size_t> best;
        for (const std::size_t j : index_.touching(box.grown(slack)))
            if (j != i && free_[j] && geometry::distance(at(j), place) <= slack && is_alike(lands_[i], lands_[j]))
                if (!best || geometry::distance(at(j), place) < geometry::distance(at(*best), place)) best = j;
        return best;
    }

    [[nodiscard]] std::string size_words(std::size_t i) const {
        return fmt::format("{:.2g} x {:.2g} mm", lands_[i].longer_mm, lands_[i].shorter_mm);
    }

    [[nodiscard]] std::string single_words(std::size_t i) const {
        return fmt::format("one pad {}, with no partner of its size at a distance a part would have", size_words(i));
    }

    // Lattices -------------------------------------------------------------------------------------------------------

    void grids() {
        for (std::size_t i = 0; i < lands_.size(); ++i)
            if (free_[i] && !stop_.stop_requested()) try_grid(i);
    }

    void try_grid(std::size_t seed) {
        const Indices near = like(seed, kRowReach_mm);
        if (near.size() < 2) return;
        const Vec2 u = at(near[0]) - at(seed);
        const double pitch = geometry::length(u);
        const Vec2 v{-u.y, u.x};
        const double slack = slack_of(pitch);
        Indices grid{seed};
        std::vector<bool> seen(lands_.size(), false);
        seen[seed] = true;
        std::size_t both_ways = 0;
        for (std::size_t next = 0; next < grid.size(); ++next) {
            bool along = false;
            bool across = false;
            for (const Vec2 step : {u, -u, v, -v}) {
                const auto j = like_at(grid[next], at(grid[next]) + step, slack);
                if (!j) continue;
                (std::abs(dot(step, u)) > 0.5 * pitch * pitch ? along : across) = true;
                if (!seen[*j]) {
                    seen[*j] = true;
                    grid.push_back(*j);
                }
            }
            if (along && across) ++both_ways;
        }
        const std::size_t columns = places_along(grid, u / pitch, pitch);
        const std::size_t rows = places_along(grid, v / pitch, pitch);
        const bool round = is_round(lands_[seed]);
        const std::size_t least = round ? kLeastRoundGrid : kLeastGrid;
        if (rows < least || columns < least || 2 * both_ways < grid.size()) return;
        const bool is_small = rows < kLeastGrid || columns < kLeastGrid;
        if (is_small && grid.size() < kLeastRoundLands) return;
        const std::string why =
            fmt::format("{} equal {}pads {} on a lattice of {} x {} places, {:.2f} mm apart both ways: {}", grid.size(),
                        round ? "round " : "", size_words(seed), rows, columns, pitch,
                        is_small ? "a connector or a small array, since a chip's pads are not round" : "a grid array");
        take({GroupKind::Grid, std::move(grid), why});
    }

    [[nodiscard]] std::size_t places_along(const Indices& set, Vec2 unit, double pitch) const {
        double low = std::numeric_limits<double>::infinity();
        double high = -low;
        for (const std::size_t i : set) {
            low = std::min(low, dot(at(i), unit));
            high = std::max(high, dot(at(i), unit));
        }
        return static_cast<std::size_t>(std::lround((high - low) / pitch)) + 1;
    }

    // Rows -----------------------------------------------------------------------------------------------------------

    struct Run {
        Indices lands; ///< in their order along the row
        Vec2 unit;
        double pitch = 0.0;
    };

    /// From a first land on, as long as the next one lies where it should.
    [[nodiscard]] Run run_from(std::size_t first, std::size_t second) const {
        Run run{{first, second}, {}, 0.0};
        Vec2 step = at(second) - at(first);
        for (;;) {
            const std::size_t last = run.lands.back();
            const double slack = slack_of(geometry::length(step));
            auto next = like_at(last, at(last) + step, slack);
            if (!next && like_at(last, at(last) + step * 2.0, slack))
                next = like_at(first, at(last) + step, slack, fills_a_gap);
            if (!next || std::find(run.lands.begin(), run.lands.end(), *next) != run.lands.end()) break;
            run.lands.push_back(*next);
            step = (at(*next) - at(first)) / static_cast<double>(run.lands.size() - 1);
        }
        run.pitch = geometry::length(step);
        run.unit = step / run.pitch;
        return run;
    }

    /// Row lands stand side by side: nearer to each other than to what faces them.
    [[nodiscard]] bool is_row(const Run& run) const {
        if (run.lands.size() < 3) return false;
        const DrawnLand& land = lands_[run.lands[1]];
        const double beside = run.pitch - extent_along(land, run.unit);
        const double across = nearest_across(run.lands[1], run.unit);
        return beside < kRowTighter * across;
    }

    [[nodiscard]] double nearest_across(std::size_t i, Vec2 unit) const {
        double nearest = std::numeric_limits<double>::infinity();
        for (const std::size_t j : like(i, 2.0 * kRowReach_mm)) {
            const Vec2 way = (at(j) - at(i)) / far(i, j);
            if (std::abs(dot(way, unit)) < kSquare) nearest = std::min(nearest, gap_along(lands_[i], lands_[j]));
        }
        return nearest;
    }

    [[nodiscard]] std::optional<Run> best_run_through(std::size_t i) const {
        std::optional<Run> best;
        Indices near = like(i, kRowReach_mm);
        if (near.size() > 6) near.resize(6);
        for (const std::size_t j : near) {
            // Back to the row's beginning, then all along it.
            Indices back = run_from(j, i).lands;
            const Run run = run_from(back.back(), back[back.size() - 2]);
            if (!is_row(run)) continue;
            const bool better = !best || run.lands.size() > best->lands.size() ||
                                (run.lands.size() == best->lands.size() && run.pitch < best->pitch);
            if (better) best = run;
        }
        return best;
    }

    void rows() {
        std::vector<Run> runs;
        for (std::size_t i = 0; i < lands_.size(); ++i) {
            if (!free_[i] || stop_.stop_requested()) continue;
            auto run = best_run_through(i);
            if (!run) continue;
            for (const std::size_t j : run->lands)
                free_[j] = false;
            runs.push_back(std::move(*run));
        }
        for (const Run& run : runs) // what faces a row may be no row of its own
            for (const std::size_t j : run.lands)
                free_[j] = true;
        join(std::move(runs));
    }

    /// Lands on one line parallel to the row, each across from a place of it; the nearest such line with at least half
    /// as many.
    [[nodiscard]] Indices facing(const Run& run) const {
        const double slack = slack_of(run.pitch);
        std::vector<Across> all;
        for (const std::size_t i : run.lands)
            for (const std::size_t j : like(i, kSpan_mm)) {
                const double offset = offset_of(run, j);
                const bool is_across = std::abs(dot(at(j) - at(i), run.unit)) <= across_slack(run, offset);
                if (is_across && std::abs(offset) > 0.5 * run.pitch) all.push_back({offset, j});
            }
        std::stable_sort(all.begin(), all.end(),
                         [](const Across& a, const Across& b) { return std::abs(a.offset) < std::abs(b.offset); });
        for (const Across& first : all) {
            Indices line;
            for (const Across& other : all)
                if (std::abs(other.offset - first.offset) <= slack) line.push_back(other.land);
            if (2 * line.size() >= run.lands.size()) return line;
        }
        return {};
    }

    /// A short row is drawn a little askew, and that shows the more the farther away one looks.
    static double across_slack(const Run& run, double offset) {
        const double askew = 0.5 * kDrawnPlace_mm / (run.pitch * static_cast<double>(run.lands.size() - 1));
        return std::min(slack_of(run.pitch) + askew * std::abs(offset), 0.3 * run.pitch);
    }

    struct Across {
        double offset;
        std::size_t land;
    };

    /// How far a land lies off the line through the row: of the whole row, since each of its lands is a little off.
    [[nodiscard]] double offset_of(const Run& run, std::size_t j) const {
        Vec2 middle;
        for (const std::size_t i : run.lands)
            middle += at(i) / static_cast<double>(run.lands.size());
        return dot(at(j) - middle, Vec2{-run.unit.y, run.unit.x});
    }

    struct Block {
        Indices lands;
        Run run;
        bool two = false;
        Vec2 centre;
        std::size_t odd = 0;  ///< lands of another size that fill a gap
        std::size_t gaps = 0; ///< places that stay empty
    };

    /// Takes in the free lands that lie where a row across lacks one, and counts what is lacking still.
    void fill_gaps(Block& block, const Indices& across) {
        const Run& run = block.run;
        const Vec2 origin = at(run.lands[0]);
        std::set<long> empty;
        for (std::size_t k = 0; k < run.lands.size(); ++k)
            empty.insert(static_cast<long>(k));
        Vec2 line;
        for (const std::size_t j : across) {
            const double along = dot(at(j) - origin, run.unit);
            empty.erase(std::lround(along / run.pitch));
            line += (at(j) - run.unit * along) / static_cast<double>(across.size());
        }
        for (const long place : empty) {
            const Vec2 where = line + run.unit * (static_cast<double>(place) * run.pitch);
            const auto odd = like_at(run.lands[0], where, slack_of(run.pitch), fills_a_gap);
            if (odd)
                block.lands.push_back(*odd);
            else
                ++block.gaps;
        }
    }

    void join(std::vector<Run> runs) {
        std::stable_sort(runs.begin(), runs.end(),
                         [](const Run& a, const Run& b) { return a.lands.size() > b.lands.size(); });
        std::vector<Block> blocks;
        for (Run& run : runs) {
            if (stop_.stop_requested()) return;
            if (!std::all_of(run.lands.begin(), run.lands.end(), [&](std::size_t i) { return free_[i]; })) continue;
            Block block{run.lands, run, false, {}, 0, 0};
            const Indices across = facing(run);
            block.two = !across.empty();
            block.lands.insert(block.lands.end(), across.begin(), across.end());
            if (block.two) fill_gaps(block, across);
            for (const std::size_t i : block.lands)
                if (!same_size(lands_[i], lands_[run.lands[0]])) ++block.odd;
            for (const std::size_t i : block.lands)
                free_[i] = false;
            geometry::Box box;
            for (const std::size_t i : block.lands)
                box.add(at(i));
            block.centre = box.centre();
            blocks.push_back(std::move(block));
        }
        join_blocks(std::move(blocks));
    }

    /// Two pairs of rows at right angles about one centre are four rows.
    void join_blocks(std::vector<Block> blocks) {
        std::vector<bool> done(blocks.size(), false);
        for (std::size_t i = 0; i < blocks.size(); ++i) {
            if (done[i] || stop_.stop_requested()) continue;
            Block& block = blocks[i];
            bool four = false;
            for (std::size_t j = i + 1; j < blocks.size() && !four && block.two; ++j) {
                const Block& other = blocks[j];
                if (done[j] || !other.two || std::abs(dot(block.run.unit, other.run.unit)) > kSquare) continue;
                if (geometry::distance(block.centre, other.centre) > block.run.pitch) continue;
                block.lands.insert(block.lands.end(), other.lands.begin(), other.lands.end());
                block.odd += other.odd;
                block.gaps += other.gaps;
                done[j] = four = true;
            }
            finish(block, four);
        }
    }

    void finish(Block& block, bool four) {
        GroupKind kind = four ? GroupKind::FourRows : block.two ? GroupKind::TwoRows : GroupKind::Row;
        const std::size_t first = block.run.lands[0];
        std::string why = fmt::format("{} equal pads {} in {}, pitch {:.2f} mm", block.lands.size(), size_words(first),
                                      four        ? "four rows about one centre"
                                      : block.two ? "two rows that face each other"
                                                  : "one row",
                                      block.run.pitch);
        why += remarks_on(block, four);
        if (block.lands.size() >= 4 || block.two)
            if (const auto centre = centre_land(block)) {
                why += fmt::format(", and a centre pad {}", size_words(*centre));
                block.lands.push_back(*centre);
            }
        if (const auto tab = tab_of(block)) {
            kind = GroupKind::Tab;
            why += fmt::format(", and a tab {} across from them", size_words(*tab));
            block.lands.push_back(*tab);
        }
        take({kind, block.lands, std::move(why), block.gaps});
    }

    [[nodiscard]] std::string remarks_on(const Block& block, bool four) const {
        std::string words;
        if (block.odd > 0) words += fmt::format(", {} of them of another size but in a gap of the row", block.odd);
        if (block.gaps > 0) words += fmt::format(", {} of its rows empty", counted(block.gaps, "place"));
        const std::size_t half = block.run.lands.size();
        if (block.two && !four && 2 * half == block.lands.size() && block.odd == 0 && are_pairs_too(block))
            words += fmt::format(" (or {} two-terminal parts side by side: look)", half);
        return words;
    }

    /// Each land faces one across as the lands of a chip do.
    [[nodiscard]] bool are_pairs_too(const Block& block) const {
        const auto half = static_cast<std::ptrdiff_t>(block.run.lands.size());
        const auto begin = block.lands.begin();
        return std::all_of(begin, begin + half, [&](std::size_t i) {
            return std::any_of(begin + half, block.lands.end(), [&](std::size_t j) {
                return std::abs(dot(at(j) - at(i), block.run.unit)) <= slack_of(block.run.pitch) && faces(i, j);
            });
        });
    }

    /// The one larger land across from the middle of three leads, wide along their row.
    [[nodiscard]] std::optional<std::size_t> tab_of(const Block& block) const {
        if (block.two || block.run.lands.size() != kTabLeads) return std::nullopt;
        const Run& run = block.run;
        const Vec2 middle = at(run.lands[kTabLeads / 2]);
        geometry::Box box;
        box.add(middle);
        std::optional<std::size_t> best;
        for (const std::size_t j : index_.touching(box.grown(kTabReach * run.pitch))) {
            const Vec2 way = at(j) - middle;
            const bool across =
                std::abs(dot(way, run.unit)) <= slack_of(run.pitch) && geometry::length(way) <= kTabReach * run.pitch;
            if (!free_[j] || !across || extent_along(lands_[j], run.unit) < kTabWide * run.pitch) continue;
            if (!best || far(run.lands[1], j) < far(run.lands[1], *best)) best = j;
        }
        return best;
    }

    [[nodiscard]] std::optional<std::size_t> centre_land(const Block& block) const {
        if (!block.two) return std::nullopt;
        geometry::Box box;
        box.add(block.centre);
        const DrawnLand& one = lands_[block.lands[0]];
        for (const std::size_t j : index_.touching(box)) {
            const bool large =
                lands_[j].longer_mm * lands_[j].shorter_mm > kCentreLand * one.longer_mm * one.shorter_mm;
            if (free_[j] && large && geometry::distance(at(j), block.centre) <= block.run.pitch) return j;
        }
        return std::nullopt;
    }

    // Threes and pairs -----------------------------------------------------------------------------------------------

    void threes() {
        for (std::size_t i = 0; i < lands_.size(); ++i) {
            if (!free_[i] || stop_.stop_requested()) continue;
            const Indices near = like(i, 2.0 * kRowReach_mm);
            if (near.size() < 2) continue;
            const Indices three{i, near[0], near[1]};
            if (is_isolated(three)) try_three(three);
        }
    }

    /// The two nearest of each are the two others, and the next one is clearly farther.
    [[nodiscard]] bool is_isolated(const Indices& three) const {
        double widest = 0.0;
        for (std::size_t k = 0; k < 3; ++k)
            widest = std::max(widest, far(three[k], three[(k + 1) % 3]));
        for (const std::size_t i : three)
            for (const std::size_t j : like(i, 1.3 * widest))
                if (std::find(three.begin(), three.end(), j) == three.end()) return false;
        return true;
    }

    void try_three(const Indices& three) {
        for (std::size_t k = 0; k < 3; ++k) {
            const std::size_t apex = three[k];
            const std::size_t a = three[(k + 1) % 3];
            const std::size_t b = three[(k + 2) % 3];
            const double base = far(a, b);
            const Vec2 height = at(apex) - geometry::lerp(at(a), at(b), 0.5);
            const double cosine = dot(height, at(b) - at(a)) / (geometry::length(height) * base);
            const double ratio = geometry::length(height) / base;
            if (std::abs(cosine) > kSquare || ratio < 0.5 || ratio > 2.0) continue;
            take({GroupKind::Three,
                  {a, b, apex},
                  fmt::format("three equal pads {}, two {:.2f} mm apart and one across from their middle at {:.2f} mm, "
                              "nothing alike within {:.1f} mm",
                              size_words(apex), base, geometry::length(height), 1.3 * base)});
            return;
        }
    }

    /// How far apart two lands may lie and still be one part's.
    [[nodiscard]] bool faces(std::size_t i, std::size_t j) const {
        const Vec2 u = (at(j) - at(i)) / far(i, j);
        const Vec2 v{-u.y, u.x};
        const double along = extent_along(lands_[i], u);
        const double wide = extent_along(lands_[i], v);
        const double gap = gap_along(lands_[i], lands_[j]);
        return gap > 0.0 && gap <= std::max(kPairGap * along, wide > along ? kWidePairGap * wide : 0.0);
    }

    void pairs() {
        struct Candidate {
            double gap;
            std::size_t i, j;
        };
        std::vector<Candidate> all;
        for (std::size_t i = 0; i < lands_.size(); ++i)
            if (free_[i] && !stop_.stop_requested())
                for (const std::size_t j : like(i, kPairGap * 4.0 * lands_[i].longer_mm))
                    if (j > i && is_straight(i, j) && faces(i, j) && is_apart(i, j))
                        all.push_back({skew_gap(i, j), i, j});
        std::stable_sort(all.begin(), all.end(), [](const Candidate& a, const Candidate& b) { return a.gap < b.gap; });
        for (const Candidate& c : all)
            if (free_[c.i] && free_[c.j]) take({GroupKind::Pair, {c.i, c.j}, pair_words(c.i, c.j)});
    }

    /// A chip's lands are not round: two round ones are a pair only where no third lies as near.
    [[nodiscard]] bool is_apart(std::size_t i, std::size_t j) const {
        if (!is_round(lands_[i])) return true;
        const double pitch = far(i, j);
        for (const std::size_t a : {i, j})
            for (const std::size_t b : like(a, pitch + slack_of(pitch)))
                if (b != i && b != j) return false;
        return true;
    }

    /// Lands of one part lie across from each other: along a side of the land, not askew.
    [[nodiscard]] bool is_straight(std::size_t i, std::size_t j) const {
        const Vec2 u = (at(j) - at(i)) / far(i, j);
        double best = 1.0;
        const geometry::Ring& ring = lands_[i].outline;
        for (std::size_t k = 0; k < ring.size(); ++k) {
            const Vec2 edge = ring[(k + 1) % ring.size()] - ring[k];
            const double length = geometry::length(edge);
            if (length > 0.0) best = std::min(best, std::abs(cross(edge / length, u)));
        }
        return best < kSquare;
    }

    /// Lands across their longer sides are likelier one part than lands end to end: counted as that much nearer.
    [[nodiscard]] double skew_gap(std::size_t i, std::size_t j) const {
        const Vec2 u = (at(j) - at(i)) / far(i, j);
        return gap_along(lands_[i], lands_[j]) * extent_along(lands_[i], u) / extent_along(lands_[i], Vec2{-u.y, u.x});
    }

    [[nodiscard]] std::string pair_words(std::size_t i, std::size_t j) const {
        double other = std::numeric_limits<double>::infinity();
        for (const std::size_t a : {i, j})
            for (const std::size_t b : index_.touching(lands_[a].box.grown(1.0)))
                if (b != i && b != j) other = std::min(other, gap_along(lands_[a], lands_[b]));
        const std::string around = other >= 1.0 ? std::string("nothing else within 1 mm")
                                                : fmt::format("the next pad {:.2f} mm away", std::max(other, 0.0));
        return fmt::format("two pads {}, {:.2f} mm from middle to middle, {}", size_words(i), far(i, j), around);
    }

    const std::vector<DrawnLand>& lands_;
    const std::stop_token& stop_;
    std::vector<bool> free_;
    std::vector<bool> copy_;
    geometry::BoxIndex index_;
    std::vector<LandSet> sets_;
};

} // namespace

DrawnLand land_of(LoosePad from, geometry::Ring outline) {
    DrawnLand land;
    land.from = from;
    land.box = geometry::bounds(outline);
    const geometry::TurnedBox narrowest = geometry::narrowest_box(outline);
    land.longer_mm = std::max(narrowest.length, narrowest.width);
    land.shorter_mm = std::min(narrowest.length, narrowest.width);
    land.centre = narrowest.centre;
    land.outline = std::move(outline);
    return land;
}

std::vector<LandSet> sets_of(const std::vector<DrawnLand>& lands, const std::stop_token& stop) {
    if (lands.empty()) return {};
    return Grouper(lands, stop).run();
}

} // namespace padchart::analysis
