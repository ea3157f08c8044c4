#include "scene/labels.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "scene/text_width.hpp"

namespace padchart::scene {

using geometry::Box;
using geometry::Vec2;

namespace {

constexpr double kLinePitch = 1.42;  // of the font's height, from line to line
constexpr double kLineHeight = 0.95; // of the font's height: capitals, and a little air
constexpr double kAirHeight = 1.3;   // of the font's height: what a line needs inside an outline
constexpr double kSlack = 0.94;      // of a chord: letters must not touch the outline

double pitch_mm(const LabelBlock& block) {
    double px = 0.0;
    for (std::size_t i = 0; i + 1 < block.lines.size(); ++i)
        px += kLinePitch * std::max(block.lines[i].px, block.lines[i + 1].px);
    return px / block.px_per_mm;
}

std::vector<double> offsets_mm(const LabelBlock& block) {
    std::vector<double> offsets;
    double y = -pitch_mm(block) / 2.0;
    for (std::size_t i = 0; i < block.lines.size(); ++i) {
        offsets.push_back(y);
        if (i + 1 < block.lines.size())
            y += kLinePitch * std::max(block.lines[i].px, block.lines[i + 1].px) / block.px_per_mm;
    }
    return offsets;
}

double width_of(const LabelLine& line, double px_per_mm) {
    return text_width_em(line.text, line.strong) * line.px / px_per_mm;
}

std::uint64_t key(std::int64_t x, std::int64_t y) {
    return static_cast<std::uint64_t>(x) * 0x9E3779B97F4A7C15ULL + static_cast<std::uint64_t>(y);
}

/// How much room is left and right of x at every line of the block.
Span room(const LabelBlock& block, std::span<const Vec2> ring, Vec2 centre) {
    Span span{-1e9, 1e9};
    const std::vector<double> offsets = offsets_mm(block);
    for (std::size_t i = 0; i < block.lines.size(); ++i)
        for (const double edge : {-0.5, 0.5}) {
            const double y = centre.y + offsets[i] + edge * kAirHeight * block.lines[i].px / block.px_per_mm;
            const Span here = chord(ring, {centre.x, y});
            span.left = std::max(span.left, here.left);
            span.right = std::min(span.right, here.right);
        }
    return span;
}

} // namespace

template <class Visit>
bool Occupied::any_cell(const Box& box, const Visit& visit) const {
    const auto index = [this](double v) { return static_cast<std::int64_t>(std::floor(v / cell_mm_)); };
    for (std::int64_t y = index(box.min.y); y <= index(box.max.y); ++y)
        for (std::int64_t x = index(box.min.x); x <= index(box.max.x); ++x)
            if (visit(key(x, y))) return true;
    return false;
}

void Occupied::add(const Box& box) {
    if (box.is_empty()) return;
    any_cell(box, [&](std::uint64_t cell) {
        cells_[cell].push_back(box);
        return false;
    });
}

bool Occupied::overlaps(const Box& box) const {
    return any_cell(box, [&](std::uint64_t cell) {
        const auto found = cells_.find(cell);
        return found != cells_.end() &&
               std::any_of(found->second.begin(), found->second.end(), [&](const Box& b) { return b.overlaps(box); });
    });
}

double LabelBlock::width_mm() const {
    double width = 0.0;
    for (const LabelLine& line : lines)
        width = std::max(width, width_of(line, px_per_mm));
    return width;
}

double LabelBlock::height_mm() const {
    if (lines.empty()) return 0.0;
    return pitch_mm(*this) + kLineHeight * (lines.front().px + lines.back().px) / 2.0 / px_per_mm;
}

Box LabelBlock::box_at(Vec2 centre) const {
    const Vec2 half{width_mm() / 2.0, height_mm() / 2.0};
    return {centre - half, centre + half};
}

Span chord(std::span<const Vec2> ring, Vec2 through) {
    Span span{through.x, through.x};
    double left = -1e12;
    double right = 1e12;
    int crossings_left = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 a = ring[i];
        const Vec2 b = ring[(i + 1) % ring.size()];
        if ((a.y <= through.y) == (b.y <= through.y)) continue;
        const double x = a.x + (through.y - a.y) / (b.y - a.y) * (b.x - a.x);
        if (x <= through.x) {
            left = std::max(left, x);
            ++crossings_left;
        } else {
            right = std::min(right, x);
        }
    }
    if (crossings_left % 2 == 1 && right < 1e12) span = {left, right};
    return span;
}

std::optional<Vec2> place_inside(const LabelBlock& block, std::span<const Vec2> ring, Vec2 centre,
                                 std::span<const Box> taken) {
    const Span free = room(block, ring, centre);
    const double half = block.width_mm() / 2.0 / kSlack;
    if (free.width() < 2.0 * half) return std::nullopt;
    const Box row{{free.left, centre.y - block.height_mm() / 2.0}, {free.right, centre.y + block.height_mm() / 2.0}};
    std::vector<Span> standing;
    for (const Box& box : taken)
        if (box.overlaps(row)) standing.push_back({box.min.x, box.max.x});
    const auto is_clear = [&](double x) {
        return x - half >= free.left - 1e-9 && x + half <= free.right + 1e-9 &&
               std::none_of(standing.begin(), standing.end(),
                            [&](Span s) { return x - half < s.right && x + half > s.left; });
    };
    if (is_clear(centre.x)) return centre;
    // In the middle of the widest gap between what stands there and the edges of the body, as an eye would put it.
    std::sort(standing.begin(), standing.end(), [](Span a, Span b) { return a.left < b.left; });
    Span widest{free.left, free.left};
    double from = free.left;
    standing.push_back({free.right, free.right});
    for (const Span& s : standing) {
        if (s.left - from > widest.width()) widest = {from, s.left};
        from = std::max(from, s.right);
    }
    const double middle = (widest.left + widest.right) / 2.0;
    return widest.width() >= 2.0 * half ? std::optional(Vec2{middle, centre.y}) : std::nullopt;
}

std::optional<OutsidePlace> place_outside(const LabelBlock& block, const Box& around, const Occupied& occupied,
                                          const std::function<bool(const Box&)>& leads_freely,
                                          const std::optional<Box>& within) {
    const Vec2 half{block.width_mm() / 2.0, block.height_mm() / 2.0};
    const Vec2 c = around.centre();
    const double line = block.lines.front().px / block.px_per_mm;
    for (const double gap : {0.25 * line, 0.9 * line, 1.8 * line, 3.0 * line}) {
        const double up = around.min.y - gap - half.y;
        const double down = around.max.y + gap + half.y;
        const double left = around.min.x - gap - half.x;
        const double right = around.max.x + gap + half.x;
        for (const Vec2 at : {Vec2{c.x, up}, Vec2{c.x, down}, Vec2{right, c.y}, Vec2{left, c.y}, Vec2{right, up},
                              Vec2{left, up}, Vec2{right, down}, Vec2{left, down}}) {
            const Box box = block.box_at(at);
            const bool needs_leader = gap > line * 0.5;
            if (within && !(within->contains(box.min) && within->contains(box.max))) continue;
            if (occupied.overlaps(box) || (needs_leader && !leads_freely(box))) continue;
            return OutsidePlace{at, needs_leader};
        }
    }
    return std::nullopt;
}

Lead lead_between(const Box& label, const Box& thing) {
    const auto nearest = [](const Box& box, Vec2 to) {
        return Vec2{std::clamp(to.x, box.min.x, box.max.x), std::clamp(to.y, box.min.y, box.max.y)};
    };
    const Vec2 from = nearest(label, thing.centre());
    return {from, nearest(thing, from)};
}

bool pieces_along(const Lead& lead, double px_per_mm, const std::function<bool(const Box&)>& visit) {
    const double length = geometry::distance(lead.from, lead.to), step = 2.0 / px_per_mm, end = 3.0 / px_per_mm;
    for (double at = end; at < length - end; at += step) {
        const Vec2 here = geometry::lerp(lead.from, lead.to, at / length);
        if (!visit(Box{here, here}.grown(1.0 / px_per_mm))) return false;
    }
    return true;
}

Box box_of(const Text& text, double px_per_mm) {
    const double em = text.height_mm > 0 ? text.height_mm : text.height_px / px_per_mm;
    const Vec2 half{text_width_em(text.text, text.strong) * em / 2, kCapHeight_em * em / 2};
    const double aside = text.align == Align::Left ? half.x : text.align == Align::Right ? -half.x : 0.0;
    const Vec2 centre = text.at + Vec2{aside, 0};
    return {centre - half, centre + half};
}

void add_block(Scene& scene, const LabelBlock& block, Vec2 centre, double fit_width_mm, bool halo,
               std::int32_t source) {
    const std::vector<double> offsets = offsets_mm(block);
    for (std::size_t i = 0; i < block.lines.size(); ++i) {
        const LabelLine& line = block.lines[i];
        scene.add(line.role,
                  Text{.at = {centre.x, centre.y + offsets[i]},
                       .text = line.text,
                       .height_px = line.px,
                       .fit_width_mm = fit_width_mm,
                       .strong = line.strong,
                       .halo = halo},
                  source);
    }
}

} // namespace padchart::scene
