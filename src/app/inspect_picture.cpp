#include "app/inspect_picture.hpp"

#include "scene/inspect_overlay.hpp"

namespace padchart::app {

InspectLook inspect_look(const Session& s) {
    const InspectDesk* desk = s.desks.find<InspectDesk>();
    if (s.stage != scene::Stage::Inspect || desk == nullptr || !desk->has_before()) return {};
    return {desk->answer(), desk->view(), desk->shows_before(), std::nullopt};
}

std::optional<scene::Scene> inspect_picture(const InspectLook& look, const document::Chart& chart,
                                            const scene::ViewOptions& options, scene::Scene& own) {
    if (look.answer == nullptr) return std::nullopt;
    const scene::BeforeAfter pair{*look.answer->before, chart, look.answer->report};
    if (look.shows_before) return scene::before_scene(pair, options);
    if (look.view == InspectView::Difference) return scene::difference_scene(pair, options);
    if (look.view == InspectView::Changes) scene::add_changes(own, pair, options, look.words_within);
    return std::nullopt;
}

std::uint64_t inspect_revision(const Session& s) {
    const InspectDesk* desk = s.desks.find<InspectDesk>();
    return s.stage == scene::Stage::Inspect && desk != nullptr ? desk->revision() : 0;
}

} // namespace padchart::app
