#include "app/inspect_picture.hpp"

#include "app/inspect_desk.hpp"
#include "scene/inspect_overlay.hpp"

namespace padchart::app {

std::optional<scene::Scene> inspect_picture(const Session& s, const scene::ViewOptions& options, scene::Scene& own) {
    const InspectDesk* desk = s.desks.find<InspectDesk>();
    if (s.stage != scene::Stage::Inspect || desk == nullptr || !desk->has_before()) return std::nullopt;
    const Inspection& answer = *desk->answer();
    const scene::BeforeAfter pair{*answer.before, s.editor.shown(), answer.report};
    if (desk->shows_before()) return scene::before_scene(pair, options);
    if (desk->view() == InspectView::Difference) return scene::difference_scene(pair, options);
    if (desk->view() == InspectView::Changes) scene::add_changes(own, pair, options);
    return std::nullopt;
}

std::uint64_t inspect_revision(const Session& s) {
    const InspectDesk* desk = s.desks.find<InspectDesk>();
    return s.stage == scene::Stage::Inspect && desk != nullptr ? desk->revision() : 0;
}

} // namespace padchart::app
