#include "analysis/access.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

#include <fmt/format.h>

#include "analysis/access_passes.hpp"
#include "analysis/access_scene.hpp"
#include "analysis/access_turning.hpp"
#include "geometry/convex.hpp"

namespace padchart::analysis {
namespace {

using document::Chart;
using document::Footprint;
using geometry::Ring;
using geometry::Vec2;

// More room than this is no better than this; then the middle of the sector is.
constexpr double kEnoughGap_mm = 1.0;
constexpr double kRoomThatMatters_mm = 0.1;
constexpr double kOffMiddlePerDegree_mm = 0.002;
// Coming straight along the sides is worth some room.
constexpr double kSkewPerDegree_mm = 0.03;
constexpr double kSameOpening_mm = 0.01;
// A slip is drawn and judged at least as high as the lowest parts.
constexpr double kLeastSlipHeight_mm = 0.2;
// Between two degrees room shrinks by no more than this, and a dip need be known no closer.
constexpr double kDeepestDip_mm = 0.3;
constexpr double kDipWidth_deg = 0.05;
// What of the tips stands on the board.
constexpr double kTipHeight_mm = 0.05;

Bearings around(double bearing_deg, double by_deg) {
    Bearings set;
    set.add(bearing_deg - by_deg, bearing_deg + by_deg);
    return set;
}

class Run {
public:
    Run(const Chart& chart, const Footprint& target, const AccessQuery& query)
        : chart_(chart), target_(target), query_(query) {
        report_.target = target.id;
        report_.target_name = access_name(target);
        report_.side = target.placement.side;
        report_.at = document::board_from_part(target.placement)(document::centre_in_part(target));
    }

    Result<AccessReport> answer() {
        if (query_.tool.kind == ToolKind::Iron) {
            if (const auto fault = come_to_pad()) return *fault;
        }
        outline_ = AccessFrame(report_.at, report_.side).from_board(document::extent_on_board(target_));
        set_up_poses();
        look_round();
        take_bearings();
        list_sectors();
        measure_directions();
        for (const AccessSector& sector : report_.sectors)
            if (sector.passage != Passage::Blocked) report_.approaches.push_back(approach_in(sector));
        order_approaches();
        forbid_touching();
        add_access_words(report_, chart_, query_);
        return std::move(report_);
    }

private:
    std::optional<Error> come_to_pad() {
        const auto& pads = target_.pads;
        for (std::size_t i = 0; i < pads.size(); ++i) {
            const bool is_it =
                pads[i].number.empty() ? query_.pad == fmt::format("#{}", i + 1) : query_.pad == pads[i].number;
            if (!is_it) continue;
            report_.pad = query_.pad;
            pad_ = place_on_pad(target_, i);
            report_.pad_is_covered = !pad_;
            if (pad_) report_.at = pad_->at;
            return std::nullopt;
        }
        return Error{query_.pad.empty() ? "an iron works on one joint: name the pad"
                                        : fmt::format("{} has no pad \"{}\"", report_.target_name, query_.pad),
                     "pad"};
    }

    // Tool -------------------------------------------------------------------------------------------------------

    void find_grips() {
        std::vector<SidePair> pairs = parallel_sides(outline_);
        const bool is_round = target_.body && target_.body->shape.kind == document::ShapeKind::Round;
        if (is_round) {
            pairs.clear();
            for (int deg = 0; deg < 180; deg += 10)
                pairs.push_back({static_cast<double>(deg), target_.body->shape.width_mm});
        }
        for (const SidePair& pair : pairs) {
            const double needs = needed_opening(pair.bearing_deg);
            const double opening = query_.opening_mm.value_or(needs + 2.0 * kGripPlay_mm);
            report_.grips.push_back({pair.bearing_deg, pair.across_mm, opening, opening >= needs});
        }
    }

    /// About the place the tool comes to, from which either tip is as far.
    [[nodiscard]] double needed_opening(double bearing_deg) const {
        double most = 0.0;
        for (const Vec2 p : turned(outline_, -bearing_deg))
            most = std::max(most, std::abs(p.y));
        return 2.0 * most;
    }

    static Bearings window_of(const Grip& grip) {
        return around(grip.bearing_deg, kMostSkew_deg).together_with(around(grip.bearing_deg + 180.0, kMostSkew_deg));
    }

    void set_up_poses() {
        if (query_.tool.kind == ToolKind::Iron) {
            poses_.emplace_back(query_.tool, 0.0, Bearings::all());
            if (pad_) works_ = around(pad_->outward_deg, kMostLean_deg);
            return;
        }
        find_grips();
        for (const Grip& grip : report_.grips)
            if (grip.fits) works_ = works_.together_with(window_of(grip));
        if (query_.opening_mm)
            poses_.emplace_back(query_.tool, *query_.opening_mm, Bearings::all());
        else
            open_as_needed();
    }

    /// Where two grips could serve, and where none does, the tips count as opened for the wider one.
    void open_as_needed() {
        std::vector<Grip> widest = report_.grips;
        std::stable_sort(widest.begin(), widest.end(),
                         [](const Grip& a, const Grip& b) { return a.opening_mm > b.opening_mm; });
        const double most = widest.empty() ? needed_opening(0.0) + 2.0 * kGripPlay_mm : widest.front().opening_mm;
        Bearings rest = works_.complement();
        Bearings left = works_;
        for (std::size_t i = 0; i < widest.size();) {
            const double opening = widest[i].opening_mm;
            Bearings window;
            for (; i < widest.size() && widest[i].opening_mm > opening - kSameOpening_mm; ++i)
                window = window.together_with(window_of(widest[i]));
            window = window.within(left);
            left = left.without(window);
            if (opening == most) window = window.together_with(rest);
            poses_.emplace_back(query_.tool, opening, std::move(window));
        }
        if (widest.empty()) poses_.emplace_back(query_.tool, most, Bearings::all());
    }

    [[nodiscard]] const ToolPose& pose_at(double bearing_deg) const {
        for (const ToolPose& pose : poses_)
            if (pose.bearings().contains(bearing_deg)) return pose;
        return poses_.front();
    }

    // Neighbours -------------------------------------------------------------------------------------------------

    void look_round() {
        const double beyond = std::max(kMostGap_mm, 2.0 * query_.slip_mm);
        standing_ = standing_round(chart_, target_, report_.at, [&](std::optional<double> height_mm) {
            double reach = 0.0;
            for (const ToolPose& pose : poses_)
                reach = std::max(reach, pose.below(height_mm).far_mm);
            return reach + beyond;
        });
        for (const Standing& standing : standing_) {
            AccessNeighbour near;
            near.source = standing.source;
            near.name = standing.name;
            near.is_keep_out = standing.is_keep_out;
            near.height_mm = standing.height_mm;
            near.gap = standing.gap;
            near.is_small = !standing.is_keep_out && standing.longest_mm <= query_.small_mm;
            near.is_molten =
                std::find(query_.molten.begin(), query_.molten.end(), standing.source) != query_.molten.end();
            near.stands_over = standing.overlaps_target;
            report_.neighbours.push_back(std::move(near));
        }
    }

    [[nodiscard]] double margin_to(const Standing& standing) const {
        return query_.play_mm + document::kShapeTolerance + chart_.scale->relative_uncertainty * standing.near_mm;
    }

    void take_bearings() {
        for (std::size_t i = 0; i < standing_.size(); ++i) {
            const double margin = margin_to(standing_[i]);
            Bearings taken;
            for (const ToolPose& pose : poses_)
                taken = taken.together_with(pose.blocked_by(standing_[i], margin).within(pose.bearings()));
            Bearings& kind = standing_[i].height_mm ? blocked_ : depends_;
            kind = kind.together_with(taken);
            report_.neighbours[i].takes = taken.sectors();
        }
        if (query_.tool.kind == ToolKind::Iron && !pad_) blocked_ = Bearings::all();
        depends_ = depends_.without(blocked_);
        free_ = blocked_.together_with(depends_).complement();
    }

    void list_sectors() {
        Bearings idle = works_.complement();
        for (const auto& [passage, set] :
             {std::pair{Passage::Free, &free_}, {Passage::Depends, &depends_}, {Passage::Blocked, &blocked_}})
            for (const auto& [works, part] : {std::pair{true, &works_}, {false, &idle}})
                for (const Sector& sector : set->within(*part).sectors())
                    report_.sectors.push_back({sector, passage, works});
        std::sort(report_.sectors.begin(), report_.sectors.end(), [](const AccessSector& a, const AccessSector& b) {
            return a.bearings.from_deg < b.bearings.from_deg;
        });
    }

    // Room -------------------------------------------------------------------------------------------------------

    [[nodiscard]] AccessDirection direction_at(double bearing_deg) {
        AccessDirection at;
        at.bearing_deg = bearing_deg;
        at.passage = blocked_.contains(bearing_deg)   ? Passage::Blocked
                     : depends_.contains(bearing_deg) ? Passage::Depends
                                                      : Passage::Free;
        at.works = works_.contains(bearing_deg);
        at.gap_mm = kMostGap_mm;
        const ToolPose& pose = pose_at(bearing_deg);
        for (std::size_t i = 0; i < standing_.size(); ++i) {
            if (!standing_[i].height_mm) continue;
            AccessNeighbour& near = report_.neighbours[i];
            const double least = standing_[i].near_mm - pose.below(standing_[i].height_mm).far_mm;
            if (near.takes.empty() && least >= at.gap_mm) continue;
            const double gap = pose.gap_to(standing_[i], bearing_deg);
            near.least_gap_mm = std::min(near.least_gap_mm, gap);
            if (gap < at.gap_mm) {
                at.gap_mm = gap;
                at.nearest = i;
            }
        }
        return at;
    }

    void measure_directions() {
        for (AccessNeighbour& near : report_.neighbours)
            near.least_gap_mm = kMostGap_mm;
        for (int deg = 0; deg < 360; ++deg)
            report_.directions.push_back(direction_at(deg));
    }

    [[nodiscard]] bool is_in_doubt(std::size_t i, double bearing_deg) const {
        const std::vector<Sector>& takes = report_.neighbours[i].takes;
        return !standing_[i].height_mm && std::any_of(takes.begin(), takes.end(), [&](const Sector& sector) {
            return sector.contains(bearing_deg);
        });
    }

    [[nodiscard]] std::vector<HeightLimit> limits_at(double bearing_deg) const {
        std::vector<HeightLimit> limits;
        const ToolPose& pose = pose_at(bearing_deg);
        for (std::size_t i = 0; i < standing_.size(); ++i)
            if (is_in_doubt(i, bearing_deg))
                limits.push_back({i, pose.passing_height_mm(standing_[i], bearing_deg, margin_to(standing_[i]))});
        std::stable_sort(limits.begin(), limits.end(),
                         [](const HeightLimit& a, const HeightLimit& b) { return a.limit_mm < b.limit_mm; });
        return limits;
    }

    /// The lowest of them: most bodies need only one look to see that they are not it.
    [[nodiscard]] double least_limit_at(double bearing_deg) const {
        double least = kTallest_mm;
        const ToolPose& pose = pose_at(bearing_deg);
        for (std::size_t i = 0; i < standing_.size() && least > 0.0; ++i) {
            const double margin = margin_to(standing_[i]);
            if (is_in_doubt(i, bearing_deg) && !pose.passes_over(standing_[i], least, bearing_deg, margin))
                least = pose.passing_height_mm(standing_[i], bearing_deg, margin);
        }
        return least;
    }

    [[nodiscard]] std::vector<double> bearings_to_try(const AccessSector& sector) const {
        const double from = sector.bearings.from_deg, width = sector.bearings.width_deg;
        const double step = sector.passage == Passage::Depends ? std::max(1.0, width / 12.0) : 1.0;
        std::vector<double> tries{sector.bearings.middle_deg()};
        for (const Grip& grip : report_.grips)
            for (const double straight : {grip.bearing_deg, wrapped_deg(grip.bearing_deg + 180.0)})
                if (sector.works && sector.bearings.contains(straight)) tries.push_back(straight);
        for (double at = std::ceil(from); at < from + width; at += step)
            tries.push_back(wrapped_deg(at));
        return tries;
    }

    [[nodiscard]] double score_of(const AccessSector& sector, double bearing_deg) {
        const double off = std::abs(turn_between(sector.bearings.middle_deg(), bearing_deg));
        const bool is_whole = bearing_deg == std::floor(bearing_deg);
        const double gap = is_whole ? report_.directions[static_cast<std::size_t>(bearing_deg)].gap_mm
                                    : direction_at(bearing_deg).gap_mm;
        double room = std::min(gap, kEnoughGap_mm);
        if (sector.passage == Passage::Depends) room += least_limit_at(bearing_deg);
        if (sector.works) room -= skew_at(bearing_deg) * kSkewPerDegree_mm;
        return room - off * kOffMiddlePerDegree_mm;
    }

    /// The grip that is least askew; null without one.
    [[nodiscard]] const Grip* grip_at(double bearing_deg) const {
        const Grip* best = nullptr;
        for (const Grip& grip : report_.grips)
            if (grip.fits && (best == nullptr || skew(grip, bearing_deg) < skew(*best, bearing_deg))) best = &grip;
        return best;
    }

    static double skew(const Grip& grip, double bearing_deg) {
        const double off = std::abs(turn_between(grip.bearing_deg, bearing_deg));
        return std::min(off, 180.0 - off);
    }

    [[nodiscard]] double skew_at(double bearing_deg) const {
        const Grip* grip = grip_at(bearing_deg);
        return grip == nullptr ? 0.0 : skew(*grip, bearing_deg);
    }

    static void take_least(Approach& way, const AccessDirection& at) {
        if (way.least_nearest && at.gap_mm >= way.least_gap_mm) return;
        way.least_gap_mm = at.gap_mm;
        way.least_nearest = at.nearest;
    }

    /// Room changes smoothly with the bearing but where the tips open another way, so its least is at an end of the
    /// sector or in a dip between two degrees.
    void measure_least(Approach& way) {
        const Sector& all = way.sector.bearings;
        const auto look = [&](double turned) {
            const AccessDirection at = direction_at(wrapped_deg(all.from_deg + turned));
            take_least(way, at);
            return at.gap_mm;
        };
        std::vector<double> tries{0.0};
        for (double turned = std::ceil(all.from_deg) - all.from_deg; turned < all.width_deg; turned += 1.0)
            if (turned > 0.0) tries.push_back(turned);
        tries.push_back(all.width_deg);
        std::vector<double> gaps;
        for (const double turned : tries)
            gaps.push_back(look(turned));
        for (std::size_t i = 0; i < tries.size(); ++i) {
            const std::size_t low = i == 0 ? 0 : i - 1, high = std::min(i + 1, tries.size() - 1);
            const bool is_dip = gaps[i] <= gaps[low] && gaps[i] <= gaps[high] && gaps[i] < kMostGap_mm;
            if (is_dip && gaps[i] < way.least_gap_mm + kDeepestDip_mm) search_dip(tries[low], tries[high], look);
        }
    }

    /// Third by third.
    template <class Look>
    static void search_dip(double low, double high, const Look& look) {
        while (high - low > kDipWidth_deg) {
            const double third = (high - low) / 3.0;
            if (look(low + third) < look(high - third))
                high -= third;
            else
                low += third;
        }
    }

    [[nodiscard]] Approach approach_in(const AccessSector& sector) {
        Approach way;
        way.sector = sector;
        double best = -std::numeric_limits<double>::infinity();
        for (const double bearing : bearings_to_try(sector)) {
            const double score = score_of(sector, bearing);
            if (score <= best) continue;
            best = score;
            way.bearing_deg = bearing;
        }
        const AccessDirection at = direction_at(way.bearing_deg);
        way.gap_mm = at.gap_mm;
        way.nearest = at.nearest;
        take_least(way, at);
        measure_least(way);
        if (sector.passage == Passage::Depends) way.limits = limits_at(way.bearing_deg);
        way.turn_board_deg = turn_between(way.bearing_deg + query_.board_turn_deg, query_.hand_deg);
        describe_tool(way);
        return way;
    }

    void describe_tool(Approach& way) const {
        const AccessFrame frame(report_.at, report_.side);
        const ToolPose& pose = pose_at(way.bearing_deg);
        if (query_.tool.kind == ToolKind::Tweezers) {
            way.opening_mm = pose.opening_mm();
            if (way.sector.works) way.across_mm = grip_at(way.bearing_deg)->across_mm;
            way.on_lands = stands_on_lands(pose, way.bearing_deg, frame);
        }
        for (const Ring& ring : pose.below(std::nullopt).rings)
            way.tool.push_back({frame.to_board(turned(ring, way.bearing_deg)), {}});
        double height = kLeastSlipHeight_mm;
        for (std::size_t i = 0; i < standing_.size(); ++i) {
            if (!slip_reaches(pose, standing_[i], way.bearing_deg)) continue;
            way.in_slip.push_back(i);
            height = std::max(height, standing_[i].height_mm.value_or(kUsualHeight_mm));
        }
        way.slip.push_back(
            {frame.to_board(slip_area(pose, height, way.bearing_deg, query_.slip_mm, query_.slip_spread_deg)), {}});
    }

    /// The tips come down on copper of the part itself, where its solder or its leads keep them from the body.
    [[nodiscard]] bool stands_on_lands(const ToolPose& pose, double bearing_deg, const AccessFrame& frame) const {
        for (const document::Pad& pad : target_.pads) {
            const Ring land = frame.from_board(document::outline_on_board(target_, pad));
            if (land.size() < 3) continue;
            for (const Ring& tip : pose.below(kTipHeight_mm).rings)
                if (signed_gap(turned(tip, bearing_deg), {{land, {}}}) < 0.0) return true;
        }
        return false;
    }

    [[nodiscard]] bool slip_reaches(const ToolPose& pose, const Standing& standing, double bearing_deg) const {
        const double height = std::max(standing.height_mm.value_or(kUsualHeight_mm), kLeastSlipHeight_mm);
        if (standing.near_mm > pose.below(height).far_mm + 2.0 * query_.slip_mm) return false;
        const Ring swept = slip_area(pose, height, bearing_deg, query_.slip_mm, query_.slip_spread_deg);
        return signed_gap(swept, standing.area) <= 0.0;
    }

    /// What a hand can hold before what it cannot, sure before unsure, working before merely passable, tips beside the
    /// lands before tips on them, then by room in steps that matter, then the one from which a slip reaches fewer, then
    /// the one nearer to the hand.
    void order_approaches() {
        const auto key = [](const Approach& way) {
            const bool is_free = way.sector.passage == Passage::Free;
            const int rank = !way.sector.works ? (is_free ? 3 : 4) : !way.sector.can_be_held() ? 2 : (is_free ? 0 : 1);
            const double room =
                std::min(way.gap_mm, kEnoughGap_mm) + (way.limits.empty() ? 0.0 : way.limits.front().limit_mm);
            return std::tuple(rank, way.on_lands, -std::floor(room / kRoomThatMatters_mm), way.in_slip.size(),
                              std::abs(way.turn_board_deg));
        };
        std::stable_sort(report_.approaches.begin(), report_.approaches.end(),
                         [&](const Approach& a, const Approach& b) { return key(a) < key(b); });
    }

    void forbid_touching() {
        const Approach* best = report_.best();
        for (std::size_t i = 0; i < report_.neighbours.size(); ++i) {
            const AccessNeighbour& near = report_.neighbours[i];
            if (!near.is_small && !near.is_molten) continue;
            const bool in_slip = best != nullptr && std::count(best->in_slip.begin(), best->in_slip.end(), i) > 0;
            if (near.gap.mm <= kNear_mm || in_slip) report_.do_not_touch.push_back(i);
        }
    }

    const Chart& chart_;
    const Footprint& target_;
    const AccessQuery& query_;
    AccessReport report_;
    Ring outline_; ///< of the target, frame of access_scene.hpp
    std::optional<PadPlace> pad_;
    std::vector<ToolPose> poses_;
    std::vector<Standing> standing_;
    Bearings works_, blocked_, depends_, free_;
};

std::optional<Error> fault_of(const AccessQuery& query) {
    if (auto fault = fault_of(query.tool)) return fault;
    const auto within = [](double value, double low, double high) { return value >= low && value <= high; };
    if (query.opening_mm && !within(*query.opening_mm, 0.0, 100.0))
        return Error{"the opening must be 0 to 100 mm", "opening"};
    if (!within(query.play_mm, 0.0, 10.0)) return Error{"the room wanted must be 0 to 10 mm", "play"};
    if (!within(query.slip_mm, 0.0, 50.0)) return Error{"the slip must be 0 to 50 mm", "slip"};
    if (!within(query.slip_spread_deg, 0.0, 80.0)) return Error{"the spread of a slip must be 0 to 80 degrees", "slip"};
    if (!std::isfinite(query.hand_deg) || !std::isfinite(query.board_turn_deg))
        return Error{"an angle is no number", "hand"};
    return std::nullopt;
}

} // namespace

std::string_view to_text(Passage passage) {
    switch (passage) {
    case Passage::Free: return "free";
    case Passage::Depends: return "depends";
    case Passage::Blocked: return "blocked";
    }
    return "blocked";
}

bool AccessReport::is_good() const {
    return best() != nullptr && best()->sector.works && best()->sector.passage == Passage::Free &&
           best()->sector.can_be_held();
}

double usual_opening_mm(const AccessReport& report, const AccessQuery& query) {
    if (query.opening_mm) return *query.opening_mm;
    double least = std::numeric_limits<double>::infinity();
    for (const Grip& grip : report.grips)
        least = std::min(least, grip.opening_mm);
    return std::isfinite(least) ? least : 1.0;
}

Result<AccessReport> access(const Chart& chart, const AccessQuery& query) {
    if (!chart.scale) return Error{"the chart has no scale, so no distance on it is known", ""};
    if (auto fault = fault_of(query)) return *fault;
    const auto at = document::find_part(chart, query.target);
    if (!at) return Error{"the part is not on the chart", query.target.text};
    const Footprint& target = chart.parts[*at];
    if (geometry::convex_hull(document::extent_on_board(target)).size() < 3)
        return Error{access_name(target) + " has neither body nor pads, so there is nothing to come to", ""};
    return Run(chart, target, query).answer();
}

} // namespace padchart::analysis
