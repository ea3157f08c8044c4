#include "analysis/tidy.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include <fmt/format.h>

#include "analysis/grouping.hpp"
#include "document/tidied.hpp"
#include "geometry/affine.hpp"
#include "geometry/deviation.hpp"
#include "geometry/turned_box.hpp"

namespace padchart::analysis {
namespace {

using document::Footprint;
using document::Pad;
using document::Shape;
using document::ShapeKind;
using geometry::Ring;
using geometry::Vec2;
using Indices = std::vector<std::size_t>;

/// Steps farther beyond the limit than this are no tidying at all and are not even listed.
constexpr double kListed = 3.0;
/// Nothing moved: what is left of decimal fractions.
constexpr double kNothing_mm = 1e-9;
/// Of the limit: what was tidied is not tidied again for less.
constexpr double kTrifle = 0.2;
// All common practice, no source.
constexpr double kSkew_deg = 1.0; ///< pads together off the part's axes by less than this were meant to be straight
constexpr double kOnPurpose_deg = 15.0; ///< a pad off the others by more than this was meant to be
constexpr double kLikeRectangle = 0.9;  ///< a free outline fills at least this share of its narrowest box

/// The narrowest box round the outline, along one of its edges, as a rectangle of the same area as the outline where
/// the hand drew round corners.
Pad as_rectangle(const Pad& pad, const Ring& outline) {
    const geometry::TurnedBox box = geometry::narrowest_box(outline);
    if (!(box.area() > 0.0)) return pad;
    // A hand's corners stick out and in alike: between the box round it and its own area lies the pad.
    const double shrink = std::sqrt(std::abs(geometry::signed_area(outline)) / box.area());
    Pad best = pad;
    best.at = box.centre;
    best.turn = Angle::degrees(std::remainder(geometry::bearing(box.along).degrees(), 180.0)).wrapped();
    best.shape = {ShapeKind::Rectangle, box.length * shrink, box.width * shrink, {}};
    return best;
}

/// The circle of the same area about the same centroid.
Pad as_round(const Pad& pad, const Ring& outline) {
    Pad round = pad;
    const double diameter = 2.0 * std::sqrt(std::abs(geometry::signed_area(outline)) / std::numbers::pi);
    round.at = geometry::centroid(outline);
    round.turn = {};
    round.shape = {ShapeKind::Round, diameter, diameter, {}};
    return round;
}

bool has_sides(const Pad& pad) {
    return pad.shape.kind == ShapeKind::Rectangle || pad.shape.kind == ShapeKind::Oblong;
}
double longer(const Shape& shape) {
    return std::max(shape.width_mm, shape.height_mm);
}
double shorter(const Shape& shape) {
    return std::min(shape.width_mm, shape.height_mm);
}

/// Of a side of the pad against the axes, within 45 degrees; nothing of round and ragged ones.
std::optional<double> side_off_axes(const Pad& pad) {
    if (has_sides(pad)) return std::remainder(pad.turn.degrees(), 90.0);
    if (pad.shape.kind != ShapeKind::Polygon) return std::nullopt;
    const Ring outline = document::outline_in_part(pad);
    const geometry::TurnedBox box = geometry::narrowest_box(outline);
    if (!(std::abs(geometry::signed_area(outline)) > kLikeRectangle * box.area())) return std::nullopt;
    return std::remainder(geometry::bearing(box.along).degrees(), 90.0);
}

/// How far all pads together are turned off the part's axes: 0 unless that is clearly more than a hand's unsteadiness.
Angle common_skew(const std::vector<Pad>& pads) {
    std::vector<double> off;
    Vec2 sum;
    for (const Pad& pad : pads)
        if (const auto side = side_off_axes(pad)) {
            off.push_back(*side);
            sum += geometry::direction(Angle::degrees(4.0 * *side)); // a quarter turn is no turn
        }
    if (off.size() < 3 || !(geometry::length(sum) > 0.0)) return {};
    const double mean = geometry::bearing(sum).signed_turn().degrees() / 4.0;
    double squares = 0.0;
    for (const double each : off)
        squares += std::pow(std::remainder(each - mean, 90.0), 2) / static_cast<double>(off.size());
    return std::abs(mean) > std::max(kSkew_deg, 2.0 * std::sqrt(squares)) ? Angle::degrees(mean) : Angle{};
}

Pad turned(Pad pad, Angle by) {
    pad.at = geometry::Affine::rotation(by)(pad.at);
    pad.turn = (pad.turn + by).wrapped();
    return pad;
}

class PartTidier {
public:
    PartTidier(const Footprint& part, double limit, std::vector<TidyStep>& steps)
        : part_(part), limit_(limit), spent_(document::tidied_off(part).value_or(0.0)), steps_(steps),
          is_loose_(is_left_loose(part)), touched_(part.pads.size(), false) {
        if (!is_loose_) skew_ = common_skew(part.pads);
        // Everything below is done in axes that run with the pads.
        for (const Pad& pad : part.pads) {
            pads_.push_back(skew_.degrees() == 0.0 ? pad : turned(pad, -skew_));
            drawn_.push_back(document::outline_in_part(pads_.back()));
        }
    }

    std::vector<Pad> run() {
        for (std::size_t i = 0; i < pads_.size(); ++i)
            shape(i);
        square();
        sizes();
        // Two parts side by side have no row and no pitch in common: they would be bent to one.
        if (!is_loose_) {
            rows(&Vec2::y, &Vec2::x);
            rows(&Vec2::x, &Vec2::y);
        }
        return in_part_axes();
    }

private:
    [[nodiscard]] std::vector<Pad> in_part_axes() {
        if (skew_.degrees() == 0.0) return std::move(pads_);
        for (std::size_t i = 0; i < pads_.size(); ++i)
            pads_[i] = touched_[i] ? turned(pads_[i], skew_) : part_.pads[i];
        return std::move(pads_);
    }

    [[nodiscard]] double deviation(std::size_t i, const Pad& pad) const {
        return geometry::outline_deviation(drawn_[i], document::outline_in_part(pad));
    }

    /// Takes the step, or lists it, or forgets it.
    bool step(TidyKind kind, const Indices& set, const std::vector<Pad>& after, const std::string& what) {
        double worst = 0.0;
        double moved = 0.0;
        for (std::size_t k = 0; k < set.size(); ++k) {
            worst = std::max(worst, deviation(set[k], after[k]) + spent_);
            moved = std::max(moved, geometry::outline_deviation(document::outline_in_part(pads_[set[k]]),
                                                                document::outline_in_part(after[k])));
        }
        const bool same_shapes = std::equal(set.begin(), set.end(), after.begin(), [&](std::size_t i, const Pad& pad) {
            return pads_[i].shape.kind == pad.shape.kind;
        });
        const double nothing = spent_ > 0.0 ? kTrifle * limit_ : kNothing_mm;
        if ((moved < nothing && same_shapes) || worst > kListed * limit_) return false;
        const bool taken = worst <= limit_;
        steps_.push_back({part_.id, kind, set, worst, taken,
                          fmt::format("{}: {}, at most {:.3f} mm off{}", part_.name.empty() ? "(no name)" : part_.name,
                                      what, worst, taken ? "" : ": beyond the limit, left as drawn")});
        if (taken)
            for (std::size_t k = 0; k < set.size(); ++k) {
                pads_[set[k]] = after[k];
                touched_[set[k]] = true;
            }
        return taken;
    }

    [[nodiscard]] std::string pad_words(std::size_t i) const {
        return pads_[i].number.empty() ? fmt::format("pad #{}", i + 1) : "pad " + pads_[i].number;
    }

    void shape(std::size_t i) {
        if (pads_[i].shape.kind != ShapeKind::Polygon) return;
        const Pad rectangle = as_rectangle(pads_[i], drawn_[i]);
        const Pad round = as_round(pads_[i], drawn_[i]);
        if (deviation(i, round) < deviation(i, rectangle))
            step(TidyKind::Round, {i}, {round},
                 fmt::format("{} to a circle of {:.2f} mm", pad_words(i), round.shape.width_mm));
        else if (rectangle.shape.kind == ShapeKind::Rectangle)
            step(TidyKind::Rectangle, {i}, {rectangle},
                 fmt::format("{} to a rectangle {:.2f} x {:.2f} mm", pad_words(i), longer(rectangle.shape),
                             shorter(rectangle.shape)));
    }

    /// All pads of a part or none: some straight and some not would be worse than what was drawn. Of loose ones nobody
    /// knows which belong together: each for itself.
    void square() {
        Indices askew;
        for (std::size_t i = 0; i < pads_.size(); ++i) {
            const double off = off_axes(i);
            if (off == 0.0 || (!is_loose_ && std::abs(off) > kOnPurpose_deg)) continue;
            if (is_loose_)
                square({i});
            else
                askew.push_back(i);
        }
        if (!askew.empty()) square(askew);
    }

    [[nodiscard]] double off_axes(std::size_t i) const {
        return has_sides(pads_[i]) ? std::remainder(pads_[i].turn.degrees(), 90.0) : 0.0;
    }

    void square(const Indices& set) {
        std::vector<Pad> after;
        double farthest = 0.0;
        for (const std::size_t i : set) {
            after.push_back(squared(i));
            farthest = std::max(farthest, std::abs(off_axes(i)));
        }
        const std::string by = farthest < 0.05 ? "less than 0.1 degrees" : fmt::format("{:.1f} degrees", farthest);
        const std::string whole =
            skew_.degrees() == 0.0
                ? ""
                : fmt::format(", to the {:.1f} degrees they are turned by together", std::abs(skew_.degrees()));
        if (set.size() == 1)
            step(TidyKind::Square, set, after, fmt::format("{} turned square by {}{}", pad_words(set[0]), by, whole));
        else
            step(TidyKind::Square, set, after,
                 fmt::format("{} pads turned square by up to {}{}", set.size(), by, whole));
    }

    [[nodiscard]] Pad squared(std::size_t i) const {
        const double off = off_axes(i);
        Pad pad = pads_[i];
        pad.turn = Angle::degrees(std::round((pad.turn.degrees() - off) / 90.0) * 90.0).wrapped();
        const bool lying = std::abs(std::remainder(pad.turn.degrees(), 180.0)) > 45.0;
        if (lying && pad.shape.kind == ShapeKind::Rectangle) std::swap(pad.shape.width_mm, pad.shape.height_mm);
        if (pad.shape.kind == ShapeKind::Rectangle || !lying) pad.turn = {};
        return pad;
    }

    /// Pads of one kind whose sides lie within two limits of each other: then the mean is within the limit of all.
    void sizes() {
        std::vector<bool> done(pads_.size(), false);
        for (std::size_t i = 0; i < pads_.size(); ++i) {
            if (done[i] || pads_[i].shape.kind == ShapeKind::Polygon) continue;
            Indices set;
            double sum_long = 0.0, sum_short = 0.0;
            for (std::size_t j = i; j < pads_.size(); ++j) {
                const Shape& a = pads_[i].shape;
                const Shape& b = pads_[j].shape;
                if (done[j] || a.kind != b.kind || std::abs(longer(a) - longer(b)) > 2.0 * limit_ ||
                    std::abs(shorter(a) - shorter(b)) > 2.0 * limit_)
                    continue;
                done[j] = true;
                set.push_back(j);
                sum_long += longer(b);
                sum_short += shorter(b);
            }
            if (set.size() > 1)
                one_size(set, sum_long / static_cast<double>(set.size()), sum_short / static_cast<double>(set.size()));
        }
    }

    void one_size(const Indices& set, double mean_long, double mean_short) {
        std::vector<Pad> after;
        for (const std::size_t i : set) {
            Pad pad = pads_[i];
            const bool upright = pad.shape.height_mm > pad.shape.width_mm;
            pad.shape.width_mm = upright ? mean_short : mean_long;
            pad.shape.height_mm = upright ? mean_long : mean_short;
            if (pad.shape.kind == ShapeKind::Round) pad.shape.width_mm = pad.shape.height_mm = mean_long;
            after.push_back(std::move(pad));
        }
        step(TidyKind::CommonSize, set, after,
             fmt::format("{} pads to one size {:.3f} x {:.3f} mm", set.size(), mean_long, mean_short));
    }

    /// Pads that share `across` within the limit lie in a row along `along`.
    void rows(double Vec2::*across, double Vec2::*along) {
        Indices order(pads_.size());
        for (std::size_t i = 0; i < order.size(); ++i)
            order[i] = i;
        std::stable_sort(order.begin(), order.end(),
                         [&](std::size_t a, std::size_t b) { return pads_[a].at.*across < pads_[b].at.*across; });
        for (std::size_t from = 0; from < order.size();) {
            std::size_t to = from + 1;
            while (to < order.size() && pads_[order[to]].at.*across - pads_[order[from]].at.*across <= 2.0 * limit_)
                ++to;
            Indices row(order.begin() + static_cast<std::ptrdiff_t>(from),
                        order.begin() + static_cast<std::ptrdiff_t>(to));
            if (row.size() > 1) one_row(std::move(row), across, along);
            from = to;
        }
    }

    void one_row(Indices row, double Vec2::*across, double Vec2::*along) {
        std::sort(row.begin(), row.end(),
                  [&](std::size_t a, std::size_t b) { return pads_[a].at.*along < pads_[b].at.*along; });
        double mean = 0.0;
        for (const std::size_t i : row)
            mean += pads_[i].at.*across / static_cast<double>(row.size());
        std::vector<Pad> after;
        for (const std::size_t i : row) {
            after.push_back(pads_[i]);
            after.back().at.*across = mean;
        }
        step(TidyKind::Row, row, after, fmt::format("{} pads on one line", row.size()));
        if (row.size() > 2) one_pitch(row, along);
    }

    /// The straight line through place number and place, least squares; places may be left empty.
    void one_pitch(const Indices& row, double Vec2::*along) {
        double pitch = std::numeric_limits<double>::infinity();
        for (std::size_t k = 1; k < row.size(); ++k)
            pitch = std::min(pitch, pads_[row[k]].at.*along - pads_[row[k - 1]].at.*along);
        if (!(pitch > 4.0 * limit_)) return; // steps as small as the jitter are no pitch
        const double first = pads_[row[0]].at.*along;
        const double n = static_cast<double>(row.size());
        double sum_k = 0.0, sum_x = 0.0, sum_kk = 0.0, sum_kx = 0.0, place = 0.0, before = first;
        std::vector<double> places;
        for (const std::size_t i : row) {
            const double x = pads_[i].at.*along;
            place += std::round((x - before) / pitch); // from pad to pad, so that small errors do not add up
            before = x;
            places.push_back(place);
            sum_k += place;
            sum_x += x;
            sum_kk += place * place;
            sum_kx += place * x;
        }
        const double fitted = (n * sum_kx - sum_k * sum_x) / (n * sum_kk - sum_k * sum_k);
        const double origin = (sum_x - fitted * sum_k) / n;
        std::vector<Pad> after;
        for (std::size_t k = 0; k < row.size(); ++k) {
            after.push_back(pads_[row[k]]);
            after.back().at.*along = origin + fitted * places[k];
        }
        step(TidyKind::Pitch, row, after, fmt::format("{} pads at one pitch of {:.3f} mm", row.size(), fitted));
    }

    const Footprint& part_;
    const double limit_;
    const double spent_; ///< how far tidying has moved it before
    std::vector<TidyStep>& steps_;
    const bool is_loose_;
    std::vector<bool> touched_;
    Angle skew_;
    std::vector<Pad> pads_; ///< turned back by the skew, as are the outlines
    std::vector<Ring> drawn_;
};

} // namespace

std::string_view to_text(TidyKind kind) {
    switch (kind) {
    case TidyKind::Rectangle: return "rectangle";
    case TidyKind::Round: return "round";
    case TidyKind::Square: return "square to the part";
    case TidyKind::CommonSize: return "common size";
    case TidyKind::Row: return "row";
    case TidyKind::Pitch: return "common pitch";
    }
    return "step";
}

Result<TidyResult> tidy(const document::Chart& chart, double limit_mm, std::span<const document::Id> parts,
                        const std::stop_token& stop) {
    if (!std::isfinite(limit_mm) || limit_mm <= 0.0)
        return Error{fmt::format("a limit of {} mm cannot be; right would be one above 0", limit_mm), {}};
    if (!chart.scale) return Error{"the chart has no scale: a limit in mm means nothing on it", {}};
    TidyResult result{chart, {}};
    for (std::size_t p = 0; p < chart.parts.size(); ++p) {
        if (stop.stop_requested()) return Error{"called off", ""};
        const Footprint& part = chart.parts[p];
        const bool meant = parts.empty() || std::find(parts.begin(), parts.end(), part.id) != parts.end();
        if (!meant || part.locked || !part.family.empty() || part.pads.empty()) continue;
        const std::size_t before = result.steps.size();
        std::vector<Pad> pads = PartTidier(part, limit_mm, result.steps).run();
        const bool any = std::any_of(result.steps.begin() + static_cast<std::ptrdiff_t>(before), result.steps.end(),
                                     [](const TidyStep& step) { return step.taken; });
        if (!any) continue;
        double off = 0.0;
        for (std::size_t i = before; i < result.steps.size(); ++i)
            if (result.steps[i].taken) off = std::max(off, result.steps[i].deviation_mm);
        Footprint next = part;
        next.pads = std::move(pads);
        document::note_tidied(next, off);
        result.chart.parts.replace(p, std::move(next));
    }
    return result;
}

} // namespace padchart::analysis
