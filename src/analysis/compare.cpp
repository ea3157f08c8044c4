#include "analysis/compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <unordered_map>

#include "analysis/compare_keep_outs.hpp"
#include "analysis/compare_match.hpp"
#include "analysis/compare_parts.hpp"
#include "analysis/compare_readings.hpp"
#include "analysis/compare_register.hpp"
#include "patterns/labels.hpp"

namespace padchart::analysis {
namespace {

using document::Chart;
using document::Footprint;
using document::Id;

struct KindName {
    ChangeKind kind;
    std::string_view text;
};

constexpr KindName kKindNames[] = {
    {ChangeKind::Missing, "missing"},
    {ChangeKind::Added, "added"},
    {ChangeKind::Moved, "moved"},
    {ChangeKind::Turned, "turned"},
    {ChangeKind::Side, "side"},
    {ChangeKind::Name, "name"},
    {ChangeKind::Class, "class"},
    {ChangeKind::Role, "role"},
    {ChangeKind::Value, "value"},
    {ChangeKind::Pattern, "pattern"},
    {ChangeKind::Orientation, "orientation"},
    {ChangeKind::State, "state"},
    {ChangeKind::PadState, "pad-state"},
    {ChangeKind::NotCheckedAgain, "not-checked-again"},
    {ChangeKind::Reading, "reading"},
    {ChangeKind::ReadingMissing, "reading-missing"},
    {ChangeKind::KeepOut, "keep-out"},
};

void finding(CompareReport& report, Severity severity, std::string code, std::string message) {
    report.findings.push_back({severity, std::move(code), std::move(message), {}, {}});
}

// Laying one chart on the other ----------------------------------------------------------------------------------

void judge_registration(CompareReport& report) {
    const Registration& r = report.registration;
    if (r.mirrored && !r.sides_swapped)
        finding(report, Severity::Warning, "mirrored",
                "The second chart is a mirror image of the first: one of them was traced from a picture seen through "
                "or flipped. Find out which before trusting either.");
    if (r.sides_swapped)
        finding(report, Severity::Note, "sides-swapped",
                "The second chart shows the board from its other side and calls its top what the first calls its "
                "bottom; this was made up for.");
    if (r.scale != 1.0)
        finding(report, Severity::Warning, "scale-differs",
                fmt::format("Lengths of the second chart were multiplied by {:.4f} to lie on the first, within what "
                            "both scales leave open.",
                            r.scale));
    if (!r.is_sure)
        finding(report, Severity::Warning, "registration-weak",
                fmt::format("Only {} of {} fixed points of the two charts agree (corners, holes, parts that did not "
                            "move); at least three and half of them should. Places may be wrong.",
                            r.points_used, r.points));
}

void lay_on_each_other(const Chart& before, const Chart& after, const CompareOptions& options,
                       std::vector<PartPair>& pairs, CompareReport& report) {
    report.places_compared = before.scale.has_value() && after.scale.has_value();
    if (!report.places_compared) {
        finding(report, Severity::Warning, "no-scale",
                "A chart without scale has no lengths: places and turns were not compared.");
        pairs = match_parts_by_order(before, after, pairs);
        return;
    }
    report.registration = register_charts(before, after, pairs, options.moved_mm);
    const Registration& r = report.registration;
    pairs = match_parts_by_place(before, after, {r.before_from_after, r.sides_swapped, options.moved_mm}, pairs);
    judge_registration(report);
}

// Parts ----------------------------------------------------------------------------------------------------------

Change missing(const Footprint& part) {
    Change change;
    change.kind = ChangeKind::Missing;
    change.before_id = part.id;
    change.name = part.name;
    change.message = spoken_name(part) + " is not on the second chart.";
    return change;
}

Change added(const Footprint& part) {
    Change change;
    change.kind = ChangeKind::Added;
    change.after_id = part.id;
    change.name = part.name;
    change.message = spoken_name(part) + " is on the second chart only.";
    return change;
}

void compare_all_parts(const Chart& before, const Chart& after, const std::vector<PartPair>& pairs,
                       const CompareOptions& options, CompareReport& report) {
    const Registration& r = report.registration;
    const PartContext context{
        options, r.before_from_after, report.places_compared, r.sides_swapped, r.mirrored && !r.sides_swapped, r.scale};
    std::vector<bool> found(after.parts.size());
    auto pair = pairs.begin();
    for (std::size_t i = 0; i < before.parts.size(); ++i) {
        if (pair == pairs.end() || pair->before != i) {
            report.changes.push_back(missing(before.parts[i]));
            continue;
        }
        found[pair->after] = true;
        compare_parts(before.parts[i], after.parts[pair->after], context, report.changes);
        ++pair;
    }
    for (std::size_t k = 0; k < after.parts.size(); ++k)
        if (!found[k]) report.changes.push_back(added(after.parts[k]));
}

/// Two parts that changed places look like two that moved anywhere, unless it is said where they moved to.
void tell_whose_place(const Chart& before, CompareReport& report) {
    std::vector<geometry::Vec2> middles;
    for (const Footprint& part : before.parts)
        middles.push_back(middle_on_board(part));
    for (Change& change : report.changes) {
        if (!change.move) continue;
        const std::size_t part = *document::find_part(before, change.before_id);
        const geometry::Vec2 now = middles[part] + change.move->by_mm;
        for (std::size_t i = 0; i < middles.size(); ++i) {
            const Footprint& other = before.parts[i];
            const bool is_there = geometry::distance(middles[i], now) <= change.move->tolerance_mm;
            if (!is_there || i == part || other.name.empty()) continue;
            if (other.placement.side != before.parts[part].placement.side) continue;
            change.message += fmt::format(" It lies where {} was.", other.name);
            break;
        }
    }
}

IdBefore ids_of_pairs(const Chart& before, const Chart& after, const std::vector<PartPair>& pairs) {
    std::unordered_map<Id, Id> same;
    for (const PartPair& pair : pairs)
        same.emplace(after.parts[pair.after].id, before.parts[pair.before].id);
    return [same = std::move(same)](const Id& id) {
        const auto found = same.find(id);
        return found == same.end() ? id : found->second;
    };
}

} // namespace

std::string_view way_in_words(double turn_deg) {
    return turn_deg > 0.0 ? "counter-clockwise" : "clockwise";
}

std::string_view to_text(ChangeKind kind) {
    for (const KindName& name : kKindNames)
        if (name.kind == kind) return name.text;
    return "missing";
}

CompareReport compare(const Chart& before, const Chart& after, const CompareOptions& options) {
    CompareReport report;
    report.parts_before = before.parts.size();
    report.parts_after = after.parts.size();
    std::vector<PartPair> pairs = match_parts_by_id_and_name(before, after);
    lay_on_each_other(before, after, options, pairs, report);
    report.parts_compared = pairs.size();
    for (const PartPair& pair : pairs)
        report.matched.push_back({before.parts[pair.before].id, after.parts[pair.after].id});
    compare_all_parts(before, after, pairs, options, report);
    tell_whose_place(before, report);
    report.readings_compared =
        compare_readings(before, after, ids_of_pairs(before, after, pairs), report.registration.before_from_after,
                         report.registration.sides_swapped, report.changes);
    compare_keep_outs(before, after, report);
    list_left_in_place(after, report);
    return report;
}

} // namespace padchart::analysis
