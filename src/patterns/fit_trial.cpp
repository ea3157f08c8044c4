#include "patterns/fit_trial.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "patterns/layouts.hpp"
#include "patterns/least_squares.hpp"

namespace padchart::patterns {
namespace {

using geometry::Affine;
using geometry::Box;
using geometry::Vec2;

/// Sizes say less than places: an outline traced a little too wide is common.
constexpr double kSizeWeight = 0.25;
/// Decides only what the lands leave open.
constexpr double kWish = 1e-6;

LandBox box_of(std::span<const Vec2> outline) {
    const Box box = geometry::bounds(outline);
    return {box.centre(), {box.width(), box.height()}};
}

std::optional<std::vector<LandBox>> boxes_of(const Family& family, const std::vector<double>& values) {
    const Result<Pattern> pattern = build_pattern(family, values);
    if (!pattern) return std::nullopt;
    std::vector<LandBox> boxes;
    for (const document::Pad& pad : pattern->pads)
        boxes.push_back(box_of(outline_in_part(pad)));
    return boxes;
}

/// How the lands change by 1 mm of one measure; empty when they do not, or when the measure cannot change.
std::vector<LandBox> slope_of(const Family& family, const LinearModel& model, std::size_t parameter) {
    const Parameter& spec = family.parameters[parameter];
    const double step = model.values[parameter] + 0.02 <= spec.max ? 0.02 : -0.02;
    std::vector<double> moved = model.values;
    moved[parameter] += step;
    const std::optional<std::vector<LandBox>> boxes = boxes_of(family, moved);
    if (!boxes || boxes->size() != model.boxes.size()) return {};
    std::vector<LandBox> slope;
    double most = 0.0;
    for (std::size_t i = 0; i < boxes->size(); ++i) {
        slope.push_back(
            {((*boxes)[i].centre - model.boxes[i].centre) / step, ((*boxes)[i].size - model.boxes[i].size) / step});
        most = std::max({most, geometry::length(slope.back().centre), geometry::length(slope.back().size)});
    }
    return most > 1e-6 ? slope : std::vector<LandBox>{};
}

std::vector<LandBox> predicted(const LinearModel& model, const std::vector<double>& values) {
    std::vector<LandBox> boxes = model.boxes;
    for (std::size_t j = 0; j < model.free.size(); ++j) {
        const double by = values[model.free[j]] - model.values[model.free[j]];
        for (std::size_t i = 0; i < boxes.size(); ++i) {
            boxes[i].centre += model.slope[j][i].centre * by;
            boxes[i].size += model.slope[j][i].size * by;
        }
    }
    return boxes;
}

Box centres_box(const std::vector<LandBox>& boxes) {
    Box box;
    for (const LandBox& each : boxes)
        box.add(each.centre);
    return box;
}

/// The model's lands stretched onto the traced ones' box: good enough to tell who belongs to whom.
std::vector<LandBox> stretched(std::vector<LandBox> boxes, const std::vector<LandBox>& traced) {
    const Box from = centres_box(boxes);
    const Box to = centres_box(traced);
    constexpr double kFlat = 1e-6;
    const double x = from.width() > kFlat && to.width() > kFlat ? to.width() / from.width() : 1.0;
    const double y = from.height() > kFlat && to.height() > kFlat ? to.height() / from.height() : 1.0;
    for (LandBox& each : boxes) {
        const Vec2 off = each.centre - from.centre();
        each.centre = to.centre() + Vec2{off.x * x, off.y * y};
    }
    return boxes;
}

bool all_different(std::vector<std::size_t> partner) {
    std::sort(partner.begin(), partner.end());
    return std::adjacent_find(partner.begin(), partner.end()) == partner.end();
}

/// Each traced land takes the nearest free one, the nearest pair first. Nothing when there are too many to try.
std::optional<std::vector<std::size_t>> pair_by_turns(const std::vector<LandBox>& traced,
                                                      const std::vector<LandBox>& model) {
    constexpr std::size_t kMost = 250000;
    if (traced.size() * model.size() > kMost) return std::nullopt;
    std::vector<std::tuple<double, std::size_t, std::size_t>> pairs;
    for (std::size_t i = 0; i < traced.size(); ++i)
        for (std::size_t j = 0; j < model.size(); ++j)
            pairs.emplace_back(geometry::distance(traced[i].centre, model[j].centre), i, j);
    std::sort(pairs.begin(), pairs.end());
    const std::size_t none = model.size();
    std::vector<std::size_t> partner(traced.size(), none);
    std::vector<char> taken(model.size(), 0);
    for (const auto& [off, i, j] : pairs) {
        if (partner[i] != none || taken[j] != 0) continue;
        partner[i] = j;
        taken[j] = 1;
    }
    return partner;
}

std::optional<std::vector<std::size_t>> pair_off(const std::vector<LandBox>& traced,
                                                 const std::vector<LandBox>& model) {
    if (model.size() < traced.size()) return std::nullopt;
    std::vector<std::size_t> partner;
    for (const LandBox& land : traced) {
        const auto nearest = std::min_element(model.begin(), model.end(), [&](const LandBox& a, const LandBox& b) {
            return geometry::distance(a.centre, land.centre) < geometry::distance(b.centre, land.centre);
        });
        partner.push_back(static_cast<std::size_t>(nearest - model.begin()));
    }
    if (all_different(partner)) return partner;
    return pair_by_turns(traced, model);
}

/// Measures and shift that bring the model's lands nearest to their partners.
void solve(const Family& family, const LinearModel& model, const std::vector<LandBox>& traced, Trial& trial) {
    const std::size_t free = model.free.size();
    LeastSquares equations(free + 2);
    std::vector<double> row(free + 2, 0.0);
    const auto add = [&](auto part, std::size_t i, double value, double at, double weight) {
        for (std::size_t j = 0; j < free; ++j)
            row[j] = part(model.slope[j][trial.partner[i]]);
        equations.add(row, value - at, weight);
    };
    for (std::size_t i = 0; i < traced.size(); ++i) {
        const LandBox& own = model.boxes[trial.partner[i]];
        row[free] = 1.0;
        add([](const LandBox& b) { return b.centre.x; }, i, traced[i].centre.x, own.centre.x, 1.0);
        row[free] = 0.0;
        row[free + 1] = 1.0;
        add([](const LandBox& b) { return b.centre.y; }, i, traced[i].centre.y, own.centre.y, 1.0);
        row[free + 1] = 0.0;
        add([](const LandBox& b) { return b.size.x; }, i, traced[i].size.x, own.size.x, kSizeWeight);
        add([](const LandBox& b) { return b.size.y; }, i, traced[i].size.y, own.size.y, kSizeWeight);
    }
    for (std::size_t j = 0; j < free; ++j)
        equations.prefer(j, 0.0, kWish);
    const std::vector<double> answer = equations.solve();
    for (std::size_t j = 0; j < free; ++j) {
        const Parameter& spec = family.parameters[model.free[j]];
        trial.values[model.free[j]] = std::clamp(model.values[model.free[j]] + answer[j], spec.min, spec.max);
    }
    trial.shift = {answer[free], answer[free + 1]};
}

/// The small counter-clockwise turn still missing between the model's lands and their partners.
Angle missing_turn(const std::vector<LandBox>& model, const std::vector<LandBox>& traced,
                   const std::vector<std::size_t>& partner) {
    Vec2 model_mean;
    Vec2 traced_mean;
    const auto n = static_cast<double>(traced.size());
    for (std::size_t i = 0; i < traced.size(); ++i) {
        model_mean += model[partner[i]].centre / n;
        traced_mean += traced[i].centre / n;
    }
    double along = 0.0;
    double across = 0.0;
    for (std::size_t i = 0; i < traced.size(); ++i) {
        const Vec2 from = model[partner[i]].centre - model_mean;
        const Vec2 to = traced[i].centre - traced_mean;
        along += dot(from, to);
        across -= cross(from, to); // y down: counter-clockwise is negative
    }
    return along <= 1e-12 ? Angle{} : Angle::radians(std::atan2(across, along));
}

struct LeftOver {
    double rms = 0.0;
    double max = 0.0;
    double size_rms = 0.0;
};

LeftOver left_over(const std::vector<LandBox>& model, Vec2 shift, const std::vector<LandBox>& traced,
                   const std::vector<std::size_t>& partner) {
    double places = 0.0;
    double sizes = 0.0;
    LeftOver result;
    for (std::size_t i = 0; i < traced.size(); ++i) {
        const Vec2 off = traced[i].centre - model[partner[i]].centre - shift;
        const Vec2 size = traced[i].size - model[partner[i]].size;
        places += dot(off, off);
        sizes += dot(size, size) / 2;
        result.max = std::max(result.max, geometry::length(off));
    }
    const auto n = static_cast<double>(traced.size());
    result.rms = std::sqrt(places / n);
    result.size_rms = std::sqrt(sizes / n);
    return result;
}

/// As the family is, at the best shift.
double as_is(const LinearModel& model, const std::vector<LandBox>& traced, const std::vector<std::size_t>& partner) {
    Vec2 shift;
    for (std::size_t i = 0; i < traced.size(); ++i)
        shift += (traced[i].centre - model.boxes[partner[i]].centre) / static_cast<double>(traced.size());
    const LeftOver left = left_over(model.boxes, shift, traced, partner);
    return std::hypot(left.rms, left.size_rms);
}

} // namespace

std::vector<LandBox> turned_back(const TracedLands& lands, Angle turn) {
    const Affine back = Affine::rotation(-turn);
    std::vector<LandBox> boxes;
    for (const geometry::Ring& outline : lands.outlines)
        boxes.push_back(box_of(geometry::transformed(outline, back)));
    return boxes;
}

std::optional<LinearModel> linear_model(const Family& family, const std::vector<double>& values) {
    const std::optional<std::vector<LandBox>> boxes = boxes_of(family, values);
    const Result<Pattern> pattern = build_pattern(family, values);
    if (!boxes || !pattern) return std::nullopt;
    LinearModel model{values, *boxes, {}, {}, {}};
    for (const document::Pad& pad : pattern->pads)
        model.numbers.push_back(pad.number);
    for (std::size_t parameter = 0; parameter < family.parameters.size(); ++parameter) {
        if (family.parameters[parameter].is_integer) continue;
        std::vector<LandBox> slope = slope_of(family, model, parameter);
        if (slope.empty()) continue;
        model.free.push_back(parameter);
        model.slope.push_back(std::move(slope));
    }
    return model;
}

std::optional<Trial> try_fit(const Family& family, const LinearModel& model, const TracedLands& lands, Angle start) {
    Trial trial;
    trial.values = model.values;
    trial.turn = start;
    std::vector<LandBox> traced = turned_back(lands, trial.turn);
    std::optional<std::vector<std::size_t>> partner = pair_off(traced, stretched(model.boxes, traced));
    if (!partner) return std::nullopt;
    constexpr int kRounds = 40; // measures that can lean, as of four unequal leads, come in slowly
    for (int round = 0; round < kRounds; ++round) {
        trial.partner = *partner;
        solve(family, model, traced, trial);
        const std::vector<LandBox> now = predicted(model, trial.values);
        const Angle more = missing_turn(now, traced, trial.partner);
        // A start that far off has met the wrong partners.
        if (std::abs(more.degrees()) > 30.0) return std::nullopt;
        trial.turn = trial.turn + more;
        traced = turned_back(lands, trial.turn);
        if (std::abs(more.degrees()) < 1e-7) break;
    }
    solve(family, model, traced, trial);
    const LeftOver left = left_over(predicted(model, trial.values), trial.shift, traced, trial.partner);
    trial.rms_mm = left.rms;
    trial.max_mm = left.max;
    trial.size_rms_mm = left.size_rms;
    trial.as_is_rms_mm = as_is(model, traced, trial.partner);
    for (std::size_t i = 0; i < lands.numbers.size(); ++i)
        if (!lands.numbers[i].empty() && lands.numbers[i] == model.numbers[trial.partner[i]]) ++trial.numbers_agreeing;
    return trial;
}

} // namespace padchart::patterns
