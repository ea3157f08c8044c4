#pragma once
// The picture of the chart on the canvas, from an order that holds all it depends on, so that a large chart is drawn on
// a thread of its own while the hand goes on. Until it comes the last picture stays; what the hand has just changed is
// few parts, and these are drawn over it at once.

#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "analysis/access.hpp"
#include "app/heat_desk.hpp"
#include "app/inspect_picture.hpp"
#include "app/orient_desk.hpp"
#include "app/session.hpp"
#include "paint/prepared_scene.hpp"
#include "paint/theme.hpp"
#include "paint/view.hpp"
#include "scene/hit_test.hpp"
#include "scene/layers.hpp"

namespace padchart::paint {
struct Ground;
}

namespace padchart::app {

/// How far round the view a large picture is made: it takes some frames until another is drawn.
inline constexpr paint::Around kAroundLarge{1.5, 1.1};

/// Where a large picture is about to be seen.
struct PictureView {
    paint::View view;
    const paint::Theme* theme = nullptr; ///< outlives every picture
};

/// Nothing in it changes while it is worked on.
struct PictureOrder {
    std::uint64_t number = 0;  ///< a later picture has a higher one
    std::uint64_t sitting = 0; ///< Editor::sitting()
    std::shared_ptr<const document::Chart> chart;
    std::vector<document::Id> in_hand; ///< parts that are left out, since a hand moves them
    scene::ViewOptions options;
    std::shared_ptr<const Computed> computed; ///< null: no reports
    std::optional<FitInHand> fit_in_hand;
    std::optional<document::HeatPlan> plan; ///< of the heat stage
    std::shared_ptr<const Estimate> estimate, second;
    std::shared_ptr<const NoAimAnswer> map;
    std::shared_ptr<const Result<analysis::AccessReport>> access;
    InspectLook inspect;
    scene::Layers hidden;
    std::vector<document::Id> hidden_parts;
    std::optional<PictureView> seen; ///< none: whoever paints makes the quads
};

struct Picture {
    PictureOrder order;
    std::shared_ptr<const scene::Scene> own;            ///< the chart's, whatever is shown: what is clicked
    std::shared_ptr<const scene::Scene> shown;          ///< what is seen
    std::shared_ptr<const paint::PreparedScene> paints; ///< of what is seen
    std::shared_ptr<const paint::Ground> ground;        ///< for where the order wants it seen
    std::shared_ptr<const scene::HitTest> hits;         ///< of `own`
};

/// Of an empty chart.
[[nodiscard]] std::shared_ptr<const Picture> no_picture();
/// On any thread. Requires: order.chart is there.
[[nodiscard]] std::shared_ptr<const Picture> make_picture(PictureOrder order);

/// Few enough things that a picture takes a few ms.
[[nodiscard]] bool is_drawn_at_once(const document::Chart& chart);

/// Ids of the parts of `to` that `from` has not, or not like that. Costs one look at each part.
[[nodiscard]] std::vector<document::Id> changed_parts(const document::Chart& from, const document::Chart& to);

/// The parts alone, as the order's picture of the whole chart will show them; what came of them is looked up in its
/// reports. Few ids are meant: ones that the chart does not bear are left out.
[[nodiscard]] scene::Scene picture_of_parts(const PictureOrder& order, const document::Chart& chart,
                                            const std::vector<document::Id>& ids);

} // namespace padchart::app
