#include "scene/overlay_words.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>

#include "scene/labels.hpp"

namespace padchart::scene {
namespace {

using geometry::Box;
using geometry::Vec2;

constexpr double kAir_px = 3.0;      // round what is there already
constexpr double kAround_px = 280;   // of the wished place: what words may meet
constexpr double kFarthest_px = 120; // from their line
constexpr double kFollows_px = 30;   // the same while a hand moves: farther off an eye would not find them
constexpr double kBorder_px = 300;   // wide enough that no place lies beyond it
constexpr double kLong_px = 60;      // a line along which words may stand anywhere
constexpr double kLeastSlant = 0.35; // sine of the angle between a leader and the line it leads to

bool is_covering(Role role) {
    return role == Role::Body || role == Role::SensitiveBody || role == Role::PadCopper;
}

bool is_own_line(Role role) {
    return role == Role::Measure || role == Role::Snap;
}

class Layer {
public:
    Layer(Scene& overlay, const Scene& picture, const Box& view, double px_per_mm)
        : overlay_(overlay), view_(view), px_per_mm_(px_per_mm), taken_(std::max(1.0, mm(40))), read_(taken_),
          written_(taken_) {
        for (const Item& item : overlay.items)
            if (is_word(overlay, item)) near_.add(box_of(overlay.texts[item.index], px_per_mm).grown(mm(kAround_px)));
        if (near_.is_empty()) return;
        take(picture);
        take(overlay);
        for (const Item& item : overlay.items)
            if (item.kind == Item::Kind::Line && is_own_line(item.role)) take_line(overlay.lines[item.index]);
        take_beyond();
    }

    void lay() {
        // Leaders are added on the way.
        const std::vector<Item> items = near_.is_empty() ? std::vector<Item>() : overlay_.items;
        for (const Item& item : items)
            if (is_word(overlay_, item)) lay(item);
    }

private:
    [[nodiscard]] double mm(double px) const { return px / px_per_mm_; }

    static bool is_word(const Scene& scene, const Item& item) {
        return item.kind == Item::Kind::Text && item.role == Role::LabelMeasure &&
               scene.texts[item.index].height_mm <= 0;
    }

    void take_for_words(const Box& box) {
        taken_.add(box);
        read_.add(box);
    }

    void take_words(const Box& box) {
        take_for_words(box);
        written_.add(box);
    }

    void take(const Scene& scene) {
        for (const Item& item : scene.items) {
            const bool is_overlay_word = &scene == &overlay_ && is_word(scene, item);
            if (item.kind == Item::Kind::Fill && is_covering(item.role)) {
                const Box box = geometry::bounds(scene.fills[item.index].area);
                if (box.overlaps(near_)) taken_.add(box);
            } else if (item.kind == Item::Kind::Text && !is_overlay_word) {
                const Box box = box_of(scene.texts[item.index], px_per_mm_).grown(mm(kAir_px));
                if (box.overlaps(near_)) take_words(box);
            } else if (item.kind == Item::Kind::Symbol) {
                const Symbol& symbol = scene.symbols[item.index];
                const Box box = Box{symbol.at, symbol.at}.grown(mm(symbol.radius_px));
                if (box.overlaps(near_)) take_words(box);
            }
        }
    }

    void take_line(const Line& line) {
        for (std::size_t i = 0; i + 1 < line.points.size(); ++i)
            pieces_along({line.points[i], line.points[i + 1]}, px_per_mm_, [&](const Box& piece) {
                if (piece.overlaps(near_)) take_for_words(piece);
                return true;
            });
    }

    /// What is not seen is no place for words.
    void take_beyond() {
        const double wide = mm(kBorder_px);
        const Box out = view_.grown(wide);
        for (const Box& side : {Box{out.min, {out.max.x, view_.min.y}}, Box{{out.min.x, view_.max.y}, out.max},
                                Box{out.min, {view_.min.x, out.max.y}}, Box{{view_.max.x, out.min.y}, out.max}})
            take_for_words(side);
    }

    struct Anchors {
        std::vector<Vec2> at;
        std::optional<Vec2> along; ///< of the line they are on, where it is a long one
        bool is_in_hand = false;   ///< they follow the pointer
    };
    /// The places on the overlay's lines the words may belong to, the nearest first: along the same line they say the
    /// same.
    [[nodiscard]] Anchors anchors(Vec2 wished) const {
        std::array<Vec2, 2> nearest{wished, wished};
        Vec2 at = wished;
        double least = std::numeric_limits<double>::max();
        bool is_in_hand = false;
        for (const Item& item : overlay_.items) {
            if (item.kind != Item::Kind::Line || !is_own_line(item.role)) continue;
            const std::vector<Vec2>& points = overlay_.lines[item.index].points;
            for (std::size_t i = 0; i + 1 < points.size(); ++i) {
                const Vec2 along = points[i + 1] - points[i];
                const double square = geometry::dot(along, along);
                const double share =
                    square > 0 ? std::clamp(geometry::dot(wished - points[i], along) / square, 0.0, 1.0) : 0.0;
                const Vec2 here = geometry::lerp(points[i], points[i + 1], share);
                if (geometry::distance(here, wished) >= least) continue;
                least = geometry::distance(here, wished);
                at = here;
                nearest = {points[i], points[i + 1]};
                is_in_hand = item.role == Role::Snap;
            }
        }
        const double length = geometry::distance(nearest[0], nearest[1]);
        if (length < mm(kLong_px)) return {{at}, std::nullopt, is_in_hand};
        Anchors found{{at}, (nearest[1] - nearest[0]) / length, is_in_hand};
        for (const double share : {0.35, 0.65, 0.2, 0.8})
            found.at.push_back(geometry::lerp(nearest[0], nearest[1], share));
        return found;
    }

    struct Found {
        Vec2 centre;
        std::optional<Vec2> leads_to;
    };
    /// Beside the line, then with a leader at most `farthest_px` off, then over a part but not over words.
    [[nodiscard]] std::optional<Found> find(const LabelBlock& block, const Anchors& anchors, double farthest_px) const {
        if (const auto place = beside(block, anchors, taken_)) return place;
        if (const auto place = led(block, anchors, taken_, farthest_px)) return place;
        if (const auto place = beside(block, anchors, read_)) return place;
        return led(block, anchors, read_, kFarthest_px);
    }

    [[nodiscard]] std::optional<Found> beside(const LabelBlock& block, const Anchors& anchors,
                                              const Occupied& occupied) const {
        for (const Vec2 anchor : anchors.at)
            if (const auto place =
                    place_outside(block, Box{anchor, anchor}.grown(mm(4)), occupied, [](const Box&) { return false; }))
                return Found{place->centre, std::nullopt};
        return std::nullopt;
    }

    [[nodiscard]] bool leads(const Box& label, Vec2 anchor, const Anchors& anchors) const {
        const Lead lead = lead_between(label, {anchor, anchor});
        // Along the line it would make that line longer.
        const Vec2 way = lead.to - lead.from;
        if (anchors.along && std::abs(geometry::cross(way, *anchors.along)) < kLeastSlant * geometry::length(way))
            return false;
        return pieces_along(lead, px_per_mm_, [&](const Box& piece) { return !written_.overlaps(piece); });
    }

    [[nodiscard]] std::optional<Found> led(const LabelBlock& block, const Anchors& anchors, const Occupied& occupied,
                                           double farthest_px) const {
        for (const double off_px : {4.0, 30.0, 55.0, 85.0, 120.0})
            for (const Vec2 anchor : anchors.at) {
                if (off_px > farthest_px) return std::nullopt;
                const auto is_free = [&](const Box& label) { return leads(label, anchor, anchors); };
                const auto place = place_outside(block, Box{anchor, anchor}.grown(mm(off_px)), occupied, is_free);
                // A place right beside the grown box is away from the anchor too.
                if (place && is_free(block.box_at(place->centre))) return Found{place->centre, anchor};
            }
        return std::nullopt;
    }

    void lay(const Item& item) {
        const Text text = overlay_.texts[item.index];
        const LabelBlock block{.lines = {{text.text, item.role, text.height_px, text.strong}}, .px_per_mm = px_per_mm_};
        const Box wished = box_of(text, px_per_mm_);
        const Box with_air = block.box_at(wished.centre());
        if (taken_.overlaps(with_air)) {
            const Anchors near = anchors(wished.centre());
            if (const auto found = find(block, near, near.is_in_hand ? kFollows_px : kFarthest_px))
                return move(item, block, *found);
        }
        take_words(with_air);
    }

    void move(const Item& item, const LabelBlock& block, const Found& found) {
        Text& text = overlay_.texts[item.index];
        const double half = block.width_mm() / 2;
        text.at = found.centre;
        if (text.align != Align::Centre) text.at.x += text.align == Align::Left ? -half : half;
        const Box box = block.box_at(found.centre);
        take_words(box.grown(mm(kAir_px)));
        if (!found.leads_to) return;
        const Lead lead = lead_between(box, {*found.leads_to, *found.leads_to});
        overlay_.add(Role::Measure, Line{{lead.from, lead.to}, false, Weight::Hair});
        take_line({{lead.from, lead.to}});
    }

    Scene& overlay_;
    const Box view_;
    const double px_per_mm_;
    Box near_;
    Occupied taken_;   ///< by anything words must not cover
    Occupied read_;    ///< by what words must not cover even where they have to lie over a part
    Occupied written_; ///< by words and signs: no leader over them
};

} // namespace

void lay_words_off(Scene& overlay, const Scene& picture, const Box& view, double px_per_mm) {
    Layer(overlay, picture, view, px_per_mm).lay();
}

} // namespace padchart::scene
