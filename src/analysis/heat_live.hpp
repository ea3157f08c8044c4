#pragma once
// The quick estimate for a hand that moves a nozzle or a slider: the same answers as heat() gives, but what one plan
// has in common with the one before (grid, bodies, watched places, order of the factor, the soaked board) is made once.

#include <memory>

#include "analysis/heat.hpp"

namespace padchart::analysis {

class LiveHeat {
public:
    LiveHeat();
    LiveHeat(LiveHeat&&) noexcept;
    LiveHeat& operator=(LiveHeat&&) noexcept;
    ~LiveHeat();

    /// As heat() with Resolution::Live and these options, bit for bit. Errors: those of heat().
    [[nodiscard]] Result<HeatReport> heat(const std::shared_ptr<const document::Chart>& chart,
                                          const document::HeatPlan& plan, HeatOptions options = {});

private:
    struct Kept;
    std::unique_ptr<Kept> kept_;
};

} // namespace padchart::analysis
