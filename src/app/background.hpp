#pragma once
// What is computed of the chart, kept up to date with its snapshots. Small charts are computed at once; large ones on a
// thread of their own that holds a snapshot, while the last reports stay on show.

#include <condition_variable>
#include <memory>
#include <mutex>
#include <thread>

#include "analysis/clearance.hpp"
#include "analysis/fit.hpp"
#include "document/chart.hpp"

namespace padchart::app {

struct Computed {
    std::shared_ptr<const document::Chart> chart;
    analysis::FitReport fit;
    analysis::ClearanceReport clearance;
};

[[nodiscard]] std::shared_ptr<const Computed> compute(std::shared_ptr<const document::Chart> chart);

class Background {
public:
    Background() = default;
    Background(const Background&) = delete;
    Background& operator=(const Background&) = delete;
    ~Background();

    /// Makes sure that reports of this snapshot are there or on their way. True when latest() has become another.
    bool update(const std::shared_ptr<const document::Chart>& chart);
    /// Never null after the first update of a small chart; null until the first reports of a large one are done.
    [[nodiscard]] const std::shared_ptr<const Computed>& latest() const { return latest_; }
    /// True while reports of a newer snapshot than latest() are being made.
    [[nodiscard]] bool is_busy() const { return wanted_ != nullptr && (!latest_ || latest_->chart != wanted_); }
    /// Blocks until latest() speaks of the last snapshot.
    void wait();

private:
    void run();
    bool collect();

    std::shared_ptr<const Computed> latest_;
    std::shared_ptr<const document::Chart> wanted_;

    std::mutex mutex_;
    std::condition_variable wake_, done_;
    std::shared_ptr<const document::Chart> order_; ///< guarded by mutex_
    std::shared_ptr<const Computed> result_;       ///< guarded by mutex_
    bool stop_ = false;                            ///< guarded by mutex_
    std::thread thread_;
};

} // namespace padchart::app
