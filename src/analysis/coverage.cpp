#include "analysis/coverage.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <unordered_set>

namespace padchart::analysis {
namespace {

using document::Chart;
using document::Footprint;
using document::Id;
using document::Presence;
using geometry::Box;
using geometry::Vec2;

/// Parts that a note, a reading, a plan or a tick speaks of.
std::unordered_set<Id> spoken_of(const Chart& chart) {
    std::unordered_set<Id> ids;
    for (const document::Note& note : chart.notes)
        ids.insert(note.target);
    for (const document::Reading& reading : chart.readings)
        ids.insert(reading.target);
    for (const document::HeatPlan& plan : chart.heat_plans)
        ids.insert(plan.target);
    return ids;
}

bool says_something(const Footprint& part) {
    const bool of_a_pad = std::any_of(part.pads.begin(), part.pads.end(), [](const document::Pad& pad) {
        return !pad.net.empty() || pad.land != document::LandState::NotChecked ||
               pad.joint != document::JointState::NotChecked;
    });
    return of_a_pad || !part.value.empty() || !part.role.empty() || !part.comment.empty() || part.heat ||
           part.part_class != document::PartClass::Unknown || part.condition != document::Condition{} ||
           part.orientation.state != document::RecordState::NotRecorded;
}

struct Spot {
    Id id;
    Vec2 centre; ///< as seen from the side
    double height = 0.0;
};

std::vector<Spot> spots_of(const Chart& chart, document::Side side) {
    std::vector<Spot> spots;
    for (const Footprint& part : chart.parts) {
        if (part.placement.side != side) continue;
        const Box box = geometry::bounds(document::extent_on_board(part));
        Spot spot{part.id, box.is_empty() ? part.placement.at : box.centre(), box.is_empty() ? 0.0 : box.height()};
        if (side == document::Side::Bottom) spot.centre.x = -spot.centre.x;
        spots.push_back(std::move(spot));
    }
    return spots;
}

double middle_height(const std::vector<Spot>& spots) {
    std::vector<double> heights;
    for (const Spot& spot : spots)
        heights.push_back(spot.height);
    const auto middle = heights.begin() + static_cast<std::ptrdiff_t>(heights.size() / 2);
    std::nth_element(heights.begin(), middle, heights.end());
    return *middle;
}

} // namespace

Coverage coverage(const Chart& chart) {
    Coverage found;
    const std::unordered_set<Id> spoken = spoken_of(chart);
    found.parts = chart.parts.size();
    for (const Footprint& part : chart.parts) {
        if (part.condition.presence == Presence::NotChecked)
            found.not_checked.push_back(part.id);
        else
            ++found.checked;
        if (!says_something(part) && spoken.count(part.id) == 0) found.not_mentioned.push_back(part.id);
    }
    return found;
}

std::string in_words(const Coverage& coverage) {
    return fmt::format("{} of {} checked", coverage.checked, coverage.parts);
}

std::vector<Id> reading_order(const Chart& chart, document::Side side) {
    std::vector<Spot> spots = spots_of(chart, side);
    if (spots.empty()) return {};
    const double row_height = middle_height(spots);
    std::stable_sort(spots.begin(), spots.end(), [](const Spot& a, const Spot& b) { return a.centre.y < b.centre.y; });
    std::vector<Id> ids;
    for (std::size_t begin = 0; begin < spots.size();) {
        std::size_t end = begin + 1;
        while (end < spots.size() && spots[end].centre.y - spots[begin].centre.y <= row_height)
            ++end;
        std::stable_sort(spots.begin() + static_cast<std::ptrdiff_t>(begin),
                         spots.begin() + static_cast<std::ptrdiff_t>(end),
                         [](const Spot& a, const Spot& b) { return a.centre.x < b.centre.x; });
        for (std::size_t i = begin; i < end; ++i)
            ids.push_back(spots[i].id);
        begin = end;
    }
    return ids;
}

} // namespace padchart::analysis
