#include "analysis/fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <string>
#include <unordered_map>

#include "analysis/fit_pattern.hpp"
#include "analysis/fit_seat.hpp"

namespace padchart::analysis {

using document::Footprint;
using document::ShapeKind;
using fitting::Board;
using fitting::Pattern;
using fitting::Trial;
using geometry::Vec2;

namespace {

/// What follows from the pads alone, the same for every part of the same pattern.
struct CopperFit {
    std::vector<double> exact{0.0};
    std::vector<double> seating{0.0};
    std::vector<double> unshifted{0.0};
    std::vector<ShiftedTurn> needs_shift;
    std::vector<double> nearly;
    std::vector<double> may_seat; ///< not as drawn, but within what measuring may have got wrong
    bool mirrored_seats = false;
    std::size_t usable_pads = 0;
    std::size_t joined_pads = 0;
};

/// A margin of measuring that would change the answer.
bool exact_is_near(const Board& board, const Pattern& part, double uncertainty) {
    return matches(board, part, kExactTolerance_mm + uncertainty) !=
           matches(board, part, std::max(0.0, kExactTolerance_mm - uncertainty));
}

/// Two lands, or two centres, lie against each other wrong by twice what each may be off.
double against_each_other(double uncertainty) {
    return 2.0 * uncertainty;
}

bool seat_is_near(const Trial& trial, const Pattern& part, bool seats, double uncertainty) {
    // Looking closer than a tenth of what is uncertain anyway would be idle.
    const double finest = std::max(fitting::kFinestSquare_mm, uncertainty / 10.0);
    const double edge = seats ? uncertainty : -uncertainty;
    if (trial.find_shift({edge, 0.0, 0.0}, finest).has_value() != seats) return true;
    // One land, or two that change places, are off all together: a shift of the part takes that up.
    const double place = part.lands.size() > 2 ? against_each_other(edge) : 0.0;
    return trial.find_shift({0.0, place, against_each_other(edge)}, finest).has_value() != seats;
}

void judge_turn(const Board& board, const fitting::Turn& turn, double uncertainty, CopperFit& fit) {
    const Pattern part = fitting::turned(board.pattern(), turn);
    const Trial trial(board, part, 2.0 * against_each_other(uncertainty));
    const double degrees = turn.angle.degrees();
    if (matches(board, part, kExactTolerance_mm)) fit.exact.push_back(degrees);
    const std::optional<Vec2> shift = trial.find_shift();
    if (shift) {
        fit.seating.push_back(degrees);
        if (*shift == Vec2{}) {
            fit.unshifted.push_back(degrees);
        } else {
            const geometry::Affine to_part = geometry::Affine::rotation(board.pattern().axes);
            fit.needs_shift.push_back({degrees, to_part.linear(trial.eased(*shift))});
        }
    }
    const bool seat_near = seat_is_near(trial, part, shift.has_value(), uncertainty);
    if (seat_near || exact_is_near(board, part, uncertainty)) fit.nearly.push_back(degrees);
    if (seat_near && !shift) fit.may_seat.push_back(degrees);
}

bool mirror_seats(const Board& board) {
    const std::vector<fitting::Turn> turns = fitting::candidate_mirror_turns(board.pattern());
    return std::any_of(turns.begin(), turns.end(), [&](const fitting::Turn& turn) {
        const Pattern part = fitting::turned(board.pattern(), turn);
        return Trial(board, part).find_shift().has_value();
    });
}

CopperFit copper_fit(const Footprint& part, double uncertainty) {
    CopperFit fit;
    const Pattern drawn = fitting::pattern_of(part);
    const Pattern pattern = fitting::joined(part, drawn);
    fit.usable_pads = drawn.lands.size();
    fit.joined_pads = drawn.lands.size() - pattern.lands.size();
    if (pattern.lands.empty()) return fit;
    const Board board(pattern);
    for (const fitting::Turn& turn : fitting::candidate_turns(pattern))
        judge_turn(board, turn, uncertainty, fit);
    fit.mirrored_seats = mirror_seats(board);
    return fit;
}

bool is_among(const std::vector<double>& turns, double turn) {
    constexpr double kSameTurn_deg = 1e-6;
    return std::any_of(turns.begin(), turns.end(),
                       [&](double other) { return std::abs(std::remainder(other - turn, 360.0)) <= kSameTurn_deg; });
}

bool is_complete(const Footprint& part, std::size_t usable_pads) {
    return usable_pads > 0 && usable_pads == part.pads.size() &&
           usable_pads >= static_cast<std::size_t>(std::max(0, document::pad_count(part)));
}

/// `in_mm`: without a scale nothing is known of what measuring got wrong.
PartFit with_role(const Footprint& part, const CopperFit& copper, bool in_mm = true) {
    PartFit fit;
    fit.part = part.id;
    fit.exact_turns = copper.exact;
    fit.seating_turns = copper.seating;
    fit.seating_turns_unshifted = copper.unshifted;
    fit.needs_shift = copper.needs_shift;
    fit.nearly_turns = copper.nearly;
    fit.mirrored_seats = copper.mirrored_seats;
    fit.harmless_turns = harmless_turns(part);
    for (const double turn : fit.seating_turns)
        if (!is_among(fit.harmless_turns, turn)) fit.risky_turns.push_back(turn);
    for (const double turn : copper.may_seat)
        if (in_mm && !is_among(fit.harmless_turns, turn)) fit.unsure_turns.push_back(turn);
    fit.risky_turns.insert(fit.risky_turns.end(), fit.unsure_turns.begin(), fit.unsure_turns.end());
    std::sort(fit.risky_turns.begin(), fit.risky_turns.end());
    fit.consequence = consequence_of(part.part_class);
    fit.needs_record = !fit.risky_turns.empty();
    fit.has_record = part.orientation.state == document::RecordState::Recorded;
    fit.looked_no_mark = part.orientation.state == document::RecordState::NoMark;
    fit.is_complete = is_complete(part, copper.usable_pads);
    fit.joined_pads = copper.joined_pads;
    return fit;
}

/// The bytes of everything copper_fit looks at: equal keys, equal answers.
class PatternKey {
public:
    explicit PatternKey(const Footprint& part) {
        for (const document::Pad& pad : part.pads) {
            add(pad.at);
            add(pad.turn.degrees());
            add(pad.shape);
        }
        if (!part.body) return;
        add(part.body->turn.degrees());
        add(part.body->shape);
    }
    [[nodiscard]] const std::string& bytes() const { return bytes_; }

private:
    void add(double value) {
        // 0 and -0 are the same place.
        const double plain = value == 0.0 ? 0.0 : value;
        bytes_.append(reinterpret_cast<const char*>(&plain), sizeof plain);
    }
    void add(Vec2 point) {
        add(point.x);
        add(point.y);
    }
    void add(const document::Shape& shape) {
        add(static_cast<double>(shape.kind));
        add(shape.width_mm);
        add(shape.height_mm);
        add(static_cast<double>(shape.points.size()));
        for (const Vec2 p : shape.points)
            add(p);
    }

    std::string bytes_;
};

/// "90, 180 and 270"
std::string listed(const std::vector<double>& turns_deg) {
    std::string text;
    for (std::size_t i = 0; i < turns_deg.size(); ++i)
        text += fmt::format("{}{:g}", i == 0 ? "" : i + 1 == turns_deg.size() ? " and " : ", ", turns_deg[i]);
    return text;
}

double longer_side(const document::Pad& pad) {
    if (pad.shape.kind == ShapeKind::Round) return pad.shape.width_mm;
    if (pad.shape.kind != ShapeKind::Polygon) return std::max(pad.shape.width_mm, pad.shape.height_mm);
    const geometry::Box box = geometry::bounds(pad.shape.points);
    return std::max(box.width(), box.height());
}

} // namespace

PartFit fit_of(const Footprint& part, double uncertainty_mm) {
    assert(uncertainty_mm >= 0.0);
    return with_role(part, copper_fit(part, uncertainty_mm));
}

FitReport fit(const document::Chart& chart) {
    FitReport report;
    report.has_scale = chart.scale.has_value();
    report.uncertainty_mm = measuring_uncertainty(chart);
    report.parts.reserve(chart.parts.size());
    std::unordered_map<std::string, CopperFit> known;
    for (const Footprint& part : chart.parts) {
        const PatternKey key(part);
        auto found = known.find(key.bytes());
        if (found == known.end()) found = known.emplace(key.bytes(), copper_fit(part, report.uncertainty_mm)).first;
        report.parts.push_back(with_role(part, found->second, report.has_scale));
    }
    return report;
}

std::vector<double> sure_risks(const PartFit& fit) {
    std::vector<double> turns = fit.risky_turns;
    std::erase_if(turns, [&](double turn) { return is_among(fit.unsure_turns, turn); });
    return turns;
}

std::string risk_in_words(const PartFit& fit) {
    const std::vector<double> sure = sure_risks(fit);
    if (fit.risky_turns.empty()) return "";
    if (fit.unsure_turns.empty()) return fmt::format("also seats turned by {} degrees", listed(sure));
    if (sure.empty()) return fmt::format("may also seat turned by {} degrees", listed(fit.unsure_turns));
    return fmt::format("also seats turned by {} degrees, and may by {}", listed(sure), listed(fit.unsure_turns));
}

std::vector<double> exact_turns(const Footprint& part, double tolerance_mm) {
    assert(tolerance_mm >= 0.0);
    std::vector<double> turns{0.0};
    const Pattern pattern = fitting::joined(part, fitting::pattern_of(part));
    if (pattern.lands.empty()) return turns;
    const Board board(pattern);
    for (const fitting::Turn& turn : fitting::candidate_turns(pattern))
        if (matches(board, fitting::turned(pattern, turn), tolerance_mm)) turns.push_back(turn.angle.degrees());
    return turns;
}

double measuring_uncertainty(const document::Chart& chart) {
    std::vector<double> sides;
    for (const Footprint& part : chart.parts)
        for (const document::Pad& pad : part.pads)
            if (std::isfinite(longer_side(pad))) sides.push_back(longer_side(pad));
    if (!chart.scale || sides.empty()) return kLeastUncertainty_mm;
    const auto middle = sides.begin() + static_cast<std::ptrdiff_t>(sides.size() / 2);
    std::nth_element(sides.begin(), middle, sides.end());
    return std::max(kLeastUncertainty_mm, chart.scale->relative_uncertainty * *middle);
}

} // namespace padchart::analysis
