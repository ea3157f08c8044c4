#include "analysis/check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <string>

#include "analysis/pad_numbers.hpp"
#include "analysis/photo_doubts.hpp"
#include "analysis/registration.hpp"
#include "analysis/scale.hpp"
#include "document/things.hpp"
#include "patterns/marks.hpp"
#include "patterns/naming.hpp"

namespace padchart::analysis {
namespace {

using document::Chart;
using document::Footprint;
using document::Id;
using document::PartClass;
using document::Presence;

std::string name_of(const Footprint& part) {
    return part.name.empty() ? "a part without name" : part.name;
}

std::string name_of(const Chart& chart, const Id& id) {
    if (const auto at = document::find_part(chart, id)) return name_of(chart.parts[*at]);
    for (const document::KeepOut& keep_out : chart.keep_outs)
        if (keep_out.id == id) return keep_out.name.empty() ? "a keep-out" : keep_out.name;
    return id.text;
}

bool is_there(const Footprint& part) {
    const Presence presence = part.condition.presence;
    return presence == Presence::Present || presence == Presence::NotChecked;
}

class Collector {
public:
    void add(Severity severity, std::string code, std::string message, std::string target = {}) {
        findings_.push_back({severity, std::move(code), std::move(message), {}, std::move(target)});
    }
    void add(Diagnostics more) {
        for (Diagnostic& finding : more)
            findings_.push_back(std::move(finding));
    }
    [[nodiscard]] Diagnostics sorted() && {
        std::stable_sort(findings_.begin(), findings_.end(),
                         [](const Diagnostic& a, const Diagnostic& b) { return a.severity > b.severity; });
        return std::move(findings_);
    }

private:
    Diagnostics findings_;
};

void check_hazards(const Chart& chart, Collector& out) {
    for (const Footprint& part : chart.parts) {
        if (!is_there(part)) continue;
        if (holds_cell(part))
            out.add(Severity::Fault, "cell-on-board",
                    name_of(part) +
                        " holds a cell: take the cell out before any heat, never shield it only. A cell may vent "
                        "or burn.",
                    part.id.text);
        if (part.part_class == PartClass::Supercapacitor)
            out.add(Severity::Fault, "supercapacitor-on-board",
                    name_of(part) + " is a supercapacitor: discharge it, and take it off before heat comes near.",
                    part.id.text);
        if (part.part_class == PartClass::Microphone && in_heat_area(chart, part))
            out.add(Severity::Warning, "port-in-heat-area",
                    name_of(part) + " has an open port: cover it and never blow air or wash into it.", part.id.text);
    }
}

/// A scale no better than this is a guess: a bore or a gap may be out by a twentieth.
constexpr double kUnsureScale = 0.05;

/// Millimetres that a hand drew on a grid are right by definition; those drawn over a picture that lies anywhere are
/// not.
void check_drawn_over_photo(const Chart& chart, Collector& out) {
    if (!chart.scale || chart.scale->source != document::ScaleSource::Drawn || chart.parts.empty()) return;
    for (const document::Photo& photo : chart.photos)
        if (photo.board == document::WhichBoard::ThisBoard && !placement_of(photo))
            out.add(Severity::Warning, "scale-over-photo",
                    fmt::format("The chart is drawn in mm, but {} lies under it and is not placed: what was traced "
                                "over it is not in true mm. Set the scale by two points, or from a part of known size.",
                                photo.path),
                    photo.id.text);
}

/// A photo put in a wrong place shows one part and names another.
void check_photo_places(const Chart& chart, Collector& out) {
    for (const document::Photo& photo : chart.photos)
        for (const Diagnostic& doubt : placement_doubts(photo, chart.scale.has_value()))
            out.add(doubt.severity, doubt.code, photo.path + ": " + doubt.message, photo.id.text);
}

/// Which part such a photo shows is not sure, and so neither is whose mark was seen.
void check_doubtful_records(const Chart& chart, Collector& out) {
    for (const Footprint& part : chart.parts)
        if (const document::Photo* photo = doubtful_evidence(chart, part))
            out.add(Severity::Warning, "record-on-doubtful-photo",
                    fmt::format("The record of which way {} sits rests on {}, off which nothing may be read. Put the "
                                "photo right, or look at the board and record it anew.",
                                name_of(part), photo->path),
                    part.id.text);
}

void check_scale(const Chart& chart, Collector& out) {
    if (chart.scale && chart.scale->relative_uncertainty > kUnsureScale)
        out.add(Severity::Warning, "scale-unsure",
                fmt::format("The scale is only sure within {:.0f} %{}. Measure two points and set it anew.",
                            chart.scale->relative_uncertainty * 100.0,
                            chart.scale->note.empty() ? "" : " (" + chart.scale->note + ")"));
    if (chart.scale)
        for (const document::OtherScale& other : chart.scale->overruled)
            if (auto finding = disagreement(*chart.scale, as_scale(other))) out.add({std::move(*finding)});
    check_drawn_over_photo(chart, out);
    if (!chart.scale)
        out.add(Severity::Fault, "no-scale",
                "The chart has no scale, so nothing on it can be measured. Set it from two points of known distance or "
                "from "
                "a part of known size.");
    if (!chart.board.outline)
        out.add(Severity::Note, "no-outline", "The board has no outline; edges and the heat near them are not known.");
}

/// Pins that run the wrong way round: a mirrored picture, and every turn told from it would be wrong.
void check_numbering(const Chart& chart, Collector& out) {
    out.add(mirrored_numbering(chart));
    out.add(numbers_against_rule(chart));
}

void check_orientation(const Chart& chart, const FitReport& fit, bool in_heat, Collector& out) {
    for (const PartFit& answer : fit.parts) {
        if (!answer.needs_record || answer.has_record) continue;
        const auto at = document::find_part(chart, answer.part);
        if (!at || in_heat_area(chart, chart.parts[*at]) != in_heat) continue;
        out.add(Severity::Warning, "orientation-not-recorded",
                fmt::format("{} {}{} and its right way round is not on record. Record it before heat{}.",
                            name_of(chart.parts[*at]), risk_in_words(answer),
                            answer.unsure_turns.empty()
                                ? ""
                                : fmt::format(" (not quite as drawn, but its lands may lie {:.2g} mm elsewhere)",
                                              fit.uncertainty_mm),
                            in_heat ? "" : "; it lies outside the planned heat"),
                answer.part.text);
    }
}

void check_joined_pads(const Chart& chart, const FitReport& fit, Collector& out) {
    for (const PartFit& answer : fit.parts) {
        if (answer.joined_pads == 0) continue;
        const auto at = document::find_part(chart, answer.part);
        if (!at) continue;
        out.add(Severity::Warning, "pads-on-each-other",
                fmt::format("{}: {} of its pads lie on others and count as one land with them. Take off what was drawn "
                            "twice.",
                            name_of(chart.parts[*at]), answer.joined_pads),
                answer.part.text);
    }
}

void check_marks(const Chart& chart, Collector& out) {
    for (const Footprint& part : chart.parts)
        out.add(patterns::orientation_conflicts(part));
}

std::string_view words_for(GapKind kind) {
    switch (kind) {
    case GapKind::BodyToBody: return "bodies";
    case GapKind::PadToPad: return "pads";
    case GapKind::PadToEdge: return "a pad and the board's edge";
    case GapKind::BodyToEdge: return "a body and the board's edge";
    }
    return "parts";
}

/// " (3 and A1)", " (3)": which pads, so that the place is found on a long connector.
std::string pads_in_words(const CloseGap& close) {
    if (close.first_pad.empty() && close.second_pad.empty()) return {};
    if (close.first_pad.empty() || close.second_pad.empty())
        return fmt::format(" ({}{})", close.first_pad, close.second_pad);
    return fmt::format(" ({} and {})", close.first_pad, close.second_pad);
}

void check_gaps(const Chart& chart, const ClearanceReport& clearance, Collector& out) {
    for (const CloseGap& close : clearance.close) {
        const std::string first = name_of(chart, close.first);
        const std::string second = close.second.is_empty() ? "the edge" : name_of(chart, close.second);
        const std::string how = close.gap.mm <= 0.0
                                    ? "touch or overlap"
                                    : fmt::format("are {:.{}f} mm apart", close.gap.mm, close.gap.mm < 0.01 ? 4 : 2);
        out.add(Severity::Warning, "too-near",
                fmt::format("{} and {}: {}{} {}; the chart's rule is {:.2f} mm.", first, second, words_for(close.kind),
                            pads_in_words(close), how, close.rule_mm),
                close.first.text);
    }
    out.add(clearance.findings);
}

void check_plans(const Chart& chart, Collector& out) {
    for (const document::HeatPlan& plan : chart.heat_plans)
        for (const SensitiveGap& gap : gaps_of_plan(chart, plan)) {
            if (!gap.inside_ring || gap.sensitive == plan.target) continue;
            // These are told as hazards of their own: they come off, and no shield is enough.
            const auto part = document::find_part(chart, gap.sensitive);
            if (part && (holds_cell(chart.parts[*part]) || chart.parts[*part].part_class == PartClass::Supercapacitor))
                continue;
            out.add(gap.shielded ? Severity::Note : Severity::Warning,
                    gap.shielded ? "sensitive-shielded" : "sensitive-under-nozzle",
                    fmt::format("{} stands {:.1f} mm from {}{}, within reach of the nozzle. {}",
                                name_of(chart, gap.sensitive), gap.gap.mm,
                                plan.target.is_empty() ? "the aim" : name_of(chart, plan.target),
                                gap.same_side ? "" : " on the far side",
                                gap.shielded ? "It is shielded: see before the heat that the shield covers it and "
                                               "lies close."
                                             : "Shield it or take it off first."),
                    gap.sensitive.text);
        }
}

void check_keep_outs(const Chart& chart, Collector& out) {
    for (const document::KeepOut& keep_out : chart.keep_outs)
        if (keep_out.measure == document::Measure::None)
            out.add(Severity::Warning, "keep-out-without-measure",
                    fmt::format("Keep-out {} has no measure yet; right would be removed, shielded or watched.",
                                keep_out.name.empty() ? "without name" : keep_out.name),
                    keep_out.id.text);
}

/// The chart is whole, but somebody's word was given up without anyone having decided it.
void check_conflicts(const Chart& chart, Collector& out) {
    const auto said = [](const std::string& json, const std::string& who, std::string_view usual) {
        return fmt::format("{} says {}", who.empty() ? usual : std::string_view(who),
                           json.empty()       ? "nothing"
                           : json.size() > 60 ? "something longer"
                                              : json);
    };
    for (const document::Conflict& conflict : chart.conflicts) {
        std::string what = conflict.thing.is_empty() ? "The chart" : name_of(chart, conflict.thing);
        if (!conflict.field.empty()) what += ", " + conflict.field.substr(1);
        out.add(Severity::Warning, "merge-conflict",
                fmt::format("{}: {}, {}. Settle which is right, then take it off the chart's list of conflicts.", what,
                            said(conflict.ours, conflict.ours_label, "one hand"),
                            said(conflict.theirs, conflict.theirs_label, "the other")),
                conflict.thing.text);
    }
}

void check_names(const Chart& chart, Collector& out) {
    std::map<std::pair<document::Side, std::string>, std::vector<const Footprint*>> by_name;
    std::size_t unnamed = 0;
    for (const Footprint& part : chart.parts) {
        if (part.name.empty())
            ++unnamed;
        else
            by_name[{part.placement.side, part.name}].push_back(&part);
    }
    for (const auto& [key, parts] : by_name)
        if (parts.size() > 1)
            out.add(Severity::Warning, "name-twice",
                    fmt::format("{} parts on the {} side are called {}; every part needs its own name.", parts.size(),
                                document::to_text(key.first), key.second),
                    parts[1]->id.text);
    if (unnamed > 0)
        out.add(Severity::Note, "unnamed", fmt::format("{} of {} parts have no name.", unnamed, chart.parts.size()));
}

void check_pads(const Footprint& part, Collector& out) {
    const auto drawn = static_cast<int>(part.pads.size());
    if (part.pads.empty() && part.part_class != PartClass::Mechanical && part.part_class != PartClass::MountingHole)
        out.add(Severity::Note, "no-pads", name_of(part) + " has no pads drawn, so its fit cannot be told.",
                part.id.text);
    else if (part.stated_pad_count && *part.stated_pad_count != drawn)
        out.add(Severity::Warning, "pad-count",
                fmt::format("{} is said to have {} pads, {} are drawn.", name_of(part), *part.stated_pad_count, drawn),
                part.id.text);
}

void check_condition(const Footprint& part, Collector& out) {
    const document::Condition& state = part.condition;
    const bool is_gone = state.presence == Presence::Missing || state.presence == Presence::Lost;
    if (is_gone && state.not_needed_because.empty())
        out.add(Severity::Warning, "part-" + std::string(document::to_text(state.presence)),
                fmt::format("{} is {}.", name_of(part), document::to_text(state.presence)), part.id.text);
    else if (!state.not_needed_because.empty())
        out.add(Severity::Note, "not-needed",
                fmt::format("{} is {}; decided: not needed for function ({}).", name_of(part),
                            document::to_text(state.presence), state.not_needed_because),
                part.id.text);
    for (const document::Pad& pad : part.pads)
        if (pad.land == document::LandState::Missing || pad.land == document::LandState::Lifted)
            out.add(Severity::Warning, "land-" + std::string(document::to_text(pad.land)),
                    fmt::format("{}, pad {}: land {}.", name_of(part),
                                pad.number.empty() ? "without number" : pad.number, document::to_text(pad.land)),
                    part.id.text);
    const auto report = [&](auto fault, std::string_view what) {
        using Enum = decltype(fault);
        if (fault == Enum::NotChecked || fault == Enum::Good) return;
        out.add(Severity::Warning, "condition",
                fmt::format("{}: {} {}.", name_of(part), what, document::to_text(fault)), part.id.text);
    };
    report(state.seating, "sits");
    report(state.joint, "joint");
    report(state.body, "body");
    report(state.land, "land");
}

void check_record(const Chart& chart, Collector& out) {
    std::size_t unknown = 0;
    std::size_t checked = 0;
    for (const Footprint& part : chart.parts) {
        check_pads(part, out);
        check_condition(part, out);
        out.add(patterns::naming_findings(part));
        if (part.part_class == PartClass::Unknown) ++unknown;
        if (part.condition.presence != Presence::NotChecked) ++checked;
    }
    if (unknown > 0)
        out.add(Severity::Note, "class-unknown",
                fmt::format("{} of {} parts have no class yet, so every wrong turn of theirs counts as risky.", unknown,
                            chart.parts.size()));
    if (checked < chart.parts.size())
        out.add(Severity::Note, "not-checked", fmt::format("{} of {} parts checked.", checked, chart.parts.size()));
}

void check_readings(const Chart& chart, Collector& out) {
    for (const document::Reading& reading : chart.readings) {
        std::string what = "Reading " + document::pin_name(chart, reading.id);
        if (!reading.target.is_empty()) what += " at " + name_of(chart, reading.target);
        if (reading.meter.empty())
            out.add(Severity::Note, "reading-without-meter",
                    what + " names no meter; readings of two meters cannot be compared.", reading.id.text);
        if (reading.quantity == document::Quantity::DiodeDrop && reading.leads == document::Leads::NotStated)
            out.add(Severity::Note, "reading-without-leads", what + " does not say which lead was on ground.",
                    reading.id.text);
    }
}

} // namespace

bool holds_cell(const Footprint& part) {
    if (!is_there(part)) return false;
    if (part.part_class == PartClass::Cell) return true;
    if (part.part_class != PartClass::CellHolder) return false;
    return !part.heat || part.heat->material.empty() || part.heat->material == "coin-cell" ||
           part.heat->material == "li-ion-cell";
}

double heat_area_radius(const document::HeatPlan& plan) {
    const double half_angle = 11.8 * std::numbers::pi / 180.0;
    return 2.0 * (plan.nozzle_bore_mm / 2.0 + plan.stand_off_mm * std::tan(half_angle));
}

bool in_heat_area(const Chart& chart, const Footprint& part) {
    if (chart.heat_plans.empty() || !chart.scale) return true; // nothing says how far away it is
    const geometry::Ring extent = document::extent_on_board(part);
    const geometry::Box box =
        extent.empty() ? geometry::Box{part.placement.at, part.placement.at} : geometry::bounds(extent);
    return std::any_of(chart.heat_plans.begin(), chart.heat_plans.end(), [&](const document::HeatPlan& plan) {
        const geometry::Vec2 nearest{std::clamp(plan.aim.x, box.min.x, box.max.x),
                                     std::clamp(plan.aim.y, box.min.y, box.max.y)};
        return geometry::distance(nearest, plan.aim) <= heat_area_radius(plan);
    });
}

Diagnostics check(const Chart& chart, const ClearanceReport& clearance, const FitReport& fit) {
    Collector out;
    check_scale(chart, out);
    check_photo_places(chart, out);
    check_doubtful_records(chart, out);
    check_hazards(chart, out);
    check_orientation(chart, fit, true, out);
    check_marks(chart, out);
    check_plans(chart, out);
    check_keep_outs(chart, out);
    check_orientation(chart, fit, false, out);
    check_numbering(chart, out);
    check_joined_pads(chart, fit, out);
    check_gaps(chart, clearance, out);
    check_conflicts(chart, out);
    check_names(chart, out);
    check_record(chart, out);
    check_readings(chart, out);
    return std::move(out).sorted();
}

} // namespace padchart::analysis
