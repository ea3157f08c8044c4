#pragma once
// Where a name can stand: inside its part when it fits there, else beside it where nothing is yet. Scene mm; sizes of
// letters come in px and are turned into mm by the scale the scene is made for.

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <unordered_map>
#include <vector>

#include "scene/scene.hpp"

namespace padchart::scene {

/// Boxes that are taken, in a grid of cells, so that asking costs the same on a board of five parts and of 5,000.
class Occupied {
public:
    explicit Occupied(double cell_mm) : cell_mm_(cell_mm) {}
    void add(const geometry::Box& box);
    [[nodiscard]] bool overlaps(const geometry::Box& box) const;
    [[nodiscard]] double cell_mm() const { return cell_mm_; }

private:
    template <class Visit>
    bool any_cell(const geometry::Box& box, const Visit& visit) const;

    double cell_mm_;
    std::unordered_map<std::uint64_t, std::vector<geometry::Box>> cells_;
};

/// One text above the next, all centred.
struct LabelLine {
    std::string text;
    Role role = Role::LabelPart;
    double px = 11.0;
    bool strong = false;
};
struct LabelBlock {
    std::vector<LabelLine> lines;
    double px_per_mm = 60.0;

    [[nodiscard]] double width_mm() const;
    [[nodiscard]] double height_mm() const;
    [[nodiscard]] geometry::Box box_at(geometry::Vec2 centre) const;
};

/// Width of the ring along the horizontal line through y that holds x; 0 outside.
struct Span {
    double left = 0.0;
    double right = 0.0;
    [[nodiscard]] double width() const { return right - left; }
};
[[nodiscard]] Span chord(std::span<const geometry::Vec2> ring, geometry::Vec2 through);

/// A centre at which the block lies inside the ring and clear of `taken`, near `centre`; nothing where there is none.
[[nodiscard]] std::optional<geometry::Vec2> place_inside(const LabelBlock& block, std::span<const geometry::Vec2> ring,
                                                         geometry::Vec2 centre, std::span<const geometry::Box> taken);

struct OutsidePlace {
    geometry::Vec2 centre;
    bool needs_leader = false; ///< further away: a line has to lead to the part
};
/// Beside the box, then a little further away where `leads_freely` allows a line from there to the part; nothing where
/// all is taken. None of it lies outside `within`.
[[nodiscard]] std::optional<OutsidePlace> place_outside(const LabelBlock& block, const geometry::Box& around,
                                                        const Occupied& occupied,
                                                        const std::function<bool(const geometry::Box&)>& leads_freely,
                                                        const std::optional<geometry::Box>& within = std::nullopt);

/// A line from words to what they name.
struct Lead {
    geometry::Vec2 from, to;
};
[[nodiscard]] Lead lead_between(const geometry::Box& label, const geometry::Box& thing);
/// Visits small boxes along the line, away from its ends; false, and no more of them, once one visit answers false.
bool pieces_along(const Lead& lead, double px_per_mm, const std::function<bool(const geometry::Box&)>& visit);

/// What the capitals of the text cover at that zoom (scale 1).
[[nodiscard]] geometry::Box box_of(const Text& text, double px_per_mm);

/// Adds the texts. `fit_width_mm`: see Text.
void add_block(Scene& scene, const LabelBlock& block, geometry::Vec2 centre, double fit_width_mm, bool halo,
               std::int32_t source);

} // namespace padchart::scene
