#pragma once
// What is kept of one case while it runs: the watched temperatures, fields and peaks.

#include "analysis/heat_run.hpp"

namespace padchart::analysis {

class Recorder {
public:
    /// Requires: all three outlive it.
    Recorder(const HeatSetup& setup, const HeatModel& model, CaseRun& run);
    /// Times ascend from call to call.
    void see(double time_s, std::span<const double> celsius);

private:
    void see_neighbour(std::size_t k, std::span<const double> celsius);
    void see_fields(double time_s, std::span<const double> celsius);

    const HeatSetup& setup_;
    const HeatModel& model_;
    CaseRun& run_;
    std::vector<double> excess_;
    std::vector<double> last_;
    std::vector<double> hottest_;
};

} // namespace padchart::analysis
