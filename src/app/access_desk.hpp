#pragma once
// The access stage's question and its answer, kept up to date with the chart shown, also while a part is dragged. On a
// small chart the answer takes milliseconds and is made at once; on a large one it is made behind the window while the
// last answer for the part stays on show. Who floats is asked of the heat plan behind the window.

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
    /// Blocks until it is known who floats and the answer speaks of the chart as it is.
    void wait(Session& session);

    [[nodiscard]] bool has_target() const { return !query.target.is_empty(); }
    /// Null until something was asked and answered.
    [[nodiscard]] const std::shared_ptr<const Result<analysis::AccessReport>>& answer() const { return answer_; }
    /// Null without an answer that holds.
    [[nodiscard]] const analysis::AccessReport* report() const;
    /// Another number whenever the answer is another.
    [[nodiscard]] std::uint64_t revision() const { return revision_; }
    /// The answer on show, if any, is of a moment ago.
    [[nodiscard]] bool is_working() const { return shown_number_ != number_; }
    /// A heat plan is being asked who floats.
    [[nodiscard]] bool is_asking_heat() const { return floating_job_.is_busy(); }

private:
    using Reached = std::shared_ptr<const Result<analysis::AccessReport>>;
    struct HeatOrder {
        std::shared_ptr<const document::Chart> chart;
        document::HeatPlan plan;
    };
    struct Order {
        std::shared_ptr<const document::Chart> chart;
        analysis::AccessQuery query;
        std::uint64_t number = 0;
    };
    struct Answer {
        document::Id target;
        std::uint64_t number = 0;
        Reached reached;
    };

    void follow_selection(const Session& session);
    void forget_turn_of_other_side(Session& session);
    void ask_heat(const Session& session);
    void ask(const Session& session);
    bool collect();
    void show(Reached reached, std::uint64_t number);
    void note() const;

    Reached answer_;
    std::uint64_t number_ = 0, shown_number_ = 0; ///< of questions: the last one, the one answer_ belongs to
    std::optional<analysis::AccessQuery> asked_;
    std::optional<document::Side> up_; ///< of the board, while the target was last looked at
    std::uint64_t asked_version_ = 0, revision_ = 1;
    std::shared_ptr<const document::Chart> heat_chart_;
    std::optional<document::HeatPlan> heat_plan_;
    std::optional<Floating> floating_;
    LatestJob<HeatOrder, Floating> floating_job_;
    LatestJob<Order, Answer> job_;
};

/// "C14 is marked as missing: ..."; empty where the part is there.
[[nodiscard]] std::string why_not_to_be_held(const document::Footprint& part);

/// "The directions are seen from the top: ..." where the picture shows the other side than the part's; else empty.
[[nodiscard]] std::string why_directions_wait(const Session& session, const document::Footprint& part);

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
