#include "app/snaps_shown.hpp"

#include "app/picture.hpp"
#include "app/tools/tool.hpp"

namespace padchart::app {

SnapsShown::SnapsShown()
    : job_([](const Of& of, const std::stop_token&, const Job::Give& give) {
          give({of, snap_field(*of.chart, {.side = of.side})});
      }) {}

const SnapField& SnapsShown::now(const ToolContext& context) {
    if (auto answer = job_.take(); answer && answer->first == wanted_) field_ = std::move(answer->second);
    Of of{context.editor.shown_snapshot(), context.seen_from};
    if (of == wanted_) return field_;
    wanted_ = of;
    if (is_drawn_at_once(*of.chart)) {
        job_.drop();
        field_ = snap_field(*of.chart, {.side = of.side});
    } else {
        field_ = SnapField();
        job_.ask(std::move(of));
    }
    return field_;
}

const SnapField& SnapsShown::all(const ToolContext& context) {
    (void)now(context);
    job_.wait();
    return now(context);
}

} // namespace padchart::app
