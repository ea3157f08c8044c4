#pragma once
// The access stage's question and its answer, kept up to date with the chart shown, also while a part is dragged. The
// answer takes milliseconds and is made at once; who floats is asked of the heat plan behind the window.

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "analysis/access.hpp"
#include "app/latest_job.hpp"
#include "app/session.hpp"

namespace padchart::app {

/// Whose joints a plan may melt.
struct Floating {
    document::Id target;
    std::vector<document::Id> parts;
};

class AccessDesk {
public:
    AccessDesk();

    analysis::AccessQuery query; ///< tool, room, slip, hand; target, pad and heat are filled in by update()
    std::string pad;             ///< the iron's, where the target has it
    bool shows_setup = false;    ///< folded out in the panel
    bool shows_ways = true;
    bool shows_neighbours = true;

    /// True where something else is to be seen than before.
    bool update(Session& session);
    /// Blocks until it is known who floats.
    void wait(Session& session);

    [[nodiscard]] bool has_target() const { return !query.target.is_empty(); }
    /// Null until something was asked.
    [[nodiscard]] const std::shared_ptr<const Result<analysis::AccessReport>>& answer() const { return answer_; }
    /// Null without an answer that holds.
    [[nodiscard]] const analysis::AccessReport* report() const;
    /// Another number whenever the answer is another.
    [[nodiscard]] std::uint64_t revision() const { return revision_; }
    /// A heat plan is being asked who floats.
    [[nodiscard]] bool is_asking_heat() const { return floating_job_.is_busy(); }

private:
    struct Order {
        std::shared_ptr<const document::Chart> chart;
        document::HeatPlan plan;
    };

    void follow_selection(const Session& session);
    void ask_heat(const Session& session);
    void note() const;

    std::shared_ptr<const Result<analysis::AccessReport>> answer_;
    std::optional<analysis::AccessQuery> asked_;
    std::uint64_t asked_version_ = 0, revision_ = 1;
    std::shared_ptr<const document::Chart> heat_chart_;
    std::optional<document::HeatPlan> heat_plan_;
    std::optional<Floating> floating_;
    LatestJob<Order, Floating> floating_job_;
};

/// Keeps the stage's answer up to date where it is shown. True where something else is to be seen.
bool update_access(Session& session);
/// Blocks until it is complete, where it is shown.
void wait_for_access(Session& session);
/// The target and what stands round it, as large as the canvas allows.
void look_near(Session& session);
/// That would be a good deal larger than it is.
[[nodiscard]] bool is_far_off(const Session& session);
/// Changes the query and keeps it in the bounds of what can be.
void change_access(Session& session, const std::function<void(analysis::AccessQuery&)>& change);

} // namespace padchart::app
