#include "app/picture.hpp"

#include <algorithm>
#include <unordered_set>
#include <utility>

#include "document/part_finder.hpp"
#include "paint/sfml_ground.hpp"
#include "scene/access_overlay.hpp"
#include "scene/chart_scene.hpp"

namespace padchart::app {
namespace {

using document::Chart;
using document::Footprint;
using document::Id;

// Of pads and parts; a picture of so many takes some 10 ms.
constexpr std::size_t kAtOnce = 2500;

const analysis::FitReport* fit_of(const PictureOrder& order, analysis::FitReport& mended) {
    if (!order.fit_in_hand) return &order.computed->fit;
    mended = order.computed->fit;
    mended.parts[order.fit_in_hand->at] = order.fit_in_hand->fit;
    return &mended;
}

/// Requires: the order, and `mended`, outlive what is returned.
scene::Reports reports_of(const PictureOrder& order, analysis::FitReport& mended) {
    scene::Reports reports;
    if (order.computed) reports = {&order.computed->clearance, fit_of(order, mended)};
    if (!order.plan) return reports;
    reports.plan = &*order.plan;
    if (order.estimate && order.estimate->report) reports.heat = &*order.estimate->report;
    if (order.map && order.map->report) reports.no_aim = &*order.map->report;
    if (order.second) reports.compared = &order.second->question.plan;
    return reports;
}

scene::Scene own_scene(const PictureOrder& order) {
    analysis::FitReport mended;
    const scene::Reports reports = reports_of(order, mended);
    if (order.options.stage != scene::Stage::Access) return scene::chart_scene(*order.chart, reports, order.options);
    const bool holds = order.access != nullptr && *order.access;
    return scene::access_scene(*order.chart, reports, order.options, holds ? &**order.access : nullptr,
                               order.inspect.words_within);
}

} // namespace

std::shared_ptr<const Picture> no_picture() {
    PictureOrder order;
    order.chart = std::make_shared<const Chart>();
    return make_picture(std::move(order));
}

std::shared_ptr<const Picture> make_picture(PictureOrder order) {
    auto own = std::make_shared<scene::Scene>(own_scene(order));
    std::vector<Id> hidden = order.hidden_parts;
    hidden.insert(hidden.end(), order.in_hand.begin(), order.in_hand.end());
    scene::hide(*own, *order.chart, order.hidden, hidden);
    std::optional<scene::Scene> instead = inspect_picture(order.inspect, *order.chart, order.options, *own);
    auto picture = std::make_shared<Picture>();
    picture->order = std::move(order);
    picture->hits = std::make_shared<scene::HitTest>(*own);
    picture->own = own;
    picture->shown = instead ? std::make_shared<const scene::Scene>(std::move(*instead)) : picture->own;
    picture->paints = paint::prepared(picture->shown);
    if (const auto& seen = picture->order.seen)
        picture->ground = paint::ground_of(picture->paints, seen->view, *seen->theme, kAroundLarge);
    return picture;
}

bool is_drawn_at_once(const Chart& chart) {
    std::size_t count = chart.parts.size();
    for (const Footprint& part : chart.parts)
        if ((count += part.pads.size()) > kAtOnce) return false;
    return count <= kAtOnce;
}

std::vector<Id> changed_parts(const Chart& from, const Chart& to) {
    std::vector<Id> changed;
    const std::size_t both = std::min(from.parts.size(), to.parts.size());
    std::size_t same = 0;
    while (same < both && from.parts.pointer(same) == to.parts.pointer(same))
        ++same;
    // Parts keep their order; what follows an added or removed one is known by what it is.
    std::unordered_set<const Footprint*> known;
    for (std::size_t i = same; i < from.parts.size(); ++i)
        known.insert(from.parts.pointer(i).get());
    for (std::size_t i = same; i < to.parts.size(); ++i)
        if (!known.contains(to.parts.pointer(i).get())) changed.push_back(to.parts[i].id);
    return changed;
}

scene::Scene picture_of_parts(const PictureOrder& order, const Chart& chart, const std::vector<Id>& ids) {
    Chart few;
    few.scale = chart.scale;
    analysis::FitReport fit;
    document::PartFinder finder(chart);
    for (const Id& id : ids) {
        const auto at = finder.find(id);
        if (!at) continue;
        few.parts.add(chart.parts[*at]);
        if (!order.computed) continue;
        if (const auto known = document::find_part(*order.computed->chart, id))
            fit.parts.push_back(order.fit_in_hand && order.fit_in_hand->at == *known
                                    ? order.fit_in_hand->fit
                                    : order.computed->fit.parts[*known]);
    }
    scene::ViewOptions options = order.options;
    options.show_zones = options.show_far_side = options.show_plans = false;
    scene::Scene made = scene::chart_scene(few, {nullptr, &fit}, options);
    scene::hide(made, few, order.hidden, order.hidden_parts);
    return made;
}

} // namespace padchart::app
