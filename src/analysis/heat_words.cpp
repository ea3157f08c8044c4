#include "analysis/heat_words.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace padchart::analysis {
namespace {

using document::PartClass;

constexpr double kRampLimit_k_per_s = 3.0;      // J-STD-020, average ramp in an oven
constexpr double kCeramicAdvised_k_per_s = 2.0; // capacitor makers' rework pages
constexpr double kCeramicLimit_k_per_s = 4.0;
constexpr double kLongDwell_s = 90.0; // common practice: stop, cool, think again
constexpr double kPlasticWorry_c = 150.0;
constexpr double kPortReach_mm = 30.0;
constexpr std::size_t kMostNames = 6;

std::string target_words(const HeatReport& report) {
    return report.target.name.empty() ? "The spot" : report.target.name;
}

std::string_view caution_of(const HeatSetup& setup, const document::Id& source) {
    for (const WatchedNeighbour& watch : setup.neighbours) {
        if (watch.source != source || !watch.limits || !watch.limits->material) continue;
        const std::string_view kind = watch.limits->material->caution;
        // Whoever states a limit knows the plastic; a cell stays a cell.
        return kind == "unknown-plastic" && watch.limits->origin == patterns::LimitOrigin::Own ? std::string_view{}
                                                                                               : kind;
    }
    return {};
}

std::string time_words(const MaybeBand& time) {
    // Hot is early: the high case comes first.
    if (time.high && time.low) return fmt::format("after {:.0f} to {:.0f} s", *time.high, *time.low);
    if (time.high && time.nominal)
        return fmt::format("after {:.0f} s at the earliest, likely {:.0f} s", *time.high, *time.nominal);
    if (time.high) return fmt::format("after {:.0f} s at the earliest", *time.high);
    return "not at all";
}

std::string melt_sentence(const HeatReport& report) {
    const TargetReport& target = report.target;
    const std::string who = target_words(report);
    const std::string peak = to_text(target.peak_mean_c);
    switch (target.verdict) {
    case MeltVerdict::Melts:
        return fmt::format("{} lets go {}: its coldest joint reaches {} C, the solder is liquid at {:.0f} C.", who,
                           time_words(target.time_to_liquidus_s), peak, target.liquidus_c);
    case MeltVerdict::Uncertain:
        return fmt::format("{} may not let go: its coldest joint reaches {} C and the solder is liquid at {:.0f} C.",
                           who, peak, target.liquidus_c);
    case MeltVerdict::WillNotMelt:
        return fmt::format(
            "{} will not let go with this plan: its coldest joint stays at {} C, the solder is liquid at {:.0f} C.",
            who, peak, target.liquidus_c);
    }
    return {};
}

const WatchedNeighbour* watched(const HeatSetup& setup, const document::Id& source) {
    for (const WatchedNeighbour& watch : setup.neighbours)
        if (watch.source == source) return &watch;
    return nullptr;
}

/// Where the open part of a neighbour lies, as seen from the nozzle.
std::string bare_words(const HeatSetup& setup, const WatchedNeighbour& watch) {
    const double middle = geometry::distance(geometry::centroid(watch.outline), setup.plan.aim);
    const double bare = geometry::distance(*watch.bare_at, setup.plan.aim);
    return bare < middle ? "on the side towards the nozzle" : "on the side away from the nozzle";
}

std::string neighbour_sentence(const HeatSetup& setup, const NeighbourReport& near) {
    const std::string peak = to_text(near.peak_c);
    if (caution_of(setup, near.source) == "take-out")
        return fmt::format(
            "Take {} out before any heat: it may reach {} C and must stay below {:.0f} C. A shield is not enough.",
            near.name, peak, *near.limit_c);
    if (near.verdict == NeighbourVerdict::WillOverheat)
        return fmt::format("Do not start like this: {} passes its limit of {:.0f} C even in the mildest case ({} C).",
                           near.name, *near.limit_c, peak);
    if (near.far_side)
        return fmt::format("Mind {} on the far side: it may reach {} C, its limit is {:.0f} C.", near.name, peak,
                           *near.limit_c);
    if (!near.under_can.empty())
        return fmt::format("Mind {} under {}: the board and the hot can may bring it to {} C, its limit is {:.0f} C. "
                           "No tape helps there; aim farther away or take less time.",
                           near.name, near.under_can, peak, *near.limit_c);
    const WatchedNeighbour* watch = watched(setup, near.source);
    if (watch != nullptr && !watch->idle_shield.empty())
        return fmt::format(
            "Put the shield \"{}\" in place before you start: without it {} may reach {} C, its limit is "
            "{:.0f} C.",
            watch->idle_shield, near.name, peak, *near.limit_c);
    if (watch != nullptr && watch->bare_at)
        return fmt::format(
            "Cover all of {} before you start: {:.0f} % of it lies open, {}; it may reach {} C, its limit "
            "is {:.0f} C.",
            near.name, 100.0 * (1.0 - near.shield_share), bare_words(setup, *watch), peak, *near.limit_c);
    if (near.shielded)
        return fmt::format("{} is still at risk behind its shield: {} C, limit {:.0f} C. Aim farther away or take less "
                           "time.",
                           near.name, peak, *near.limit_c);
    return fmt::format("Shield {} before you start: it may reach {} C, its limit is {:.0f} C.", near.name, peak,
                       *near.limit_c);
}

bool needs_action(const NeighbourReport& near) {
    return near.limit_c && near.verdict != NeighbourVerdict::Safe;
}

/// What has to be off the board comes first, however cool it would stay.
void add_take_out(const HeatSetup& setup, const HeatReport& report, std::vector<std::string>& sentences) {
    for (const NeighbourReport& near : report.neighbours)
        if (caution_of(setup, near.source) == "take-out") sentences.push_back(neighbour_sentence(setup, near));
}

void add_neighbours(const HeatSetup& setup, const HeatReport& report, std::vector<std::string>& sentences) {
    // What technicians protect first, one by one; parts made for a reflow together.
    std::vector<std::string> robust;
    for (const NeighbourReport& near : report.neighbours) {
        if (!needs_action(near) || caution_of(setup, near.source) == "take-out") continue;
        if (near.delicate)
            sentences.push_back(neighbour_sentence(setup, near));
        else
            robust.push_back(near.name);
    }
    if (!robust.empty())
        sentences.push_back(
            fmt::format("{} may pass the temperature {} made for: shorten the dwell or lower the set point.",
                        listed(robust), robust.size() == 1 ? "it is" : "they are"));
}

void add_floating(const HeatReport& report, std::vector<std::string>& sentences) {
    std::vector<std::string> near_side;
    std::vector<std::string> far_side;
    for (const NeighbourReport& near : report.neighbours)
        if (near.may_float) (near.far_side ? far_side : near_side).push_back(near.name);
    if (!near_side.empty()) sentences.push_back(fmt::format("{} may float: do not touch or blow.", listed(near_side)));
    if (!far_side.empty())
        sentences.push_back(fmt::format("{} on the far side may come loose and drop: support or tape {}.",
                                        listed(far_side), far_side.size() == 1 ? "it" : "them"));
}

Diagnostic caution(std::string code, std::string message, Severity severity = Severity::Warning,
                   std::string target = {}) {
    return {severity, std::move(code), std::move(message), "", std::move(target)};
}

void add_material_cautions(const HeatSetup& setup, const HeatReport& report, Diagnostics& out) {
    for (const NeighbourReport& near : report.neighbours) {
        const std::string_view kind = caution_of(setup, near.source);
        if (kind == "take-out")
            out.push_back(
                caution("take-out",
                        fmt::format("{} must come off the board before any heat; never shield it only. Lithium cells "
                                    "may burn, capacitors hold charge.",
                                    near.name),
                        Severity::Fault, near.source.text));
        else if (kind == "port" && near.gap_mm < kPortReach_mm && !near.far_side)
            out.push_back(caution("port",
                                  fmt::format("Cover the port of {}: no air, flux or wash may enter it.", near.name),
                                  Severity::Warning, near.source.text));
        else if (kind == "unknown-plastic" && near.peak_c.high >= kPlasticWorry_c)
            out.push_back(
                caution("unknown-plastic",
                        fmt::format("The plastic of {} is not known; it is taken as soft as PBT. State its material "
                                    "or its maker's limit.",
                                    near.name),
                        Severity::Warning, near.source.text));
        else if (kind == "fumes" && near.peak_c.high >= kPlasticWorry_c)
            out.push_back(
                caution("coating-fumes",
                        fmt::format("{} gives off harmful vapour when hot: extract it or take the coating off first.",
                                    near.name),
                        Severity::Warning, near.source.text));
    }
}

bool holds_charge(PartClass part_class) {
    return part_class == PartClass::AluminiumCapacitor || part_class == PartClass::Supercapacitor ||
           part_class == PartClass::FilmCapacitor || part_class == PartClass::PolymerCapacitor ||
           part_class == PartClass::TantalumCapacitor;
}

void add_solder_cautions(const HeatSetup& setup, Diagnostics& out) {
    if (setup.mixture.bismuth_with_lead)
        out.push_back(
            caution("bismuth-with-lead",
                    "Bismuth and lead in one joint can melt near 96 C. Wick it all away and tin anew before the "
                    "board goes back into service.",
                    Severity::Fault));
    if (setup.mixture.needs_cleaning)
        out.push_back(
            caution("low-melt-cleaning",
                    "Low-melt alloy: clean the lands of it before the part is soldered back. It must be stirred in; "
                    "where it is not, the joint melts later than computed."));
    if (setup.alloy.lead_percent > 0.0)
        out.push_back(caution("lead", "The solder holds lead: wash hands, no food at the bench, bag the waste."));
}

std::string cell_phrase(double value) {
    return fmt::format("{:.0f}", value);
}

void add_jet_remarks(const HeatSetup& setup, const HeatReport& report, Diagnostics& out) {
    const auto note = [&](const char* code, std::string text) {
        out.push_back({Severity::Warning, code, std::move(text), "", ""});
    };
    if (report.jet.reynolds < kLeastReynolds)
        note("low-flow",
             fmt::format("So little air through this bore lies outside the measured range (Reynolds number {}, "
                         "from 2000): trust the result less.",
                         cell_phrase(report.jet.reynolds)));
    if (report.jet.stand_off_ratio < kLeastStandOffRatio || report.jet.stand_off_ratio > kLargestStandOffRatio)
        note("stand-off-ratio",
             fmt::format("The stand-off is {:.1f} bores; measured are 2 to 12. The nearest of them is used.",
                         report.jet.stand_off_ratio));
    const double far = kLargestRadiusRatio * setup.plan.nozzle_bore_mm;
    const bool far_matters = std::any_of(report.neighbours.begin(), report.neighbours.end(), [&](const auto& near) {
        return near.limit_c && near.gap_mm > far && near.margin_k.low < 30.0;
    });
    if (far_matters)
        note("far-field",
             fmt::format("A part more than {:.0f} mm from the axis comes near its limit; the air is measured up to "
                         "7.9 bores only, farther out its formula is carried on.",
                         far));
    if (!geometry::contains(setup.layout.board, setup.plan.aim))
        note("aim-off-board",
             "The aim lies off the board: air that goes over the edge heats from both sides, which is left out.");
    for (const HeatBody& body : setup.layout.bodies) {
        if (!body.is_in_the_air() || body.source == setup.plan.target ||
            body.data.height_m * 1e3 < setup.plan.stand_off_mm / 2.0)
            continue;
        for (const NeighbourReport& near : report.neighbours)
            if (near.source == body.source && near.gap_mm < 3.0 * setup.plan.nozzle_bore_mm)
                out.push_back({Severity::Warning, "tall-neighbour",
                               near.name + " stands tall beside the jet and turns the air aside, which is left out.",
                               "", near.source.text});
    }
}

void add_ramp_remarks(const HeatSetup& setup, const HeatReport& report, Diagnostics& out) {
    const Band& ramp = report.target.ramp_k_per_s;
    if (ramp.high > kRampLimit_k_per_s)
        out.push_back(
            {Severity::Note, "fast-ramp",
             fmt::format("The joints warm by {:.0f} to {:.0f} K/s at first; an oven is held to 3 K/s (J-STD-020). "
                         "Preheat, or come down slowly.",
                         ramp.low, ramp.high),
             "", setup.plan.target.text});
    std::vector<std::string> over;
    double worst = 0.0;
    for (const NeighbourReport& near : report.neighbours)
        for (const WatchedNeighbour& watch : setup.neighbours)
            if (watch.source == near.source && watch.part_class == PartClass::CeramicCapacitor &&
                near.ramp_k_per_s.high > kCeramicAdvised_k_per_s) {
                over.push_back(near.name);
                worst = std::max(worst, near.ramp_k_per_s.high);
            }
    if (!over.empty())
        out.push_back(
            {worst > kCeramicLimit_k_per_s ? Severity::Warning : Severity::Note, "ceramic-ramp",
             fmt::format("{} may warm by up to {:.0f} K/s; makers of ceramic capacitors advise 2 and allow 4: cracks "
                         "are not seen from outside.",
                         listed(over), worst),
             "", ""});
}

} // namespace

std::string listed(const std::vector<std::string>& names) {
    std::string text;
    const std::size_t shown = std::min(names.size(), kMostNames);
    for (std::size_t k = 0; k < shown; ++k) {
        if (k > 0) text += k + 1 == names.size() ? " and " : ", ";
        text += names[k];
    }
    if (names.size() > shown) text += fmt::format(" and {} more", names.size() - shown);
    return text;
}

std::vector<std::string> heat_sentences(const HeatSetup& setup, const HeatReport& report) {
    std::vector<std::string> sentences;
    const bool is_hopeless = report.target.verdict == MeltVerdict::WillNotMelt;
    add_take_out(setup, report, sentences);
    if (is_hopeless) sentences.push_back(melt_sentence(report));
    add_neighbours(setup, report, sentences);
    if (report.laminate != NeighbourVerdict::Safe)
        sentences.push_back(
            fmt::format("The board itself may blister: its face reaches {} C. Raise the nozzle or lower the set point.",
                        to_text(report.laminate_peak_c)));
    const bool all_spared = sentences.empty();
    if (!is_hopeless) sentences.push_back(melt_sentence(report));
    if (all_spared && !is_hopeless)
        sentences.push_back("Everything near it stays below its limit, also in the hot case.");
    add_floating(report, sentences);
    return sentences;
}

Diagnostics heat_cautions(const document::Chart& chart, const HeatSetup& setup, const HeatReport& report) {
    Diagnostics out;
    add_material_cautions(setup, report, out);
    add_solder_cautions(setup, out);
    const bool charged = std::any_of(chart.parts.begin(), chart.parts.end(), [](const auto& part) {
        return holds_charge(part.part_class) && stands_on_board(part);
    });
    if (charged)
        out.push_back(caution("stored-charge",
                              "Capacitors may hold charge: power and cell off, bleed through a resistor, measure, "
                              "then touch. Leave mains-side work to a licensed person."));
    if (setup.plan.dwell_s > kLongDwell_s)
        out.push_back(caution("long-dwell", "More than 90 s of air in one go: stop, let it cool, think again."));
    out.push_back(
        caution("fumes",
                "Flux, tape and hot plastic give off fumes that harm the lungs: use extraction, keep your head "
                "out of the plume.",
                Severity::Note));
    out.push_back(caution("estimate",
                          "An estimate, not a measurement: check with a thermocouple. Local rules and the part maker's "
                          "sheet win.",
                          Severity::Note));
    return out;
}

std::span<const std::string_view> heat_simplifications() {
    static constexpr std::string_view kList[] = {
        "One temperature through the board's thickness, with a correction for the face under the air.",
        "Copper is spread evenly over the board but for drawn copper areas; the same sideways in every direction.",
        "The board's heat capacity does not change with temperature.",
        "Solder takes no heat to melt: some 3 degrees for a small joint.",
        "The jet is upright, alone and not turned aside by tall parts; a tilted nozzle is not in the model.",
        "Inside 2.5 bores of the axis the shape of the heat transfer is assumed, its mean is measured (Martin).",
        "How far room air cools the jet along the board is a formula of this program, with a range.",
        "Nothing leads heat into the vice, a clamp or a table.",
        "Parts are lumps on either face of the board; what stands under a shield can takes heat from the board and the "
        "can only, which is taken as closed.",
        "Plastics fail by temperature alone: no moisture, no stress, no time.",
        "A shield leaves a fifth of the air's heat transfer, a tenth to two fifths; a bent or loose one is not in the "
        "model."};
    return kList;
}

Diagnostics heat_remarks(const HeatSetup& setup, const HeatReport& report) {
    Diagnostics out = setup.layout.remarks;
    out.insert(out.end(), setup.remarks.begin(), setup.remarks.end());
    if (setup.board.is_assumed)
        out.push_back(
            {Severity::Warning, "board-assumed",
             "Neither layer count nor conductivity of the board is stated: the band is as wide as boards differ.", "",
             ""});
    if (report.is_calibrated)
        out.push_back(
            {Severity::Note, "calibrated",
             fmt::format("Narrowed by thermocouple readings{}: joints {:.0f} degrees either way, neighbours {:.0f}.",
                         report.station.empty() ? "" : " of \"" + report.station + "\"",
                         setup.options.calibration->joint_band, setup.options.calibration->neighbour_band),
             "", setup.plan.station.text});
    else
        out.push_back({Severity::Note, "uncalibrated",
                       "No thermocouple reading stands behind this station: the band is wide. One reading on a scrap "
                       "board narrows it most.",
                       "", ""});
    if (!setup.layout.spread.empty())
        out.push_back(
            {Severity::Note, "copper-areas", "Drawn copper areas change how the board spreads the heat.", "", ""});
    add_jet_remarks(setup, report, out);
    add_ramp_remarks(setup, report, out);
    if (setup.plan.low_melt_fraction > 0.0)
        out.push_back(
            {Severity::Note, "mixed-alloy",
             fmt::format("With {:.0f} % low-melt alloy the joint starts to melt at {:.0f} C and is liquid at {:.0f} C: "
                         "not at 138 unless nearly all of it is low-melt. Good within some 5 K, if stirred in.",
                         100.0 * setup.plan.low_melt_fraction, setup.mixture.solidus_c, setup.mixture.liquidus_c),
             "", ""});
    if (setup.plan.target.is_empty())
        out.push_back({Severity::Note, "no-target",
                       "The plan names no part: the spot of 1 mm radius under the nozzle stands for it.", "", ""});
    return out;
}

} // namespace padchart::analysis
