#include "scene/heat_overlay.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "scene/badges.hpp"
#include "scene/canvas.hpp"
#include "scene/labels.hpp"
#include "scene/words.hpp"

namespace padchart::scene {

using geometry::Box;
using geometry::Ring;
using geometry::Vec2;

namespace {

constexpr double kTooNear = 0.3;     // of the step: two lines nearer than this are read as one
constexpr std::size_t kFewLines = 3; // fewer say little of a field
constexpr double kCool_c = 100.0;    // below it no line on a board that is heated well
constexpr double kLeastLabels = 3.0; // a line shorter than this many labels goes without
constexpr double kZoomedOut = 6.0;   // px per mm below which letters only hide the board

void add_zone(Canvas& canvas, const geometry::Region& region, Role fill, Role edge) {
    for (const geometry::Polygon& part : region) {
        geometry::Polygon polygon = geometry::transformed(part, canvas.map);
        canvas.scene.add(fill, Fill{polygon});
        canvas.scene.add(edge, Line{polygon.outer, true, Weight::Normal});
        for (const Ring& hole : polygon.holes)
            canvas.scene.add(edge, Line{hole, true, Weight::Normal});
        canvas.hatched.push_back(std::move(polygon));
    }
}

void add_edges(Canvas& canvas, const geometry::Region& region, Role edge, Weight weight) {
    for (const geometry::Polygon& part : region) {
        const geometry::Polygon polygon = geometry::transformed(part, canvas.map);
        canvas.scene.add(edge, Line{polygon.outer, true, weight});
        for (const Ring& hole : polygon.holes)
            canvas.scene.add(edge, Line{hole, true, weight});
    }
}

std::string when_words(const ViewOptions& options) {
    return options.heat_time_s ? fmt::format("at {:.0f} s", *options.heat_time_s) : std::string("peak");
}

/// Of parts; they are drawn over letters.
std::vector<Box> signs_of(const Canvas& canvas) {
    std::vector<Box> signs;
    for (const PartView& view : canvas.views)
        for (const Badge& badge : badges_of(view, canvas))
            signs.push_back(badge.box(canvas).grown(canvas.mm(2)));
    return signs;
}

/// Where the letters of a line may stand without hiding a part, a cut of the board or each other.
class LineLabels {
public:
    LineLabels(Canvas& canvas, Vec2 aim)
        : canvas_(canvas), aim_(aim), occupied_(std::max(1.0, 40.0 / canvas.options.px_per_mm)) {
        for (const PartView& view : canvas.views) {
            occupied_.add(view.box);
            occupied_.add(view.outline.empty() ? Box{} : view.body_box);
            occupied_.add(view.mark_box);
        }
        for (const Box& box : canvas.taken)
            occupied_.add(box);
        for (const Box& sign : signs_of(canvas))
            occupied_.add(sign);
        if (canvas.reports.plan != nullptr) clear_of_target_name(canvas.reports.plan->target);
    }

    void add(const std::vector<analysis::Contour>& lines, const std::string& text, Role role) {
        const LabelBlock block{.lines = {{text, role, canvas_.options.label_px, true}},
                               .px_per_mm = canvas_.options.px_per_mm};
        for (const analysis::Contour& line : lines) {
            const Ring points = geometry::transformed(line.points, canvas_.map);
            if (length_of(points) < kLeastLabels * block.width_mm()) continue;
            const std::optional<Vec2> at = place_on(points, block);
            if (!at) continue;
            const Box box = block.box_at(*at).grown(canvas_.mm(2));
            occupied_.add(box);
            canvas_.taken.push_back(box);
            add_block(canvas_.scene, block, *at, 0.0, true, -1);
        }
    }

private:
    /// The name of a part that is too full of lands for letters stands above it.
    void clear_of_target_name(const document::Id& target) {
        for (const PartView& view : canvas_.views)
            if (view.part->id == target) occupied_.add(view.box.grown(canvas_.mm(20)));
    }

    static double length_of(const Ring& points) {
        double length = 0.0;
        for (std::size_t i = 1; i < points.size(); ++i)
            length += geometry::distance(points[i - 1], points[i]);
        return length;
    }

    /// Labels of all lines in one direction from the aim, up and left where free, so that they read as a scale.
    [[nodiscard]] std::optional<Vec2> place_on(const Ring& points, const LabelBlock& block) const {
        const Vec2 liked{-0.8, -0.6};
        std::optional<Vec2> best;
        double best_score = -2.0;
        for (const Vec2 point : points) {
            const Vec2 off = point - aim_;
            const double far = geometry::length(off);
            const double score = far > 1e-9 ? (off.x * liked.x + off.y * liked.y) / far : -1.0;
            if (score <= best_score) continue;
            if (occupied_.overlaps(block.box_at(point).grown(canvas_.mm(2)))) continue;
            best = point;
            best_score = score;
        }
        return best;
    }

    Canvas& canvas_;
    Vec2 aim_;
    Occupied occupied_;
};

struct IsoLines {
    double celsius = 0.0;
    std::vector<analysis::Contour> lines;
};

/// From the far side the mean of the thickness says more than the face under the air.
std::vector<IsoLines> lines_of(const analysis::HeatReport& report, const ViewOptions& options, bool from_behind) {
    const bool has_mean = !report.field.peak_c.nominal.empty();
    const std::vector<float> field = from_behind && has_mean && !options.heat_time_s
                                         ? report.field.peak_c.nominal
                                         : field_at(report.field, options.heat_time_s);
    std::vector<IsoLines> lines;
    double coldest = std::numeric_limits<double>::infinity(), hottest = -coldest;
    for (const float celsius : field) {
        if (std::isnan(celsius)) continue;
        coldest = std::min(coldest, static_cast<double>(celsius));
        hottest = std::max(hottest, static_cast<double>(celsius));
    }
    for (const double level : isotherm_levels(report.target.liquidus_c, coldest, hottest))
        lines.push_back({level, analysis::contours(report.field.grid, field, static_cast<float>(level))});
    return lines;
}

/// On the arrow where it is long enough; else across from it where no part is, nearest first.
Vec2 beside_arrow(const Canvas& canvas, const LabelBlock& block, Vec2 from, Vec2 to) {
    const Vec2 middle = geometry::lerp(from, to, 0.5);
    const double span = geometry::distance(from, to);
    const std::vector<Box> signs = signs_of(canvas);
    const auto is_signed = [&](Vec2 at) {
        return std::any_of(signs.begin(), signs.end(),
                           [box = block.box_at(at)](const Box& sign) { return sign.overlaps(box); });
    };
    if (span > block.width_mm() + canvas.mm(24)) {
        for (const double share : {0.5, 0.4, 0.6, 0.3, 0.7})
            if (const Vec2 at = geometry::lerp(from, to, share); !is_signed(at)) return at;
        return middle;
    }
    const Vec2 across = Vec2{-(to - from).y, (to - from).x} / span;
    const auto is_free = [&](Vec2 at) {
        const Box box = block.box_at(at);
        return std::none_of(canvas.views.begin(), canvas.views.end(),
                            [&](const PartView& view) {
                                return view.box.overlaps(box) ||
                                       (view.is_unknown() && view.body_box.grown(canvas.mm(9)).overlaps(box));
                            }) &&
               !is_signed(at);
    };
    for (double step = 1.0; step < 3.0; step += 0.5)
        for (const double way : {-1.0, 1.0}) {
            const Vec2 at = middle + across * (way * step * canvas.mm(14));
            if (is_free(at)) return at;
        }
    // Over the sensitive part's own body: its name stands in the middle.
    return to + (to - from) / span * (block.width_mm() / 2.0 + canvas.mm(8));
}

void add_gap_to_sensitive(Canvas& canvas, const document::HeatPlan& plan) {
    const std::vector<analysis::SensitiveGap> gaps = analysis::gaps_to_sensitive(canvas.chart, plan.target);
    const auto found = std::find_if(gaps.begin(), gaps.end(), [](const auto& gap) { return gap.same_side; });
    if (found == gaps.end() || found->gap.mm < canvas.mm(6) || !canvas.is_near(plan.side)) return;
    add_gap(canvas.scene, found->gap, canvas.options.seen_from, canvas.options.px_per_mm);
    Text& text = canvas.scene.texts.back();
    text.height_px = std::max(text.height_px, canvas.options.label_px);
    const LabelBlock block{.lines = {{text.text, Role::LabelMeasure, text.height_px, true}},
                           .px_per_mm = canvas.options.px_per_mm};
    text.at = beside_arrow(canvas, block, canvas.map(found->gap.from), canvas.map(found->gap.to));
    canvas.taken.push_back(block.box_at(text.at));
}

} // namespace

std::vector<double> isotherm_levels(double liquidus_c, double coldest_c, double hottest_c) {
    std::vector<double> levels;
    double step = 50.0;
    for (const double finer : {50.0, 20.0, 10.0, 5.0}) {
        step = finer;
        levels.clear();
        const double from = finer == 50.0 ? std::max(kCool_c - 1.0, coldest_c) : coldest_c;
        for (double level = step * std::floor(from / step) + step; level < hottest_c; level += step)
            levels.push_back(level);
        if (levels.size() >= kFewLines) break;
    }
    std::erase_if(levels, [&](double level) { return std::abs(level - liquidus_c) < kTooNear * step; });
    levels.push_back(liquidus_c);
    std::sort(levels.begin(), levels.end());
    return levels;
}

std::vector<float> field_at(const analysis::HeatField& field, std::optional<double> time_s) {
    const std::vector<analysis::HeatSnapshot>& shots = field.snapshots;
    if (!time_s || shots.empty()) return field.peak_c.nominal;
    const auto after =
        std::lower_bound(shots.begin(), shots.end(), *time_s,
                         [](const analysis::HeatSnapshot& shot, double time) { return shot.time_s < time; });
    if (after == shots.begin()) return after->board_c.nominal;
    const analysis::HeatSnapshot& before = *std::prev(after);
    if (after == shots.end()) return before.board_c.nominal;
    const float share = static_cast<float>((*time_s - before.time_s) / (after->time_s - before.time_s));
    std::vector<float> values(before.board_c.nominal.size());
    for (std::size_t i = 0; i < values.size(); ++i)
        values[i] = before.board_c.nominal[i] + share * (after->board_c.nominal[i] - before.board_c.nominal[i]);
    return values;
}

void add_no_aim_map(Canvas& canvas) {
    const analysis::NoAimMap& map = *canvas.reports.no_aim;
    if (!canvas.options.show_zones) return;
    if (canvas.options.no_aim_is_stale) {
        add_zone(canvas, map.no_aim, Role::StaleZone, Role::Stale);
        return add_edges(canvas, map.depends, Role::Stale, Weight::Thin);
    }
    add_zone(canvas, map.depends, Role::Depends, Role::DependsEdge);
    add_zone(canvas, map.no_aim, Role::NoAim, Role::NoAimEdge);
    add_edges(canvas, map.good, Role::GoodAimEdge, Weight::Normal);
    canvas.scene.legend_words.push_back(
        {Role::NoAim, map.is_steady ? "no-aim zone, estimate" : "no-aim zone for this dwell, estimate"});
}

void add_isotherms(Canvas& canvas) {
    if (canvas.reports.heat == nullptr) return;
    const analysis::HeatReport& report = *canvas.reports.heat;
    const bool stale = canvas.options.heat_is_stale;
    const double liquidus = report.target.liquidus_c;
    const Vec2 aim = canvas.reports.plan != nullptr ? canvas.map(canvas.reports.plan->aim) : Vec2{};
    const bool from_behind = canvas.reports.plan != nullptr && !canvas.is_near(canvas.reports.plan->side);
    const std::vector<IsoLines> lines = lines_of(report, canvas.options, from_behind);
    for (const IsoLines& level : lines) {
        const bool melts = level.celsius == liquidus;
        const Role role = stale ? Role::Stale : melts ? Role::IsothermLiquidus : Role::Isotherm;
        for (const analysis::Contour& line : level.lines)
            canvas.scene.add(role, Line{geometry::transformed(line.points, canvas.map), line.is_closed,
                                        melts ? Weight::Bold : Weight::Thin});
    }
    canvas.scene.legend_words.push_back(
        {Role::IsothermLiquidus,
         fmt::format("liquidus {}, {} estimate", celsius(liquidus), when_words(canvas.options))});
    canvas.scene.legend_words.push_back(
        {Role::Isotherm, canvas.options.heat_time_s ? "board in °C " + when_words(canvas.options) + ", estimate"
                                                    : std::string("peak in °C, estimate")});
    if (!canvas.options.show_labels || canvas.options.px_per_mm < kZoomedOut) return;
    LineLabels labels(canvas, aim);
    for (auto level = lines.rbegin(); level != lines.rend(); ++level)
        labels.add(level->lines, number(std::round(level->celsius), 0), stale ? Role::LabelMuted : Role::LabelIsotherm);
}

void add_plan_in_hand(Canvas& canvas) {
    if (!canvas.options.show_plans || canvas.options.stage != Stage::Heat) return;
    if (canvas.reports.compared != nullptr && canvas.is_near(canvas.reports.compared->side))
        add_nozzle(canvas, *canvas.reports.compared);
    const document::HeatPlan& plan = *canvas.reports.plan;
    if (canvas.is_near(plan.side))
        add_nozzle(canvas, plan);
    else
        canvas.scene.add(Role::FarSideEdge,
                         Line{geometry::transformed(geometry::circle(plan.nozzle_bore_mm / 2.0, 0.002),
                                                    geometry::Affine::translation(canvas.map(plan.aim))),
                              true, Weight::Normal},
                         canvas.scene.add_source(plan.id));
    if (canvas.options.show_labels) add_gap_to_sensitive(canvas, plan);
}

} // namespace padchart::scene
