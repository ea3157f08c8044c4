#include "analysis/compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <unordered_map>

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
using document::KeepOut;
using document::Measure;

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
        return;
    }
    report.registration = register_charts(before, after, pairs, options.moved_mm);
    pairs = match_parts_by_place(before, after, report.registration.before_from_after, pairs);
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
    const PartContext context{options, r.before_from_after, report.places_compared, r.sides_swapped,
                              r.mirrored && !r.sides_swapped};
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

// Keep-outs and shields ------------------------------------------------------------------------------------------

std::string spoken_name(const KeepOut& keep_out) {
    return keep_out.name.empty() ? "Keep-out without name" : "Keep-out " + keep_out.name;
}

const KeepOut* find_same(const Chart& chart, const KeepOut& wanted) {
    for (const KeepOut& keep_out : chart.keep_outs)
        if (keep_out.id == wanted.id) return &keep_out;
    for (const KeepOut& keep_out : chart.keep_outs)
        if (!wanted.name.empty() && keep_out.name == wanted.name) return &keep_out;
    return nullptr;
}

Change keep_out_change(const KeepOut& keep_out, std::string message) {
    Change change;
    change.kind = ChangeKind::KeepOut;
    change.name = keep_out.name;
    change.message = spoken_name(keep_out) + ' ' + std::move(message);
    return change;
}

void compare_keep_outs(const Chart& before, const Chart& after, CompareReport& report) {
    for (const KeepOut& was : before.keep_outs) {
        const KeepOut* is = find_same(after, was);
        if (is != nullptr && is->measure == was.measure) continue;
        Change change = keep_out_change(
            was, is == nullptr ? "is not on the second chart."
                               : fmt::format("was {} before and is {} now.",
                                             was.measure == Measure::None ? "bare" : document::to_text(was.measure),
                                             is->measure == Measure::None ? "bare" : document::to_text(is->measure)));
        change.before_id = was.id;
        if (is != nullptr) {
            change.after_id = is->id;
            change.field = "measure";
            change.before = document::to_text(was.measure);
            change.after = document::to_text(is->measure);
        }
        report.changes.push_back(std::move(change));
    }
    for (const KeepOut& is : after.keep_outs) {
        if (find_same(before, is) != nullptr) continue;
        report.changes.push_back(keep_out_change(is, "is on the second chart only."));
        report.changes.back().after_id = is.id;
    }
}

void list_left_in_place(const Chart& after, CompareReport& report) {
    for (const KeepOut& keep_out : after.keep_outs) {
        if (keep_out.measure == Measure::Shielded)
            report.left_in_place.push_back(
                {keep_out.id, keep_out.name, spoken_name(keep_out) + " is still marked as shielded: is the tape off?"});
        if (keep_out.measure == Measure::Removed)
            report.left_in_place.push_back(
                {keep_out.id, keep_out.name,
                 spoken_name(keep_out) + " is still marked as removed: has it gone back where it belongs?"});
    }
    for (const document::Shield& shield : after.shields)
        report.left_in_place.push_back(
            {shield.id, shield.name,
             fmt::format("Shield {} ({}) is still on the chart: is it off the board?",
                         shield.name.empty() ? "without name" : shield.name, document::to_text(shield.kind))});
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
    report.readings_compared =
        compare_readings(before, after, ids_of_pairs(before, after, pairs), report.registration.before_from_after,
                         report.registration.sides_swapped, report.changes);
    compare_keep_outs(before, after, report);
    list_left_in_place(after, report);
    return report;
}

} // namespace padchart::analysis
