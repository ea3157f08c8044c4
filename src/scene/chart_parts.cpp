#include <algorithm>
#include <cmath>
#include <unordered_map>
#include <utility>

#include "analysis/photo_doubts.hpp"
#include "scene/badges.hpp"
#include "scene/canvas.hpp"
#include "scene/marks.hpp"
#include "scene/words.hpp"

namespace padchart::scene {

using document::Footprint;
using geometry::Box;
using geometry::Ring;
using geometry::Vec2;

namespace {

Ring drawn_towards(const Ring& ring, Vec2 centre, double by) {
    Ring smaller;
    smaller.reserve(ring.size());
    for (const Vec2 p : ring) {
        const double away = geometry::distance(p, centre);
        smaller.push_back(away > by ? geometry::lerp(p, centre, by / away) : centre);
    }
    return smaller;
}

/// The corner between two edges, moved so that both edges lie `by` further in; nothing at a needle.
std::optional<Vec2> inner_corner(Vec2 before, Vec2 corner, Vec2 after, double by) {
    const Vec2 in = corner - before;
    const Vec2 out = after - corner;
    if (geometry::length(in) < 1e-9 || geometry::length(out) < 1e-9) return std::nullopt;
    const Vec2 u = in / geometry::length(in);
    const Vec2 v = out / geometry::length(out);
    const double k = 1.0 + geometry::dot(u, v);
    if (k < 0.05) return std::nullopt;
    return corner + Vec2{-u.y - v.y, u.x + v.x} * (by / k);
}

/// The outline drawn in by `by` mm, for the second line of a sensitive part; empty where there is no room for one.
/// Right for convex outlines, which bodies are.
Ring inset(const Ring& ring, double by) {
    const Box box = geometry::bounds(ring);
    if (ring.size() < 3 || box.width() <= 2 * by || box.height() <= 2 * by) return {};
    if (ring.size() > 8) return drawn_towards(ring, geometry::centroid(ring), by);
    const double inwards = geometry::signed_area(ring) >= 0 ? by : -by;
    Ring smaller;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const std::optional<Vec2> corner =
            inner_corner(ring[(i + ring.size() - 1) % ring.size()], ring[i], ring[(i + 1) % ring.size()], inwards);
        if (!corner) return {};
        smaller.push_back(*corner);
    }
    return smaller;
}

PartView view_of(const Canvas& canvas, const Footprint& part, const analysis::PartFit* fit) {
    PartView view;
    view.part = &part;
    view.scene_from_part = canvas.map * document::board_from_part(part.placement);
    view.outline = geometry::transformed(document::extent_in_part(part), view.scene_from_part);
    view.body_box = geometry::bounds(view.outline);
    view.box = view.body_box;
    view.absent = is_absent(part);
    view.sensitive = analysis::is_heat_sensitive(part);
    if (view.sensitive)
        view.inner = inset(view.outline, std::min(0.1, 0.09 * std::min(view.body_box.width(), view.body_box.height())));
    if (fit != nullptr) {
        view.needs_record = fit->needs_record;
        // What rests on a photo that may show another part is no answer yet.
        view.has_record = fit->has_record && analysis::doubtful_evidence(canvas.chart, part) == nullptr;
    }
    return view;
}

void reserve(Canvas& canvas) {
    std::size_t pads = 0;
    for (const PartView& view : canvas.views)
        pads += view.part->pads.size();
    const std::size_t parts = canvas.chart.parts.size();
    canvas.scene.items.reserve(2 * pads + 8 * parts);
    canvas.scene.fills.reserve(pads + 2 * parts);
    canvas.scene.lines.reserve(pads + 3 * parts);
    canvas.scene.texts.reserve(2 * parts);
    canvas.scene.sources.reserve(pads + parts);
}

Ring pad_in_scene(const PartView& view, const document::Pad& pad) {
    const geometry::Affine part_from_shape =
        geometry::Affine::translation(pad.at) * geometry::Affine::rotation(pad.turn);
    return geometry::transformed(document::outline_of(pad.shape), view.scene_from_part * part_from_shape);
}

/// The lands of a two-ended part lie under its ends; all others are drawn over the body, or nobody would see them.
bool may_lie_under(const PartView& view) {
    return !view.absent && view.part->body && view.part->pads.size() <= 2;
}

bool lies_under(const PartView& view, const Box& pad) {
    if (!may_lie_under(view)) return false;
    return !(view.body_box.contains(pad.min) && view.body_box.contains(pad.max));
}

void add_pad(Scene& scene, const PartView& view, std::size_t i, Ring outline) {
    const bool gone = view.part->pads[i].land == document::LandState::Missing;
    const std::int32_t source = scene.add_source(view.part->id, static_cast<std::int32_t>(i));
    scene.add(gone ? Role::PadMissing : Role::PadCopper, Fill{{outline, {}}}, source);
    scene.add(gone ? Role::MissingEdge : Role::PadEdge,
              Line{std::move(outline), true, gone ? Weight::Thin : Weight::Hair}, source);
}

void add_copper(Scene& scene, PartView& view, bool under) {
    if (under && !may_lie_under(view)) return;
    for (std::size_t i = 0; i < view.part->pads.size(); ++i) {
        Ring outline = pad_in_scene(view, view.part->pads[i]);
        const Box box = geometry::bounds(outline);
        if (lies_under(view, box) != under) continue;
        view.box.add(box);
        if (!under) view.pads_on_top.push_back(box);
        add_pad(scene, view, i, std::move(outline));
    }
}

void add_body(Scene& scene, const PartView& view) {
    if (view.outline.empty()) return;
    if (view.absent) {
        scene.add(Role::MissingEdge, Line{view.outline, true, Weight::Normal}, view.source);
        return;
    }
    if (view.part->body) {
        scene.add(view.sensitive ? Role::SensitiveBody : Role::Body, Fill{{view.outline, {}}}, view.source);
        if (!view.inner.empty()) scene.add(Role::SensitiveEdge, Line{view.inner, true, Weight::Hair}, view.source);
    }
    if (view.is_unknown())
        scene.add(Role::UnknownEdge, Line{view.outline, true, Weight::Normal}, view.source);
    else if (view.part->body)
        scene.add(view.sensitive ? Role::SensitiveEdge : Role::BodyEdge,
                  Line{view.outline, true, view.sensitive ? Weight::Normal : Weight::Thin}, view.source);
}

} // namespace

void collect_parts(Canvas& canvas) {
    std::unordered_map<document::Id, const analysis::PartFit*> fits;
    if (canvas.reports.fit != nullptr)
        for (const analysis::PartFit& fit : canvas.reports.fit->parts)
            fits.emplace(fit.part, &fit);
    canvas.views.reserve(canvas.chart.parts.size());
    for (const Footprint& part : canvas.chart.parts) {
        if (!canvas.is_near(part.placement.side)) continue;
        const auto fit = fits.find(part.id);
        canvas.views.push_back(view_of(canvas, part, fit == fits.end() ? nullptr : fit->second));
    }
    reserve(canvas);
}

namespace {

/// What is to be seen of a land whose other end lies under the body.
Box seen_of(const PartView& view, const Box& pad) {
    if (!lies_under(view, pad)) return pad;
    const Box& body = view.body_box;
    if (pad.min.x < body.min.x) return {pad.min, {std::min(pad.max.x, body.min.x), pad.max.y}};
    if (pad.max.x > body.max.x) return {{std::max(pad.min.x, body.max.x), pad.min.y}, pad.max};
    if (pad.min.y < body.min.y) return {pad.min, {pad.max.x, std::min(pad.max.y, body.min.y)}};
    return {{pad.min.x, std::max(pad.min.y, body.max.y)}, pad.max};
}

void add_pad_faults(Scene& scene, const PartView& view) {
    for (std::size_t i = 0; i < view.part->pads.size(); ++i)
        if (has_fault(view.part->pads[i]))
            add_fault_cross(scene, seen_of(view, geometry::bounds(pad_in_scene(view, view.part->pads[i]))),
                            scene.add_source(view.part->id, static_cast<std::int32_t>(i)));
}

/// Whole, before anything else: what it hides stays to be seen.
void add_cover(Canvas& canvas, PartView& view) {
    if (!view.absent) add_body(canvas.scene, view);
    add_copper(canvas.scene, view, true);
    add_copper(canvas.scene, view, false);
    if (view.absent) add_body(canvas.scene, view);
}

double area_of(const PartView& view) {
    return std::abs(geometry::signed_area(view.outline));
}

/// The middles of all bodies, from the left to the right.
class Middles {
public:
    explicit Middles(const std::vector<PartView>& views) : views_(views) {
        for (std::size_t i = 0; i < views.size(); ++i)
            if (!views[i].outline.empty()) by_x_.emplace_back(views[i].body_box.centre().x, i);
        std::sort(by_x_.begin(), by_x_.end());
    }

    /// The middle of a smaller body lies on it: nobody would see that one if this one came later.
    [[nodiscard]] bool has_one_on(const PartView& view) const {
        if (view.outline.empty()) return false;
        const Box& box = view.body_box;
        const double area = area_of(view);
        auto at = std::lower_bound(by_x_.begin(), by_x_.end(), std::pair{box.min.x, std::size_t{0}});
        for (; at != by_x_.end() && at->first <= box.max.x; ++at) {
            const PartView& other = views_[at->second];
            const Vec2 middle = other.body_box.centre();
            if (box.contains(middle) && area_of(other) < area && geometry::contains(view.outline, middle)) return true;
        }
        return false;
    }

private:
    const std::vector<PartView>& views_;
    std::vector<std::pair<double, std::size_t>> by_x_;
};

/// Shield cans and whatever else has smaller bodies on it, whatever it is called; the largest first.
std::vector<std::size_t> covers_of(const std::vector<PartView>& views) {
    const Middles middles(views);
    std::vector<std::size_t> covers;
    for (std::size_t i = 0; i < views.size(); ++i)
        if (views[i].part->part_class == document::PartClass::ShieldCan || middles.has_one_on(views[i]))
            covers.push_back(i);
    std::stable_sort(covers.begin(), covers.end(),
                     [&](std::size_t a, std::size_t b) { return area_of(views[a]) > area_of(views[b]); });
    return covers;
}

} // namespace

void add_parts(Canvas& canvas) {
    for (PartView& view : canvas.views)
        view.source = canvas.scene.add_source(view.part->id);
    for (const std::size_t i : covers_of(canvas.views)) {
        canvas.views[i].is_cover = true;
        add_cover(canvas, canvas.views[i]);
    }
    for (std::size_t i = 0; i < canvas.views.size(); ++i)
        if (!canvas.views[i].is_cover) add_copper(canvas.scene, canvas.views[i], true);
    for (std::size_t i = 0; i < canvas.views.size(); ++i) {
        if (canvas.views[i].is_cover) continue;
        PartView& view = canvas.views[i];
        // A missing part's outline lies over its lands, or its dashes would be lost on them.
        if (!view.absent) add_body(canvas.scene, view);
        add_copper(canvas.scene, view, false);
        if (view.absent) add_body(canvas.scene, view);
    }
    if (tells_faults(canvas.options.stage))
        for (const PartView& view : canvas.views)
            add_pad_faults(canvas.scene, view);
    for (PartView& view : canvas.views)
        view.mark_box = add_mark(canvas.scene, *view.part, view.scene_from_part, view.source);
}

} // namespace padchart::scene
