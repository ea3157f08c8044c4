#include "analysis/clearance_outlines.hpp"

#include <fmt/format.h>

#include "geometry/validity.hpp"

namespace padchart::analysis {

namespace {

using document::Footprint;
using geometry::Polygon;
using geometry::Region;
using geometry::Ring;

/// Generated shapes are proper by construction; only free points can go wrong.
Region area_of_shape(Ring ring, const document::Shape& shape, const std::string& what, const document::Id& target,
                     Diagnostics& findings) {
    if (shape.kind != document::ShapeKind::Polygon) return {Polygon{std::move(ring), {}}};
    return proper_area(Polygon{std::move(ring), {}}, what, target, findings);
}

void add_body(const Footprint& part, std::size_t position, Outlines& into, Diagnostics& findings) {
    if (!part.body || !sits_on_board(part)) return;
    Region area = area_of_shape(document::body_on_board(part), part.body->shape, "The body of " + name_of(part),
                                part.id, findings);
    const geometry::Box box = geometry::bounds(area);
    if (!box.is_empty()) into.bodies.push_back({position, std::nullopt, part.placement.side, std::move(area), box});
}

void add_pads(const Footprint& part, std::size_t position, Outlines& into, Diagnostics& findings) {
    for (std::size_t i = 0; i < part.pads.size(); ++i) {
        const document::Pad& pad = part.pads[i];
        const bool is_free = pad.shape.kind == document::ShapeKind::Polygon;
        const std::string what = is_free ? fmt::format("Pad {} of {}", pad_name(part, i), name_of(part)) : "";
        Region area = area_of_shape(document::outline_on_board(part, pad), pad.shape, what, part.id, findings);
        const geometry::Box box = geometry::bounds(area);
        if (!box.is_empty()) into.pads.push_back({position, i, part.placement.side, std::move(area), box});
    }
}

} // namespace

Outlines outlines_of(const document::Chart& chart, Diagnostics& findings) {
    Outlines outlines;
    for (std::size_t i = 0; i < chart.parts.size(); ++i) {
        const Footprint& part = chart.parts[i];
        add_body(part, i, outlines, findings);
        add_pads(part, i, outlines, findings);
        if (!part.body && part.pads.empty())
            findings.push_back({Severity::Note, "part-without-outline",
                                name_of(part) + " has neither body nor pads, so nothing was measured to it. Draw one "
                                                "of them.",
                                "", part.id.text});
    }
    return outlines;
}

bool sits_on_board(const Footprint& part) {
    switch (part.condition.presence) {
    case document::Presence::Missing:
    case document::Presence::Removed:
    case document::Presence::Lost:
    case document::Presence::NotFitted: return false;
    case document::Presence::NotChecked:
    case document::Presence::Present: return true;
    }
    return true;
}

Region plan_of(const Footprint& part) {
    if (part.body && sits_on_board(part)) return {Polygon{document::body_on_board(part), {}}};
    Region pads;
    for (const document::Pad& pad : part.pads)
        pads.push_back({document::outline_on_board(part, pad), {}});
    return pads;
}

Region hot_area_of(const Footprint& part) {
    Ring ring = document::extent_on_board(part);
    if (ring.empty() || !sits_on_board(part)) return {};
    return {Polygon{std::move(ring), {}}};
}

Region proper_area(const Polygon& drawn, const std::string& what, const document::Id& target, Diagnostics& findings) {
    if (drawn.holes.empty() && geometry::is_convex_ring(drawn.outer)) return {drawn};
    const auto flaw = geometry::flaw_of(drawn);
    if (!flaw) return {drawn};
    Region mended = geometry::mended(drawn);
    const std::string place = fmt::format("{} {} at ({:.2f}, {:.2f}) mm", what, flaw->reason, flaw->at.x, flaw->at.y);
    if (!mended.empty()) {
        findings.push_back({Severity::Warning, "outline-mended",
                            place + "; it was taken as all that its line goes round. Draw it as one loop without "
                                    "crossings.",
                            "", target.text});
        return mended;
    }
    findings.push_back({Severity::Warning, "outline-without-area",
                        place + "; it was measured as a bare line. Draw it as a loop round an area.", "", target.text});
    return {drawn};
}

std::string name_of(const Footprint& part) {
    if (!part.name.empty()) return part.name;
    return fmt::format("the part at x {:.2f}, y {:.2f} mm", part.placement.at.x, part.placement.at.y);
}

std::string pad_name(const Footprint& part, std::size_t pad) {
    const std::string& number = part.pads[pad].number;
    return number.empty() ? "#" + std::to_string(pad + 1) : number;
}

} // namespace padchart::analysis
