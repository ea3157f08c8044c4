#include "patterns/fit_pattern.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "patterns/fit_counts.hpp"
#include "patterns/fit_trial.hpp"
#include "patterns/numbering.hpp"

namespace padchart::patterns {
namespace {

using document::Footprint;
using document::Pad;
using geometry::Affine;
using geometry::Vec2;

Result<TracedLands> read_lands(std::span<const Pad> traced) {
    if (traced.empty()) return Error{"There are no lands to fit a family to.", ""};
    TracedLands lands;
    for (const Pad& pad : traced) {
        const geometry::Ring outline = outline_in_part(pad);
        const bool finite = std::all_of(outline.begin(), outline.end(), [](Vec2 p) { return is_finite(p); });
        if (outline.empty() || !finite) return Error{"A land to be fitted has no proper outline.", pad.number};
        lands.outlines.push_back(outline);
        lands.numbers.push_back(pad.number);
    }
    return lands;
}

std::vector<Vec2> centres(const std::vector<LandBox>& boxes) {
    std::vector<Vec2> all;
    for (const LandBox& box : boxes)
        all.push_back(box.centre);
    return all;
}

double quarter(double degrees) {
    const double rest = std::fmod(degrees, 90.0);
    return rest < 0.0 ? rest + 90.0 : rest;
}

/// The turn at which the box round the centres is smallest, to one degree.
double smallest_box_turn(const std::vector<Vec2>& lands) {
    double best_turn = 0.0;
    double best = std::numeric_limits<double>::infinity();
    for (int turn = 0; turn < 90; ++turn) {
        const Affine back = Affine::rotation(Angle::degrees(-turn));
        geometry::Box box;
        for (const Vec2 land : lands)
            box.add(back(land));
        // The second term decides for lands in one line.
        const double area = box.width() * box.height() + 1e-6 * (box.width() + box.height());
        if (area < best - 1e-12) {
            best = area;
            best_turn = turn;
        }
    }
    return best_turn;
}

/// From land 0 to the land nearest to it.
double nearest_bearing(const std::vector<Vec2>& lands) {
    std::size_t nearest = 0;
    for (std::size_t i = 1; i < lands.size(); ++i)
        if (nearest == 0 || distance(lands[0], lands[i]) < distance(lands[0], lands[nearest])) nearest = i;
    return nearest == 0 ? 0.0 : geometry::bearing(lands[nearest] - lands[0]).degrees();
}

/// Turns between 0 and 90 degrees at which the lands' own axes may lie, likely first.
std::vector<double> start_turns(std::span<const Pad> traced, const TracedLands& lands) {
    const std::vector<Vec2> all = centres(turned_back(lands, Angle{}));
    std::vector<double> turns;
    for (const double turn :
         {quarter(traced.front().turn.degrees()), quarter(nearest_bearing(all)), smallest_box_turn(all), 0.0}) {
        const bool known = std::any_of(turns.begin(), turns.end(), [&](double each) {
            const double off = std::abs(each - turn);
            return std::min(off, 90.0 - off) < 0.5;
        });
        if (!known) turns.push_back(turn);
    }
    return turns;
}

double cost(const Trial& trial) {
    return std::hypot(trial.rms_mm, 0.5 * trial.size_rms_mm);
}

template <class Keep>
void keep_only(std::vector<Trial>& trials, Keep keep) {
    trials.erase(std::remove_if(trials.begin(), trials.end(), [&](const Trial& trial) { return !keep(trial); }),
                 trials.end());
}

/// The nearest; of equally near ones the one whose numbers agree, whose measures are the family's, and turned least.
/// Requires: trials not empty.
Trial best_of(std::vector<Trial> trials) {
    constexpr double kSame_mm = 0.005;
    double least = std::numeric_limits<double>::infinity();
    for (const Trial& trial : trials)
        least = std::min(least, cost(trial));
    keep_only(trials, [&](const Trial& trial) { return cost(trial) <= least + kSame_mm; });
    int most = 0;
    for (const Trial& trial : trials)
        most = std::max(most, trial.numbers_agreeing);
    keep_only(trials, [&](const Trial& trial) { return trial.numbers_agreeing == most; });
    double as_is = std::numeric_limits<double>::infinity();
    for (const Trial& trial : trials)
        as_is = std::min(as_is, trial.as_is_rms_mm);
    keep_only(trials, [&](const Trial& trial) { return trial.as_is_rms_mm <= as_is + kSame_mm; });
    const auto turned = [](const Trial& trial) {
        // 359.99 is as good as 0.
        const double turn = trial.turn.wrapped().degrees();
        return turn > 359.5 ? 0.0 : turn;
    };
    return *std::min_element(trials.begin(), trials.end(),
                             [&](const Trial& a, const Trial& b) { return turned(a) < turned(b); });
}

std::vector<Trial> all_trials(const Family& family, const TracedLands& lands, const std::vector<double>& turns) {
    std::vector<Trial> trials;
    const std::vector<std::vector<double>> fixed =
        family.takes_omitted ? std::vector<std::vector<double>>{} : count_variants(family, lands.outlines.size());
    for (const double start : turns)
        for (int quarter_turn = 0; quarter_turn < 4; ++quarter_turn) {
            const Angle turn = Angle::degrees(start + 90.0 * quarter_turn);
            const auto variants =
                family.takes_omitted ? grid_variants(family, centres(turned_back(lands, turn))) : fixed;
            for (const std::vector<double>& values : variants) {
                const std::optional<LinearModel> model = linear_model(family, values);
                if (!model) continue;
                if (std::optional<Trial> trial = try_fit(family, *model, lands, turn)) trials.push_back(*trial);
            }
        }
    return trials;
}

std::size_t position_of(const Family& family, std::string_view key) {
    const auto at = std::find_if(family.parameters.begin(), family.parameters.end(),
                                 [&](const Parameter& parameter) { return parameter.key == key; });
    return static_cast<std::size_t>(at - family.parameters.begin());
}

/// Places of a grid that no traced land has met become omitted.
void omit_unmet(const Family& family, const LinearModel& model, Trial& trial) {
    std::vector<char> met(model.numbers.size(), 0);
    for (const std::size_t partner : trial.partner)
        met[partner] = 1;
    const bool unbroken = trial.values[position_of(family, "letters")] == 1.0;
    for (std::size_t i = 0; i < met.size(); ++i) {
        if (met[i] != 0) continue;
        const auto place = ball_place(model.numbers[i], unbroken ? RowLetters::Unbroken : RowLetters::Standard);
        trial.values.push_back(omitted_place(place->row, place->column));
    }
}

std::vector<std::size_t> partners_by_number(const LinearModel& model, const Trial& trial, const Footprint& pattern) {
    std::vector<std::size_t> partners;
    std::vector<std::size_t> now(model.numbers.size(), 0);
    // Lands stay in order when some of them are left out.
    std::size_t next = 0;
    for (std::size_t i = 0; i < model.numbers.size(); ++i)
        if (next < pattern.pads.size() && pattern.pads[next].number == model.numbers[i]) now[i] = next++;
    for (const std::size_t partner : trial.partner)
        partners.push_back(now[partner]);
    return partners;
}

Result<PatternFit> finished(const Family& family, Trial trial) {
    const std::optional<LinearModel> model = linear_model(family, trial.values);
    if (!model) return Error{"The measures of the lands are beyond what the family can have.", ""};
    if (model->boxes.size() > trial.partner.size()) omit_unmet(family, *model, trial);
    Result<Footprint> pattern = generate(family, trial.values);
    if (!pattern) return pattern.error();
    if (const Result<Footprint> own = generate(family)) grow_body(family, *own, pattern->pads, trial.values);
    PatternFit fit;
    fit.family = std::string(family.key);
    fit.pattern_pad = partners_by_number(*model, trial, *pattern);
    fit.parameters = std::move(trial.values);
    fit.turn = trial.turn.wrapped();
    fit.at = Affine::rotation(trial.turn)(trial.shift);
    fit.rms_mm = trial.rms_mm;
    fit.max_mm = trial.max_mm;
    fit.size_rms_mm = trial.size_rms_mm;
    fit.as_is_rms_mm = trial.as_is_rms_mm;
    fit.numbers_agreeing = trial.numbers_agreeing;
    return fit;
}

Result<PatternFit> fit_lands(const Family& family, const TracedLands& lands, const std::vector<double>& turns) {
    const std::vector<Trial> trials = all_trials(family, lands, turns);
    if (trials.empty())
        return Error{std::string(family.key) + " cannot have " + std::to_string(lands.outlines.size()) +
                         " lands that lie so.",
                     ""};
    return finished(family, best_of(trials));
}

/// Share of round lands where the pattern has square ones and the other way round. Free outlines agree with anything.
double other_shapes(const PatternFit& fit, std::span<const Pad> traced) {
    const Result<Footprint> pattern = pattern_of(fit);
    if (!pattern) return 1.0;
    const auto is = [](const Pad& pad, document::ShapeKind kind) { return pad.shape.kind == kind; };
    double other = 0.0;
    for (std::size_t i = 0; i < traced.size(); ++i) {
        const Pad& partner = pattern->pads[fit.pattern_pad[i]];
        const bool swapped =
            (is(traced[i], document::ShapeKind::Round) && is(partner, document::ShapeKind::Rectangle)) ||
            (is(traced[i], document::ShapeKind::Rectangle) && is(partner, document::ShapeKind::Round));
        other += swapped ? 1.0 / static_cast<double>(traced.size()) : 0.0;
    }
    return other;
}

/// What speaks against a fit, in mm or as good as mm; the weights are a choice, no source. A count that had to be
/// changed and a place that had to be left out make a family less likely than one that has it so.
double score_of(const Family& family, const PatternFit& fit, std::span<const Pad> traced) {
    constexpr double kLeftOver = 3.0;
    constexpr double kCount = 0.2;
    constexpr double kOmitted = 0.05;
    constexpr double kShape = 0.1;
    double score = fit.as_is_rms_mm + kLeftOver * fit.rms_mm + fit.size_rms_mm + kShape * other_shapes(fit, traced);
    for (std::size_t i = 0; i < family.parameters.size(); ++i) {
        const Parameter& parameter = family.parameters[i];
        const double off = std::abs(fit.parameters[i] - parameter.default_value);
        if (parameter.is_integer && off > 0.0) score += kCount;
        // A grid's pitch was read off the lands before its fit began.
        if (parameter.key == "pitch_x_mm" || parameter.key == "pitch_y_mm") score += off;
    }
    return score + kOmitted * static_cast<double>(fit.parameters.size() - family.parameters.size());
}

struct Ranked {
    double score = 0.0;
    PatternFit fit;
};

} // namespace

Result<PatternFit> fit_family(const Family& family, std::span<const Pad> traced) {
    const Result<TracedLands> lands = read_lands(traced);
    if (!lands) return lands.error();
    return fit_lands(family, *lands, start_turns(traced, *lands));
}

std::vector<PatternFit> suggest_families(std::span<const Pad> traced, std::size_t limit, double worst_mm) {
    const Result<TracedLands> lands = read_lands(traced);
    if (!lands) return {};
    const std::vector<double> turns = start_turns(traced, *lands);
    std::vector<Ranked> fits;
    for (const Family& family : families()) {
        Result<PatternFit> fit = fit_lands(family, *lands, turns);
        if (!fit || fit->rms_mm > worst_mm) continue;
        const double score = score_of(family, *fit, traced);
        fits.push_back({score, std::move(*fit)});
    }
    std::stable_sort(fits.begin(), fits.end(), [](const Ranked& a, const Ranked& b) { return a.score < b.score; });
    std::vector<PatternFit> best;
    for (std::size_t i = 0; i < std::min(limit, fits.size()); ++i)
        best.push_back(std::move(fits[i].fit));
    return best;
}

Result<Footprint> pattern_of(const PatternFit& fit) {
    return generate(fit.family, fit.parameters);
}

document::Placement placement_of(const Footprint& traced, const PatternFit& fit) {
    return {document::board_from_part(traced.placement)(fit.at), (traced.placement.turn + fit.turn).wrapped(),
            traced.placement.side};
}

} // namespace padchart::patterns
