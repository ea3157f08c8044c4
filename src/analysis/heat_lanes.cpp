#include "analysis/heat_lanes.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <numbers>
#include <type_traits>
#include <utility>

#include "analysis/heat_factor.hpp"
#include "analysis/heat_pack.hpp"

namespace padchart::analysis {
namespace {

constexpr double kGamma = 2.0 - std::numbers::sqrt2;
constexpr double kStage = kGamma / 2.0;
constexpr double kFromStage = 1.0 / (kGamma * (2.0 - kGamma));
constexpr double kFromStart = kFromStage - 1.0;
constexpr double kRadiationPoint_c = 150.0;
constexpr double kSteady_k = 1e-5;
constexpr double kQuickSteady_k = 0.01; // short numbers end near here
constexpr int kSteadyRounds = 30;
constexpr int kCutInto = 4; // halved twice: every new length costs a factorisation
constexpr double kSameTime_s = 1e-6;
// Weights of the scheme less those of its companion of third order, over start, stage and end.
constexpr double kWeight = std::numbers::sqrt2 / 4.0;
constexpr double kErrorStart = kWeight - (1.0 - kWeight) / 3.0;
constexpr double kErrorStage = kWeight - (3.0 * kWeight + 1.0) / 3.0;
constexpr double kErrorEnd = kStage - kStage / 3.0;

/// Lot numbers of every node or entry, one after the other.
template <class Number, std::size_t Lanes>
struct LaneArray {
    std::vector<Number> numbers;

    void resize(std::size_t count) { numbers.assign(count * Lanes, Number{}); }
    [[nodiscard]] Number* at(std::size_t k) { return numbers.data() + k * Lanes; }
    [[nodiscard]] const Number* at(std::size_t k) const { return numbers.data() + k * Lanes; }
};

} // namespace

template <class Number, std::size_t Lanes>
struct LaneSolver<Number, Lanes>::State {
    using Lot = Pack<Number, Lanes>;
    using Array = LaneArray<Number, Lanes>;

    struct Factor {
        Array below; ///< entries below the diagonal
        Array inverse_diagonal;
    };
    /// What is known of the start of a step.
    struct Point {
        Array celsius, applied; ///< state, and conduction with losses and linear radiation applied to it
        Array before;           ///< state a step ago
        double last_step_s = 0.0;
    };
    struct Flows {
        std::array<double, Lanes> air{}, below{}, radiated{};
    };

    std::array<const HeatNetwork*, Lanes> networks;
    FactorPattern pattern;
    std::vector<std::size_t> link_entry;
    Array links; ///< entries of the matrix below the diagonal
    Array link_sum, capacity, loss, fixed, radiance, linear_radiation;
    Array air, air_source, below, below_source;
    std::array<double, Lanes> power_w{};
    Number surroundings_k{};
    std::map<double, Factor> factors; ///< by step length
    Array work;
    std::vector<int> waiting, after; // columns whose next entry lies in this row
    std::vector<int> at;             // their next entry
    Array stage, next, side, estimate, flow_start;

    explicit State(const std::array<const HeatNetwork*, Lanes>& n) : networks(n), pattern(factor_pattern(*n[0])) {
        for (const HeatLink& link : n[0]->links)
            link_entry.push_back(pattern.entry(link.a, link.b));
        for (Array* array : {&link_sum, &capacity, &loss, &fixed, &radiance, &linear_radiation, &air, &air_source,
                             &below, &below_source, &work, &stage, &next, &side, &estimate, &flow_start})
            array->resize(size());
    }

    [[nodiscard]] std::size_t size() const { return pattern.size(); }
    [[nodiscard]] std::size_t place(std::size_t k) const { return static_cast<std::size_t>(pattern.place[k]); }

    void load() {
        factors.clear();
        links.resize(pattern.row.size());
        link_sum.resize(size());
        surroundings_k = static_cast<Number>(networks[0]->surroundings_c + kCelsiusZero);
        for (std::size_t lane = 0; lane < Lanes; ++lane)
            load(lane, *networks[lane]);
    }

    void load(std::size_t lane, const HeatNetwork& network) {
        assert(network.links.size() == link_entry.size() && network.size() == size());
        for (std::size_t l = 0; l < network.links.size(); ++l) {
            const HeatLink& link = network.links[l];
            links.at(link_entry[l])[lane] -= static_cast<Number>(link.w_per_k);
            for (const std::size_t node : {link.a, link.b})
                link_sum.at(static_cast<std::size_t>(pattern.position[node]))[lane] +=
                    static_cast<Number>(link.w_per_k);
        }
        const double per_face =
            radiation_coefficient(1.0, kRadiationPoint_c, network.surroundings_c) / kStefanBoltzmann;
        power_w[lane] = 0.0;
        for (std::size_t k = 0; k < size(); ++k) {
            const std::size_t n = place(k);
            const auto set = [&](Array& array, double value) { array.at(k)[lane] = static_cast<Number>(value); };
            set(capacity, network.capacity_j_per_k[n]);
            set(loss, network.air.w_per_k[n] + network.below.w_per_k[n]);
            set(fixed, network.air.w[n] + network.below.w[n] + network.power_w[n]);
            set(air, network.air.w_per_k[n]);
            set(air_source, network.air.w[n]);
            set(below, network.below.w_per_k[n]);
            set(below_source, network.below.w[n]);
            set(radiance, network.radiance_w_per_k4[n]);
            set(linear_radiation, network.radiance_w_per_k4[n] * per_face);
            power_w[lane] += network.power_w[n];
        }
    }

    const Factor& factor_for(double step_s) {
        const auto [found, is_new] = factors.try_emplace(step_s);
        if (is_new) factorise(1.0 / (kStage * step_s), found->second);
        return found->second;
    }

    /// Left-looking: every column takes off what the columns before it that reach its row leave there.
    void factorise(double per_time, Factor& factor) {
        const Lot rate = Lot::all(static_cast<Number>(per_time));
        factor.below.resize(pattern.row.size());
        factor.inverse_diagonal.resize(size());
        constexpr int kNone = -1;
        for (std::vector<int>* list : {&waiting, &after, &at})
            list->assign(size(), kNone);
        const auto queue = [&](int column) {
            if (at[static_cast<std::size_t>(column)] == pattern.start[static_cast<std::size_t>(column) + 1]) return;
            const int row = pattern.row[static_cast<std::size_t>(at[static_cast<std::size_t>(column)])];
            after[static_cast<std::size_t>(column)] = std::exchange(waiting[static_cast<std::size_t>(row)], column);
        };
        const int* const row = pattern.row.data();
        for (std::size_t k = 0; k < size(); ++k) {
            const auto first = static_cast<std::size_t>(pattern.start[k]);
            const auto last = static_cast<std::size_t>(pattern.start[k + 1]);
            for (std::size_t e = first; e < last; ++e)
                Lot::load(links.at(e)).store(work.at(static_cast<std::size_t>(row[e])));
            Lot diagonal = Lot::load(capacity.at(k)) * rate + Lot::load(link_sum.at(k)) + Lot::load(loss.at(k)) +
                           Lot::load(linear_radiation.at(k));
            for (int column = waiting[k]; column != kNone;) {
                const auto c = static_cast<std::size_t>(column);
                const auto from = static_cast<std::size_t>(at[c]);
                const auto end = static_cast<std::size_t>(pattern.start[c + 1]);
                const Lot own = Lot::load(factor.below.at(from));
                diagonal = diagonal - own * own;
                for (std::size_t e = from + 1; e < end; ++e) {
                    Number* const to = work.at(static_cast<std::size_t>(row[e]));
                    (Lot::load(to) - own * Lot::load(factor.below.at(e))).store(to);
                }
                const int following = after[c];
                ++at[c];
                queue(column);
                column = following;
            }
            Number* const inverse = factor.inverse_diagonal.at(k);
            diagonal.store(inverse);
            for (std::size_t lane = 0; lane < Lanes; ++lane) {
                assert(inverse[lane] > Number{});
                inverse[lane] = Number{1} / std::sqrt(inverse[lane]);
            }
            const Lot scale = Lot::load(inverse);
            for (std::size_t e = first; e < last; ++e)
                (Lot::load(work.at(static_cast<std::size_t>(row[e]))) * scale).store(factor.below.at(e));
            at[k] = static_cast<int>(first);
            queue(static_cast<int>(k));
        }
    }

    void solve_in_place(const Factor& factor, Array& vector) const {
        const std::size_t n = size();
        Number* const x = vector.numbers.data();
        const Number* const value = factor.below.numbers.data();
        const Number* const inverse = factor.inverse_diagonal.numbers.data();
        const int* const row = pattern.row.data();
        const int* const start = pattern.start.data();
        for (std::size_t k = 0; k < n; ++k) {
            const Lot own = Lot::load(x + k * Lanes) * Lot::load(inverse + k * Lanes);
            own.store(x + k * Lanes);
            const auto end = static_cast<std::size_t>(start[k + 1]);
            for (auto e = static_cast<std::size_t>(start[k]); e < end; ++e) {
                Number* const to = x + static_cast<std::size_t>(row[e]) * Lanes;
                (Lot::load(to) - Lot::load(value + e * Lanes) * own).store(to);
            }
        }
        for (std::size_t k = n; k-- > 0;) {
            Lot sum = Lot::load(x + k * Lanes);
            const auto end = static_cast<std::size_t>(start[k + 1]);
            for (auto e = static_cast<std::size_t>(start[k]); e < end; ++e)
                sum = sum - Lot::load(value + e * Lanes) * Lot::load(x + static_cast<std::size_t>(row[e]) * Lanes);
            (sum * Lot::load(inverse + k * Lanes)).store(x + k * Lanes);
        }
    }

    [[nodiscard]] Lot radiated(std::size_t k, const Lot& celsius) const {
        const Lot t = celsius + Lot::all(static_cast<Number>(kCelsiusZero));
        const Lot t2 = t * t;
        const Lot s2 = Lot::all(surroundings_k * surroundings_k);
        return Lot::load(radiance.at(k)) * ((t2 + s2) * (t2 - s2));
    }
    /// Sources, with what the fourth-power law leaves over the linear radiation of the matrix.
    [[nodiscard]] Lot side_at(std::size_t k, const Lot& celsius) const {
        return Lot::load(fixed.at(k)) + Lot::load(linear_radiation.at(k)) * celsius - radiated(k, celsius);
    }

    void apply(const Array& celsius, Array& out) const {
        for (std::size_t k = 0; k < size(); ++k) {
            const Lot own = Lot::load(link_sum.at(k)) + Lot::load(loss.at(k)) + Lot::load(linear_radiation.at(k));
            (own * Lot::load(celsius.at(k))).store(out.at(k));
        }
        for (std::size_t column = 0; column < size(); ++column)
            for (auto e = static_cast<std::size_t>(pattern.start[column]);
                 e < static_cast<std::size_t>(pattern.start[column + 1]); ++e) {
                const auto row = static_cast<std::size_t>(pattern.row[e]);
                const Lot g = Lot::load(links.at(e));
                (Lot::load(out.at(row)) + g * Lot::load(celsius.at(column))).store(out.at(row));
                (Lot::load(out.at(column)) + g * Lot::load(celsius.at(row))).store(out.at(column));
            }
    }

    [[nodiscard]] Flows flows(const Array& celsius) const {
        Lot in_air = Lot::all(Number{}), in_below = in_air, out = in_air;
        for (std::size_t k = 0; k < size(); ++k) {
            const Lot t = Lot::load(celsius.at(k));
            in_air = in_air + (Lot::load(air_source.at(k)) - Lot::load(air.at(k)) * t);
            in_below = in_below + (Lot::load(below_source.at(k)) - Lot::load(below.at(k)) * t);
            out = out + radiated(k, t);
        }
        Flows sum;
        const auto put = [](const Lot& from, std::array<double, Lanes>& to) {
            Number lanes[Lanes];
            from.store(lanes);
            std::copy(std::begin(lanes), std::end(lanes), to.begin());
        };
        put(in_air, sum.air);
        put(in_below, sum.below);
        put(out, sum.radiated);
        return sum;
    }

    /// From `from` over `step_s` into stage, next and `applied_next`; leaves the net flow of the start in flow_start.
    void step(const Point& from, double step_s, Array& applied_next) {
        const Factor& factor = factor_for(step_s);
        const Lot rate = Lot::all(static_cast<Number>(1.0 / (kStage * step_s)));
        const Lot ahead =
            Lot::all(from.last_step_s > 0.0 ? static_cast<Number>(kGamma * step_s / from.last_step_s) : Number{});
        for (std::size_t k = 0; k < size(); ++k) {
            const Lot t = Lot::load(from.celsius.at(k));
            const Lot guess = t + ahead * (t - Lot::load(from.before.at(k)));
            const Lot flow = side_at(k, t) - Lot::load(from.applied.at(k));
            flow.store(flow_start.at(k));
            (rate * Lot::load(capacity.at(k)) * t + flow + side_at(k, guess)).store(stage.at(k));
        }
        solve_in_place(factor, stage);
        const Lot to_end = Lot::all(static_cast<Number>(1.0 / kGamma));
        const Lot c1 = Lot::all(static_cast<Number>(kFromStage));
        const Lot c0 = Lot::all(static_cast<Number>(kFromStart));
        for (std::size_t k = 0; k < size(); ++k) {
            const Lot t = Lot::load(from.celsius.at(k));
            const Lot y = Lot::load(stage.at(k));
            const Lot guess = t + to_end * (y - t);
            const Lot right = rate * Lot::load(capacity.at(k)) * (c1 * y - c0 * t) + side_at(k, guess);
            right.store(next.at(k));
            right.store(applied_next.at(k));
        }
        solve_in_place(factor, next);
        for (std::size_t k = 0; k < size(); ++k) {
            const Lot held = rate * Lot::load(capacity.at(k)) * Lot::load(next.at(k));
            (Lot::load(applied_next.at(k)) - held).store(applied_next.at(k));
        }
    }

    /// Largest local error of the step just taken, K.
    [[nodiscard]] double error_of(const Point& from, double step_s) {
        const Factor& factor = factor_for(step_s);
        const Lot rate = Lot::all(static_cast<Number>(1.0 / (kStage * step_s)));
        const auto all = [](double value) { return Lot::all(static_cast<Number>(value)); };
        const double over = 1.0 / kStage; // step over the stage's own length
        for (std::size_t k = 0; k < size(); ++k) {
            const Lot inertia = rate * Lot::load(capacity.at(k));
            const Lot t = Lot::load(from.celsius.at(k));
            const Lot y = Lot::load(stage.at(k));
            const Lot at_start = Lot::load(flow_start.at(k));
            const Lot at_stage = inertia * (y - t) - at_start;
            const Lot at_end = inertia * (Lot::load(next.at(k)) - all(kFromStage) * y + all(kFromStart) * t);
            (all(over * kErrorStart) * at_start + all(over * kErrorStage) * at_stage + all(over * kErrorEnd) * at_end)
                .store(estimate.at(k));
        }
        // Through the factor: what dies out at once within the step is no error of it.
        solve_in_place(factor, estimate);
        Lot largest = all(0.0);
        for (std::size_t k = 0; k < size(); ++k) {
            const Lot e = Lot::load(estimate.at(k));
            largest = larger(largest, larger(e, all(0.0) - e));
        }
        Number lanes[Lanes];
        largest.store(lanes);
        return static_cast<double>(*std::max_element(std::begin(lanes), std::end(lanes)));
    }

    void add_step(const Point& from, const Flows& start, const Flows& end, double step_s, LaneBalance<Lanes>& balance) {
        const Flows middle = flows(stage);
        const double w = kStage * step_s;
        const auto moved = [&](double a, double b, double c) { return w * (kFromStage * (a + b) + c); };
        Lot kept = Lot::all(Number{});
        for (std::size_t k = 0; k < size(); ++k)
            kept = kept + Lot::load(capacity.at(k)) * (Lot::load(next.at(k)) - Lot::load(from.celsius.at(k)));
        Number stored[Lanes];
        kept.store(stored);
        for (std::size_t lane = 0; lane < Lanes; ++lane) {
            HeatBalance& sum = balance.cases[lane];
            const double in = moved(start.air[lane], middle.air[lane], end.air[lane]);
            const double low = moved(start.below[lane], middle.below[lane], end.below[lane]);
            const double out = moved(start.radiated[lane], middle.radiated[lane], end.radiated[lane]);
            const double power = power_w[lane] * step_s;
            const auto inside = static_cast<double>(stored[lane]);
            sum.from_air_j += in;
            sum.from_below_j += low;
            sum.from_power_j += power;
            sum.radiated_j += out;
            sum.stored_j += inside;
            sum.largest_step_residual_w =
                std::max(sum.largest_step_residual_w, std::abs(in + low + power - out - inside) / step_s);
        }
    }

    /// Within the step just taken, at a share of it: the cubic through both ends and their slopes.
    void write_between(const Point& from, double step_s, double share,
                       std::array<std::vector<double>, Lanes>& celsius) const {
        const Lot rate = Lot::all(static_cast<Number>(1.0 / (kStage * step_s)));
        const auto all = [](double value) { return Lot::all(static_cast<Number>(value)); };
        const double u = share, v = 1.0 - share;
        const Lot from_start = all(v * v * (1.0 + 2.0 * u)), from_end = all(u * u * (3.0 - 2.0 * u));
        const Lot start_slope = all(u * v * v * step_s), end_slope = all(-u * u * v * step_s);
        for (std::size_t k = 0; k < size(); ++k) {
            const Lot t = Lot::load(from.celsius.at(k));
            const Lot end = Lot::load(next.at(k));
            const Lot y = Lot::load(stage.at(k));
            // Slope at the end from the scheme itself, at the start from the flow over the capacity.
            const Lot slope_end = rate * (end - all(kFromStage) * y + all(kFromStart) * t);
            Number flow[Lanes], held[Lanes], out[Lanes];
            Lot::load(flow_start.at(k)).store(flow);
            Lot::load(capacity.at(k)).store(held);
            for (std::size_t lane = 0; lane < Lanes; ++lane)
                flow[lane] /= held[lane];
            (from_start * t + from_end * end + start_slope * Lot::load(flow) + end_slope * slope_end).store(out);
            for (std::size_t lane = 0; lane < Lanes; ++lane)
                celsius[lane][place(k)] = static_cast<double>(out[lane]);
        }
    }

    void read(const std::array<std::vector<double>, Lanes>& celsius, Array& out) const {
        for (std::size_t k = 0; k < size(); ++k)
            for (std::size_t lane = 0; lane < Lanes; ++lane)
                out.at(k)[lane] = static_cast<Number>(celsius[lane][place(k)]);
    }
    void write(const Array& from, std::array<std::vector<double>, Lanes>& celsius) const {
        for (std::size_t lane = 0; lane < Lanes; ++lane)
            for (std::size_t k = 0; k < size(); ++k)
                celsius[lane][place(k)] = static_cast<double>(from.at(k)[lane]);
    }
};

template <class Number, std::size_t Lanes>
LaneSolver<Number, Lanes>::LaneSolver(const std::array<const HeatNetwork*, Lanes>& networks)
    : state_(std::make_unique<State>(networks)) {}
template <class Number, std::size_t Lanes>
LaneSolver<Number, Lanes>::LaneSolver(LaneSolver&&) noexcept = default;
template <class Number, std::size_t Lanes>
LaneSolver<Number, Lanes>& LaneSolver<Number, Lanes>::operator=(LaneSolver&&) noexcept = default;
template <class Number, std::size_t Lanes>
LaneSolver<Number, Lanes>::~LaneSolver() = default;

namespace {

/// Steps worth a look: while nothing is switched the error of equal steps only falls.
bool is_looked_at(int step) {
    return (step & (step - 1)) == 0; // 0, 1, 2, 4, 8 ...
}

} // namespace

template <class Number, std::size_t Lanes>
LaneBalance<Lanes> LaneSolver<Number, Lanes>::run(std::array<std::vector<double>, Lanes>& celsius,
                                                  std::span<const HeatStretch> stretches, const StepControl& control,
                                                  const LaneObserver<Lanes>& observer, const std::stop_token& stop) {
    State& s = *state_;
    s.load();
    typename State::Point point;
    for (auto* array : {&point.celsius, &point.applied, &point.before})
        array->resize(s.size());
    typename State::Array applied_next;
    applied_next.resize(s.size());
    s.read(celsius, point.celsius);
    point.before = point.celsius;
    s.apply(point.celsius, point.applied);
    typename State::Flows flow = s.flows(point.celsius);
    LaneBalance<Lanes> balance;
    observer(0.0, celsius);

    double now = 0.0;
    double next_seen_s = 0.0;
    /// One step, or the quarters of it where it errs too much.
    const auto advance = [&](const auto& self, double step_s, int cuts, bool is_checked) -> void {
        s.step(point, step_s, applied_next);
        if (is_checked && control.most_cuts > 0) {
            const double error = s.error_of(point, step_s);
            if (error > control.most_error_k && cuts < control.most_cuts) {
                for (int part = 0; part < kCutInto; ++part)
                    self(self, step_s / kCutInto, cuts + 1, true);
                return;
            }
            balance.largest_step_error_k = std::max(balance.largest_step_error_k, error);
        }
        balance.cut_steps += cuts > 0 ? 1 : 0;
        const typename State::Flows at_end = s.flows(s.next);
        s.add_step(point, flow, at_end, step_s, balance);
        flow = at_end;
        for (; control.seen_every_s > 0.0 && next_seen_s < now + step_s - kSameTime_s;
             next_seen_s += control.seen_every_s) {
            s.write_between(point, step_s, (next_seen_s - now) / step_s, celsius);
            observer(next_seen_s, celsius);
        }
        std::swap(point.before, point.celsius);
        std::swap(point.celsius, s.next);
        std::swap(point.applied, applied_next);
        point.last_step_s = step_s;
        now += step_s;
    };

    for (const HeatStretch& stretch : stretches) {
        const double start = now;
        const EqualSteps steps = equal_steps(stretch.until_s - start, stretch.step_s);
        for (int step = 0; step < steps.count; ++step) {
            if (stop.stop_requested()) {
                balance.is_finished = false;
                return balance;
            }
            next_seen_s = now + control.seen_every_s;
            advance(advance, steps.step_s, 0, is_looked_at(step));
            now = start + (step + 1) * steps.step_s;
            s.write(point.celsius, celsius);
            observer(now, celsius);
        }
    }
    return balance;
}

template <class Number, std::size_t Lanes>
std::array<std::vector<double>, Lanes> LaneSolver<Number, Lanes>::steady() {
    using Lot = typename State::Lot;
    State& s = *state_;
    s.load();
    typename State::Array x, side;
    typename State::Factor factor;
    x.resize(s.size());
    side.resize(s.size());
    std::fill(x.numbers.begin(), x.numbers.end(), static_cast<Number>(kRadiationPoint_c));
    const Lot zero_c = Lot::all(static_cast<Number>(kCelsiusZero));
    const double tolerance = std::is_same_v<Number, float> ? kQuickSteady_k : kSteady_k;
    // The fourth-power law is convex, so that no damping is needed.
    for (int round = 0; round < kSteadyRounds; ++round) {
        for (std::size_t k = 0; k < s.size(); ++k) {
            const Lot t = Lot::load(x.at(k)) + zero_c;
            (Lot::all(Number{4}) * Lot::load(s.radiance.at(k)) * t * t * t).store(s.linear_radiation.at(k));
        }
        s.factorise(0.0, factor);
        for (std::size_t k = 0; k < s.size(); ++k)
            s.side_at(k, Lot::load(x.at(k))).store(side.at(k));
        s.solve_in_place(factor, side);
        double moved = 0.0;
        for (std::size_t k = 0; k < x.numbers.size(); ++k)
            moved = std::max(moved, static_cast<double>(std::abs(side.numbers[k] - x.numbers[k])));
        std::swap(x, side);
        if (moved < tolerance) break;
    }
    std::array<std::vector<double>, Lanes> celsius;
    for (std::vector<double>& of_case : celsius)
        of_case.resize(s.size());
    s.write(x, celsius);
    return celsius;
}

template class LaneSolver<float, 4>;
template class LaneSolver<double, 2>;

} // namespace padchart::analysis
