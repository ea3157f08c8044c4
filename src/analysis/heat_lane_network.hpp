#pragma once
// Heat networks of the same links side by side: their numbers in the factor's order, and what flows at given
// temperatures. Inside of LaneSolver.

#include <algorithm>
#include <array>

#include "analysis/heat_lane_matrix.hpp"
#include "analysis/heat_solver.hpp"

namespace padchart::analysis {

inline constexpr double kLaneRadiationPoint_c = 150.0; ///< where the linear part of the radiation is right

template <class Number, std::size_t Lanes>
struct LaneNetwork {
    using Matrix = LaneMatrix<Number, Lanes>;
    using Lot = typename Matrix::Lot;
    using Array = typename Matrix::Array;
    using Factor = typename Matrix::Factor;

    /// W, per case.
    struct Flows {
        std::array<double, Lanes> air{}, below{}, radiated{};
    };

    std::array<const HeatNetwork*, Lanes> networks;
    Matrix matrix;
    Array capacity, linear_radiation, radiance;
    std::array<double, Lanes> power_w{};

    explicit LaneNetwork(const std::array<const HeatNetwork*, Lanes>& n) : networks(n), matrix(factor_pattern(*n[0])) {
        for (const HeatLink& link : n[0]->links)
            link_entry.push_back(matrix.pattern.entry(link.a, link.b));
        for (Array* array : {&link_sum, &capacity, &loss, &fixed, &radiance, &linear_radiation, &air, &air_source,
                             &below, &below_source})
            array->resize(size());
    }

    [[nodiscard]] std::size_t size() const { return matrix.size(); }
    [[nodiscard]] std::size_t place(std::size_t k) const { return static_cast<std::size_t>(matrix.pattern.place[k]); }

    /// Takes the networks' numbers as they are now.
    void load() {
        matrix.links.resize(matrix.pattern.row.size());
        link_sum.resize(size());
        surroundings_k = static_cast<Number>(networks[0]->surroundings_c + kCelsiusZero);
        for (std::size_t lane = 0; lane < Lanes; ++lane)
            load(lane, *networks[lane]);
    }

    /// Links, losses and linear radiation, with the heat held over a time of 1 / per_time.
    void factorise(double per_time, Factor& factor) {
        const Lot rate = Lot::all(static_cast<Number>(per_time));
        matrix.factorise([&](std::size_t k) { return Lot::load(capacity.at(k)) * rate + diagonal(k); }, factor);
    }
    void apply(const Array& celsius, Array& out) const {
        matrix.apply([&](std::size_t k) { return diagonal(k); }, celsius, out);
    }

    /// Sources, with what the fourth-power law leaves over the linear radiation of the matrix.
    [[nodiscard]] Lot side_at(std::size_t k, const Lot& celsius) const {
        return Lot::load(fixed.at(k)) + Lot::load(linear_radiation.at(k)) * celsius - radiated(k, celsius);
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

private:
    std::vector<std::size_t> link_entry;
    Array link_sum, loss, fixed;
    Array air, air_source, below, below_source;
    Number surroundings_k{};

    [[nodiscard]] Lot diagonal(std::size_t k) const {
        return Lot::load(link_sum.at(k)) + Lot::load(loss.at(k)) + Lot::load(linear_radiation.at(k));
    }
    [[nodiscard]] Lot radiated(std::size_t k, const Lot& celsius) const {
        const Lot t = celsius + Lot::all(static_cast<Number>(kCelsiusZero));
        const Lot t2 = t * t;
        const Lot s2 = Lot::all(surroundings_k * surroundings_k);
        return Lot::load(radiance.at(k)) * ((t2 + s2) * (t2 - s2));
    }
    void load(std::size_t lane, const HeatNetwork& network) {
        assert(network.links.size() == link_entry.size() && network.size() == size());
        for (std::size_t l = 0; l < network.links.size(); ++l) {
            const HeatLink& link = network.links[l];
            matrix.links.at(link_entry[l])[lane] -= static_cast<Number>(link.w_per_k);
            for (const std::size_t node : {link.a, link.b})
                link_sum.at(static_cast<std::size_t>(matrix.pattern.position[node]))[lane] +=
                    static_cast<Number>(link.w_per_k);
        }
        const double per_face =
            radiation_coefficient(1.0, kLaneRadiationPoint_c, network.surroundings_c) / kStefanBoltzmann;
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
};

} // namespace padchart::analysis
