#pragma once
// What the pointer can meet on the chart shown, for a tool that keeps one while charts and sides change under it.

#include <memory>
#include <utility>

#include "app/latest_job.hpp"
#include "app/snap.hpp"

namespace padchart::app {

struct ToolContext;

/// Of a large chart the field is worked out beside the window.
class SnapsShown {
public:
    SnapsShown();

    /// For what only follows the pointer. Nothing is met until the field is there.
    [[nodiscard]] const SnapField& now(const ToolContext& context);
    /// For a click, which must not miss what it was aimed at: waits.
    [[nodiscard]] const SnapField& all(const ToolContext& context);

private:
    struct Of {
        std::shared_ptr<const document::Chart> chart;
        document::Side side = document::Side::Top;
        bool operator==(const Of&) const = default;
    };
    using Job = LatestJob<Of, std::pair<Of, SnapField>>;

    Of wanted_;
    SnapField field_;
    Job job_;
};

} // namespace padchart::app
