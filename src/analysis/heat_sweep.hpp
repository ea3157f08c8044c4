#pragma once
// The watched temperatures for a list of aims and the four cases: what the no-aim map and the search for better plans
// are made of. Aims are cut into fixed chunks, so that the answer does not depend on the number of threads.

#include <array>
#include <stop_token>

#include "analysis/heat_batch.hpp"
#include "analysis/heat_setup.hpp"

namespace padchart::analysis {

/// What one aim does, in one case.
struct AimResult {
    std::vector<float> neighbour_c; ///< hottest spot, per watched neighbour
    float joint_c = 0.0F;           ///< coldest joint
};

class AimSweep {
public:
    /// Requires: `setup` outlives it. `dwell_s`: state at the end of the dwell; nothing: steady.
    AimSweep(const HeatSetup& setup, std::optional<double> dwell_s);

    /// results[aim][case], cases in the order low, nominal, high, high and spreading. Stops early with fewer results
    /// computed (empty neighbour_c and joint_c NaN) when asked to.
    [[nodiscard]] std::vector<std::array<AimResult, 4>> run(std::span<const geometry::Vec2> aims, std::stop_token stop);

    [[nodiscard]] std::size_t iterations() const { return iterations_; }

private:
    struct CaseSystem {
        HeatModel model; // jet of the reference aim, copied by each worker
        JetField jet;
        SharedOrder order;
        std::vector<SharedFactor> factors; // one, or one per step
        std::vector<double> start;         // before the air
        std::vector<double> reference;     // steady at the reference aim
    };
    void work(std::size_t which, std::span<const geometry::Vec2> aims, std::size_t first_chunk, std::size_t stride,
              const std::stop_token& stop, std::vector<std::array<AimResult, 4>>& results,
              std::size_t& iterations) const;
    [[nodiscard]] AimResult read(const CaseSystem& system, const std::vector<double>& celsius) const;

    const HeatSetup& setup_;
    std::vector<double> steps_s_; // empty: steady
    std::vector<CaseSystem> cases_;
    std::size_t iterations_ = 0;
};

} // namespace padchart::analysis
