#include "analysis/heat_noaim.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "analysis/heat_sweep.hpp"
#include "analysis/heat_words.hpp"
#include "geometry/overlay.hpp"

namespace padchart::analysis {
namespace {

using geometry::Region;
using geometry::Vec2;

constexpr double kAims = 1800.0;
constexpr double kCoarsestAllowed = 5.0; // times the map's own step
constexpr double kFinestStep_mm = 0.25;
constexpr double kCoarsestStep_mm = 2.0;
constexpr int kFirstStride = 4;       // aims of the first lattice lie this many steps apart
constexpr float kNearLimit_k = 10.0F; // a square whose corners come this near is looked at more closely
constexpr float kNaN = std::numeric_limits<float>::quiet_NaN();

/// One field of numbers over the lattice whose sign matters: peak less limit, or joint less liquidus.
struct Field {
    std::vector<float> value;
};

/// Per watched thing the fields of the three cases; the last thing is the target's joint.
using Fields = std::vector<std::array<Field, 3>>;

Grid lattice_over(const geometry::Box& board, double step) {
    const auto count = [&](double length) {
        const int squares = std::max(1, static_cast<int>(std::ceil(length / (kFirstStride * step) - 1e-6)));
        return squares * kFirstStride + 1;
    };
    const int columns = count(board.width());
    const int rows = count(board.height());
    // The lattice is centred, so that what it reaches beyond the board is the same on both sides.
    const Vec2 spare{(columns - 1) * step - board.width(), (rows - 1) * step - board.height()};
    return {board.min - spare / 2.0 - Vec2{step / 2.0, step / 2.0}, step, columns, rows};
}

struct Survey {
    const HeatSetup& setup;
    const NoAimOptions& options;
    std::vector<std::size_t> watched; ///< neighbours that have a zone
    AimSweep sweep;
    Grid lattice;
    Fields fields;
    std::vector<bool> is_computed;
    std::size_t solves = 0;

    Survey(const HeatSetup& s, const NoAimOptions& o, double step)
        : setup(s), options(o), sweep(s, o.dwell_limited ? std::optional<double>(s.plan.dwell_s) : std::nullopt),
          lattice(lattice_over(geometry::bounds(s.layout.board), step)) {
        for (std::size_t k = 0; k < s.neighbours.size(); ++k)
            if (const auto& limits = s.neighbours[k].limits; limits && (limits->delicate || o.all_parts))
                watched.push_back(k);
        fields.resize(watched.size() + 1);
        for (auto& cases : fields)
            for (Field& field : cases)
                field.value.assign(lattice.size(), kNaN);
        is_computed.assign(lattice.size(), false);
    }

    void compute(const std::vector<std::size_t>& points) {
        std::vector<Vec2> aims;
        for (const std::size_t point : points)
            aims.push_back(lattice.centre(point));
        const auto results = sweep.run(aims, options.stop);
        if (options.stop.stop_requested()) return;
        solves += 4 * points.size();
        for (std::size_t p = 0; p < points.size(); ++p) {
            const auto& [low, nominal, high, spread] = results[p];
            is_computed[points[p]] = true;
            const auto put = [&](std::size_t thing, float a, float b, float c, float level) {
                fields[thing][0].value[points[p]] = std::min(a, b) - level;
                fields[thing][1].value[points[p]] = b - level;
                fields[thing][2].value[points[p]] = std::max(b, c) - level;
            };
            for (std::size_t w = 0; w < watched.size(); ++w) {
                const std::size_t k = watched[w];
                put(w, low.neighbour_c[k], nominal.neighbour_c[k], std::max(high.neighbour_c[k], spread.neighbour_c[k]),
                    static_cast<float>(setup.neighbours[k].limits->limit_c));
            }
            put(watched.size(), low.joint_c, nominal.joint_c, high.joint_c,
                static_cast<float>(setup.mixture.liquidus_c));
        }
    }

    /// Does any field come near zero between these corners?
    [[nodiscard]] bool is_undecided(const std::array<std::size_t, 4>& corner) const {
        if (options.refine_everywhere) return true;
        for (const auto& cases : fields)
            for (const Field& field : cases) {
                float least = std::numeric_limits<float>::infinity();
                float most = -least;
                for (const std::size_t c : corner) {
                    least = std::min(least, field.value[c]);
                    most = std::max(most, field.value[c]);
                }
                if (least < kNearLimit_k && most > -kNearLimit_k) return true;
            }
        return false;
    }

    /// Values between the corners of a square of `stride`, half-way points of its sides and its middle.
    void interpolate(int i, int j, int stride) {
        const int half = stride / 2;
        const std::size_t a = lattice.index(i, j), b = lattice.index(i + stride, j);
        const std::size_t c = lattice.index(i, j + stride), d = lattice.index(i + stride, j + stride);
        const auto fill = [&](int x, int y, std::initializer_list<std::size_t> from) {
            const std::size_t at = lattice.index(x, y);
            for (auto& cases : fields)
                for (Field& field : cases) {
                    if (!std::isnan(field.value[at])) continue;
                    float sum = 0.0F;
                    for (const std::size_t source : from)
                        sum += field.value[source];
                    field.value[at] = sum / static_cast<float>(from.size());
                }
        };
        fill(i + half, j, {a, b});
        fill(i, j + half, {a, c});
        fill(i + stride, j + half, {b, d});
        fill(i + half, j + stride, {c, d});
        fill(i + half, j + half, {a, b, c, d});
    }

    /// From squares of `stride` to squares of half of it: undecided ones get new aims, the others are interpolated.
    void refine(int stride) {
        const int half = stride / 2;
        std::vector<std::size_t> points;
        std::vector<bool> wanted(lattice.size(), false);
        const auto want = [&](int i, int j) {
            const std::size_t at = lattice.index(i, j);
            if (is_computed[at] || wanted[at]) return;
            wanted[at] = true;
            points.push_back(at);
        };
        for (int j = 0; j + stride < lattice.rows; j += stride)
            for (int i = 0; i + stride < lattice.columns; i += stride) {
                if (!is_undecided({lattice.index(i, j), lattice.index(i + stride, j), lattice.index(i, j + stride),
                                   lattice.index(i + stride, j + stride)}))
                    continue;
                want(i + half, j);
                want(i, j + half);
                want(i + half, j + half);
                want(i + stride, j + half);
                want(i + half, j + stride);
            }
        compute(serpentine(std::move(points)));
        for (int j = 0; j + stride < lattice.rows; j += stride)
            for (int i = 0; i + stride < lattice.columns; i += stride)
                interpolate(i, j, stride);
    }

    /// Row by row, every other row backwards: each aim lies beside the last.
    [[nodiscard]] std::vector<std::size_t> serpentine(std::vector<std::size_t> points) const {
        const auto width = static_cast<std::size_t>(lattice.columns);
        std::sort(points.begin(), points.end(), [&](std::size_t a, std::size_t b) {
            const std::size_t row_a = a / width, row_b = b / width;
            if (row_a != row_b) return row_a < row_b;
            return row_a % 2 == 0 ? a < b : a > b;
        });
        return points;
    }
};

/// Only every `stride`-th aim has a value yet.
struct Thinned {
    Grid grid;
    int stride = 1;

    [[nodiscard]] std::vector<float> of(const Grid& lattice, const std::vector<float>& values) const {
        std::vector<float> thin(grid.size());
        for (int j = 0; j < grid.rows; ++j)
            for (int i = 0; i < grid.columns; ++i)
                thin[grid.index(i, j)] = values[lattice.index(i * stride, j * stride)];
        return thin;
    }
};

Thinned thinned(const Grid& lattice, int stride) {
    const Vec2 first = lattice.centre(0, 0);
    const double step = lattice.cell_mm * stride;
    return {{first - Vec2{step / 2.0, step / 2.0}, step, (lattice.columns - 1) / stride + 1,
             (lattice.rows - 1) / stride + 1},
            stride};
}

std::vector<float> shifted(std::vector<float> values, double by) {
    for (float& value : values)
        value += static_cast<float>(by);
    return values;
}

std::vector<float> larger_of(std::vector<float> a, const std::vector<float>& b) {
    for (std::size_t k = 0; k < a.size(); ++k)
        a[k] = std::max(a[k], b[k]);
    return a;
}

constexpr std::string_view kTakeOut = "take-out"; // in assets/tables/materials.tsv
constexpr std::size_t kMostInTheWay = 3;

/// Those whose zones cover most of where the target melts; alone where one covers all of it.
std::vector<std::string> in_the_way(const NoAimMap& map) {
    std::vector<std::pair<double, const NoAimZone*>> found;
    for (const NoAimZone& zone : map.zones)
        if (!zone.is_to_be_out)
            if (const double covered = geometry::area(geometry::intersect(map.melts, zone.no_aim)); covered > 0.0)
                found.emplace_back(covered, &zone);
    std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    std::vector<std::string> names;
    const double whole = geometry::area(map.melts);
    for (const auto& [covered, zone] : found) {
        if (names.size() == kMostInTheWay || (!names.empty() && found.front().first >= 0.999 * whole)) break;
        names.push_back(zone->name);
    }
    return names;
}

/// What is left when all that has to be off the board is off it.
void look_without_those(NoAimMap& map, const std::vector<float>& hot_without, const Thinned& thin) {
    if (map.to_be_out.empty()) {
        map.good_without = map.good;
        map.likely_without = map.likely;
    } else {
        Region staying;
        for (const NoAimZone& zone : map.zones)
            if (!zone.is_to_be_out) staying.insert(staying.end(), zone.no_aim.begin(), zone.no_aim.end());
        map.likely_without = staying.empty() ? map.melts : geometry::subtract(map.melts, geometry::unite(staying));
        map.good_without = geometry::subtract(map.melts_surely, area_above(thin.grid, hot_without, 0.0F));
    }
    if (map.likely_without.empty()) map.in_the_way = in_the_way(map);
}

NoAimMap map_of(const Survey& survey, int stride) {
    const Thinned thin = thinned(survey.lattice, stride);
    const Region& board = survey.setup.layout.board;
    NoAimMap map;
    map.lattice = thin.grid;
    map.is_steady = !survey.options.dwell_limited;
    map.solves = survey.solves;
    map.iterations = survey.sweep.iterations();
    const auto field = [&](std::size_t thing, std::size_t which) {
        return thin.of(survey.lattice, survey.fields[thing][which].value);
    };
    const auto above = [&](const std::vector<float>& values) {
        return geometry::intersect(area_above(thin.grid, values, 0.0F), board);
    };
    std::array<std::vector<float>, 3> all;
    for (auto& values : all)
        values.assign(thin.grid.size(), -std::numeric_limits<float>::max());
    std::vector<float> hot_without = all[2];
    for (std::size_t w = 0; w < survey.watched.size(); ++w) {
        const WatchedNeighbour& watch = survey.setup.neighbours[survey.watched[w]];
        NoAimZone zone{watch.source, watch.name, watch.limits->limit_c, false, {}, {}, {}, {}};
        zone.is_to_be_out = watch.limits->material && watch.limits->material->caution == kTakeOut;
        std::array<std::vector<float>, 3> own{field(w, 0), field(w, 1), field(w, 2)};
        zone.certain = above(own[0]);
        zone.no_aim = above(own[1]);
        zone.depends = geometry::subtract(above(own[2]), zone.no_aim);
        if (zone.is_to_be_out)
            map.to_be_out.push_back(zone.name);
        else
            hot_without = larger_of(std::move(hot_without), own[2]);
        for (std::size_t c = 0; c < 3; ++c)
            all[c] = larger_of(std::move(all[c]), own[c]);
        zone.peak_c = {shifted(own[0], zone.limit_c), shifted(own[1], zone.limit_c), shifted(own[2], zone.limit_c)};
        map.zones.push_back(std::move(zone));
    }
    map.certain = above(all[0]);
    map.no_aim = above(all[1]);
    const Region hot = above(all[2]);
    map.depends = geometry::subtract(hot, map.no_aim);
    const std::size_t joint = survey.watched.size();
    map.melts_surely = above(field(joint, 0));
    map.melts = above(field(joint, 1));
    map.good = geometry::subtract(map.melts_surely, hot);
    map.likely = geometry::subtract(map.melts, map.no_aim);
    look_without_those(map, hot_without, thin);
    map.may_melt = !area_above(thin.grid, field(joint, 2), 0.0F).empty();
    map.target_name = survey.setup.target_name;
    map.is_calibrated = survey.setup.options.calibration.has_value();
    const double liquidus = survey.setup.mixture.liquidus_c;
    map.joint_c = {shifted(field(joint, 0), liquidus), shifted(field(joint, 1), liquidus),
                   shifted(field(joint, 2), liquidus)};
    for (int j = 0; j < thin.grid.rows; ++j)
        for (int i = 0; i < thin.grid.columns; ++i)
            map.is_computed.push_back(survey.is_computed[survey.lattice.index(i * stride, j * stride)]);
    const double whole = geometry::area(board);
    map.share_no_aim = geometry::area(map.no_aim) / whole;
    map.share_depends = geometry::area(map.depends) / whole;
    return map;
}

} // namespace

std::string no_aim_sentence(const NoAimMap& map) {
    const std::string who = map.target_name.empty() ? "the spot" : map.target_name;
    const std::string out =
        map.to_be_out.empty() ? "" : fmt::format("Take {} out before any heat. ", listed(map.to_be_out));
    if (!map.good_without.empty())
        return fmt::format("{}{}ims over {:.1f} mm² melt {} for sure and spare everything for sure.", out,
                           out.empty() ? "A" : "Then a", geometry::area(map.good_without), who);
    if (!map.may_melt)
        return fmt::format(
            "{}No aim melts {} with these settings, not even in the hot case: hotter air, a preheater or "
            "a wider nozzle with more air would.",
            out, who);
    std::string likely;
    if (!map.likely_without.empty())
        likely = fmt::format("In the likely case {:.1f} mm² do both.", geometry::area(map.likely_without));
    else if (map.melts.empty())
        likely = fmt::format("In the likely case no aim melts {}: hotter air, a preheater or a wider nozzle with more "
                             "air would.",
                             who);
    else
        likely = fmt::format("In the likely case air that melts {} overheats {}: shield {} or take {} off first.", who,
                             listed(map.in_the_way), map.in_the_way.size() == 1 ? "it" : "them",
                             map.in_the_way.size() == 1 ? "it" : "them");
    if (map.is_calibrated)
        return fmt::format("{}{}o aim melts {} for sure and spares everything for sure. {}", out,
                           out.empty() ? "N" : "Then n", who, likely);
    return fmt::format("{}{}ithout a calibration no aim is sure to melt {} and sure to spare the rest: the band is too "
                       "wide to promise both. {} One thermocouple reading narrows the band.",
                       out, out.empty() ? "W" : "Then w", who, likely);
}

Result<NoAimMap> no_aim(const document::Chart& chart, const document::HeatPlan& plan, const NoAimOptions& options) {
    const Result<HeatSetup> setup = heat_setup(chart, plan, options.heat);
    if (!setup) return setup.error();
    const double own_step =
        std::clamp(std::sqrt(geometry::area(setup->layout.board) / kAims), kFinestStep_mm, kCoarsestStep_mm);
    // Between aims too far apart no zone is left, which would read as none.
    const double coarsest = std::max(kCoarsestStep_mm, kCoarsestAllowed * own_step);
    const double step = options.step_mm.value_or(own_step);
    if (!(step >= kFinestStep_mm && step <= coarsest))
        return Error{
            fmt::format("the step between aims is {:g} mm: from {:g} to {:.1f} mm can be computed on this board", step,
                        kFinestStep_mm, coarsest),
            "step_mm"};
    Survey survey(*setup, options, step);
    std::vector<std::size_t> first;
    for (int j = 0; j < survey.lattice.rows; j += kFirstStride)
        for (int i = 0; i < survey.lattice.columns; i += kFirstStride)
            first.push_back(survey.lattice.index(i, j));
    survey.compute(survey.serpentine(std::move(first)));
    if (options.stop.stop_requested()) return NoAimMap{};
    int stride = kFirstStride;
    for (; stride > 1; stride /= 2) {
        if (options.progress) options.progress(map_of(survey, stride));
        survey.refine(stride);
        if (options.stop.stop_requested()) break;
    }
    // Stopped on the way: the last lattice that was finished.
    NoAimMap map = map_of(survey, stride);
    map.is_finished = stride == 1;
    return map;
}

} // namespace padchart::analysis
