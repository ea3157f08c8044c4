#include "app/snap_guides.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "app/tools/tool.hpp"
#include "document/arrange.hpp"

namespace padchart::app {
namespace {

using geometry::Box;
using geometry::Vec2;

using Coordinate = double Vec2::*;

/// One direction: `along` is put right, `across` is only looked at.
struct Way {
    Coordinate along, across;
    [[nodiscard]] Vec2 point(double a, double c) const {
        Vec2 p;
        p.*along = a;
        p.*across = c;
        return p;
    }
};
constexpr Way kX{&Vec2::x, &Vec2::y}, kY{&Vec2::y, &Vec2::x};

struct Offer {
    double off = 0.0; ///< to be added to the move
    Guide guide;
};

/// Neighbours of the moved box, and what they offer in one direction.
class Search {
public:
    Search(const std::vector<GuideThing>& things, const GuideThing& moving, Vec2 by, const GuideOptions& options)
        : moving_(moving), options_(options), box_{moving.box.min + by, moving.box.max + by} {
        const Box near = box_.grown(options.within);
        for (const GuideThing& thing : things)
            if (near.overlaps(thing.box)) near_.push_back(&thing);
    }

    [[nodiscard]] std::optional<Offer> best(const Way& way) {
        best_.reset();
        for (const GuideThing* thing : near_) {
            level(way, *thing);
            edges(way, *thing);
        }
        if (options_.pitch) {
            row(way);
            mirrors(way);
        }
        return best_;
    }

private:
    void offer(double off, GuideKind kind, std::string words, std::vector<std::pair<Vec2, Vec2>> lines) {
        constexpr double kSame = 1e-6;
        const double distance = std::abs(off);
        if (distance > options_.reach) return;
        if (best_ && distance > std::abs(best_->off) + kSame) return;
        if (best_ && distance > std::abs(best_->off) - kSame && kind <= best_->guide.kind) return;
        best_ = Offer{off, {kind, std::move(words), std::move(lines)}};
    }

    [[nodiscard]] double here(const Way& way) const { return box_.centre().*way.along; }
    [[nodiscard]] double height(const Way& way) const { return box_.centre().*way.across; }

    void level(const Way& way, const GuideThing& thing) {
        const double a = thing.box.centre().*way.along;
        offer(a - here(way), GuideKind::Level, "level with " + thing.name,
              {{thing.box.centre(), way.point(a, height(way))}});
    }

    void edges(const Way& way, const GuideThing& thing) {
        if (!box_.grown(options_.edge_within).overlaps(thing.box)) return;
        for (const auto& [own, its] : {std::pair{box_.min.*way.along, thing.box.min.*way.along},
                                       {box_.max.*way.along, thing.box.max.*way.along}})
            offer(its - own, GuideKind::Edge, "edge in line with " + thing.name,
                  {{way.point(its, thing.box.centre().*way.across), way.point(its, height(way))}});
    }

    /// Those that lie in the way of the moved box, in order.
    [[nodiscard]] std::vector<const GuideThing*> in_row(const Way& way) const {
        std::vector<const GuideThing*> row;
        for (const GuideThing* thing : near_)
            if (thing->box.min.*way.across <= box_.max.*way.across &&
                thing->box.max.*way.across >= box_.min.*way.across)
                row.push_back(thing);
        std::sort(row.begin(), row.end(), [&](const GuideThing* a, const GuideThing* b) {
            return a->box.centre().*way.along < b->box.centre().*way.along;
        });
        return row;
    }

    void row(const Way& way) {
        const std::vector<const GuideThing*> row = in_row(way);
        for (std::size_t i = 1; i < row.size(); ++i) {
            const GuideThing &p = *row[i - 1], &q = *row[i];
            const double a = p.box.centre().*way.along, b = q.box.centre().*way.along;
            if (b - a < 1e-6) continue;
            const std::string pair = p.name + " and " + q.name;
            const double h = height(way);
            if (p.likeness == moving_.likeness && q.likeness == moving_.likeness) {
                const std::string words = fmt::format("same pitch as {}: {:.2f} {}", pair, b - a, options_.unit);
                const double after = b + (b - a), before = a - (b - a);
                offer(after - here(way), GuideKind::Pitch, words,
                      {{p.box.centre(), q.box.centre()}, {q.box.centre(), way.point(after, h)}});
                offer(before - here(way), GuideKind::Pitch, words,
                      {{q.box.centre(), p.box.centre()}, {p.box.centre(), way.point(before, h)}});
            }
            const double mid = (p.box.max.*way.along + q.box.min.*way.along) / 2;
            offer(mid - here(way), GuideKind::Midway, "midway between " + pair,
                  {{way.point(p.box.max.*way.along, h), way.point(q.box.min.*way.along, h)}});
        }
    }

    /// Opposite to its twin, as far from the third part as the twin is, and as high.
    void mirrors(const Way& way) {
        for (const GuideThing* twin : near_) {
            const Vec2 at = twin->box.centre();
            if (twin->likeness != moving_.likeness) continue;
            if (std::abs(at.*way.across - height(way)) > options_.reach) continue;
            for (const GuideThing* axis : near_) {
                if (axis == twin) continue;
                const double a = axis->box.centre().*way.along;
                const double target = 2 * a - at.*way.along;
                offer(target - here(way), GuideKind::Mirror,
                      fmt::format("opposite to {}, about {}", twin->name, axis->name),
                      {{at, way.point(target, height(way))}, {way.point(a, height(way)), axis->box.centre()}});
            }
        }
    }

    const GuideThing& moving_;
    const GuideOptions& options_;
    Box box_;
    std::vector<const GuideThing*> near_;
    std::optional<Offer> best_;
};

} // namespace

GuideThing guide_thing(const document::Footprint& part) {
    const Box box = document::box_of(part, document::Extent::Body);
    const Box own = geometry::bounds(document::extent_in_part(part));
    return {part.name.empty() ? "a part without a name" : part.name, box,
            fmt::format("{} {} {:.2f} {:.2f}", part.family, part.pads.size(), own.width(), own.height())};
}

std::vector<GuideThing> guide_things(const document::Chart& chart, document::Side side,
                                     const std::vector<document::Id>& without) {
    std::vector<GuideThing> things;
    for (const document::Footprint& part : chart.parts) {
        if (part.placement.side != side || std::find(without.begin(), without.end(), part.id) != without.end())
            continue;
        GuideThing thing = guide_thing(part);
        if (!thing.box.is_empty()) things.push_back(std::move(thing));
    }
    return things;
}

GuideShift snap_to_guides(const std::vector<GuideThing>& things, const GuideThing& moving, Vec2 by,
                          const GuideOptions& options) {
    Search search(things, moving, by, options);
    std::optional<Offer> x = search.best(kX), y = search.best(kY);
    GuideShift shift{by, x.has_value(), y.has_value(), {}};
    // The lines of the one end where the other has put the part.
    for (auto* offer : {&x, &y}) {
        if (!*offer) continue;
        const Vec2 put = offer == &x ? Vec2{0, y ? y->off : 0.0} : Vec2{x ? x->off : 0.0, 0};
        if (!(*offer)->guide.lines.empty()) (*offer)->guide.lines.back().second += put;
        shift.guides.push_back(std::move((*offer)->guide));
    }
    shift.by += Vec2{x ? x->off : 0.0, y ? y->off : 0.0};
    return shift;
}

void add_guides(scene::Scene& out, const std::vector<Guide>& guides, Vec2 at, document::Side seen_from,
                const Pointer& pointer) {
    const auto seen = [&](Vec2 p) { return scene::scene_from_board(p, seen_from); };
    Vec2 words_at = seen(at) + Vec2{pointer.mm(14), pointer.mm(18)};
    for (const Guide& guide : guides) {
        for (const auto& [from, to] : guide.lines)
            out.add(scene::Role::Snap, scene::Line{{seen(from), seen(to)}, false, scene::Weight::Thin});
        out.add(scene::Role::LabelMeasure,
                scene::Text{
                    .at = words_at, .text = guide.words, .align = scene::Align::Left, .height_px = 11, .halo = true});
        words_at.y += pointer.mm(17);
    }
}

} // namespace padchart::app
