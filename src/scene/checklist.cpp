#include "scene/checklist.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "analysis/check.hpp"
#include "analysis/fit.hpp"
#include "analysis/sweep.hpp"
#include "document/things.hpp"
#include "patterns/alloy.hpp"
#include "scene/words.hpp"

namespace padchart::scene {

using document::Chart;
using document::Footprint;
using document::Id;
using document::KeepOut;
using document::KeepOutReason;
using document::Measure;
using document::PartClass;
using document::Presence;
using document::Tick;

namespace {

std::string name_or(const std::string& name, std::string_view otherwise) {
    return name.empty() ? std::string(otherwise) : name;
}

/// "U4, C7 and R2"; many are cut short.
std::string listed(const std::vector<std::string>& names) {
    constexpr std::size_t kMost = 6;
    std::string text;
    const std::size_t shown = std::min(names.size(), kMost);
    for (std::size_t i = 0; i < shown; ++i) {
        const bool is_last = i + 1 == names.size();
        if (i > 0) text += is_last ? " and " : ", ";
        text += names[i];
    }
    if (names.size() > kMost) text += fmt::format(" and {} more", names.size() - kMost);
    return text;
}

bool is_connector(const Footprint& part) {
    switch (part.part_class) {
    case PartClass::BoardConnector:
    case PartClass::FlatCableConnector:
    case PartClass::CardSocket:
    case PartClass::Receptacle:
    case PartClass::Connector: return true;
    default: return false;
    }
}

bool has_port(const Footprint& part) {
    return part.part_class == PartClass::Microphone || part.part_class == PartClass::Buzzer ||
           part.part_class == PartClass::Sensor || part.part_class == PartClass::Camera;
}

class Lister {
public:
    explicit Lister(const Chart& chart) : chart_(chart) {
        for (const Footprint& part : chart.parts)
            if (!chart.heat_plans.empty() && analysis::in_heat_area(chart, part)) heated_.push_back(&part);
        for (const document::HeatPlan& plan : chart.heat_plans)
            if (const auto at = document::find_part(chart, plan.target)) add_target(chart.parts[*at]);
    }

    std::vector<ChecklistEntry> list() {
        covers_off();
        joints();
        back_in_place();
        far_side_connectors();
        cleaning();
        before_power();
        comparison();
        own_entries();
        return std::move(list_);
    }

private:
    /// Several plans may be of one part.
    void add_target(const Footprint& part) {
        if (std::find(targets_.begin(), targets_.end(), &part) == targets_.end()) targets_.push_back(&part);
    }

    void add(std::string_view task, const Id& target, std::string text, std::string reason) {
        ChecklistEntry entry;
        entry.task = task;
        entry.target = target;
        entry.text = std::move(text);
        entry.reason = std::move(reason);
        if (const Tick* tick = tick_of(task, target)) take(*tick, entry);
        list_.push_back(std::move(entry));
    }

    [[nodiscard]] const Tick* tick_of(std::string_view task, const Id& target) const {
        for (const Tick& tick : chart_.ticks)
            if (tick.task == task && tick.target == target) return &tick;
        return nullptr;
    }

    static void take(const Tick& tick, ChecklistEntry& entry) {
        entry.tick = tick.id;
        entry.done = tick.done;
        entry.by = tick.by;
        entry.date = tick.date;
        entry.note = tick.note;
    }

    [[nodiscard]] std::string heated_names() const {
        std::vector<std::string> names;
        for (const Footprint* part : heated_)
            if (!part->name.empty()) names.push_back(part->name);
        return listed(names);
    }

    void covers_off() {
        for (const document::Shield& shield : chart_.shields)
            add("shield-off", shield.id,
                fmt::format("Take {} off the board.", name_or(shield.name, "the shield without a name")),
                fmt::format("{} was laid on the {} side", plain_words(shield.kind), plain_words(shield.side)));
        for (const KeepOut& keep_out : chart_.keep_outs)
            if (keep_out.measure == Measure::Shielded)
                add("tape-off", keep_out.id,
                    fmt::format("Take tape and shields off {}.", name_or(keep_out.name, plain_words(keep_out.reason))),
                    "it was shielded from the heat");
        for (const Footprint* part : heated_)
            if (has_port(*part) && !is_absent(*part))
                add("port-open", part->id,
                    fmt::format("Look that the opening of {} is free and clean.", name_or(part->name, "the part")),
                    "it lies in the heat area; never blow air or wash into it");
    }

    void joints() {
        const std::string near = heated_names();
        const std::string where = near.empty() ? "" : "the heat reached " + near;
        add("bridges", {}, "Look for bridges and solder balls, under the bodies too.", where);
        add("joints", {}, "Look that every joint has wetted and nothing sits lifted, skewed or on end.", where);
        add("lands", {}, "Look for lifted or torn lands, burnt mask and blisters.",
            "prising, dragging braid and long heat do this");
        for (const Footprint* part : targets_)
            if (part->orientation.state == document::RecordState::Recorded)
                add("way-round", part->id,
                    fmt::format("{}: the mark is {}.", name_or(part->name, "The part"), mark_place(*part)),
                    fmt::format("on record: {}", mark_and_meaning(part->orientation)));
            else if (const std::string risk = risk_of_turning(*part); !risk.empty())
                add("find-way-round", part->id,
                    fmt::format("{}: which way round it goes is not on record: find out before power.",
                                name_or(part->name, "The part")),
                    risk);
    }

    /// What may come of a part without a record; empty where no turn matters, or it seats in one way only.
    [[nodiscard]] std::string risk_of_turning(const Footprint& part) const {
        const analysis::PartFit fit = analysis::fit_of(part, analysis::measuring_uncertainty(chart_));
        if (fit.needs_record) return "it " + analysis::risk_in_words(fit);
        const bool is_open = !fit.is_complete && fit.consequence != analysis::Consequence::NoEffect;
        return is_open ? "its pads are not all drawn, so nothing tells that it seats in one way only" : "";
    }

    void back_in_place() {
        for (const Footprint& part : chart_.parts)
            if (part.condition.presence == Presence::Removed && !is_cell(part))
                add("part-back", part.id,
                    fmt::format("Put {} back, or say that it stays off.", name_or(part.name, "the removed part")),
                    "the chart says it was taken off");
        for (const KeepOut& keep_out : chart_.keep_outs)
            if (keep_out.measure == Measure::Removed && keep_out.reason != KeepOutReason::Cell)
                add("keep-out-back", keep_out.id,
                    fmt::format("Put back what was taken off for the heat: {}.",
                                name_or(keep_out.name, plain_words(keep_out.reason))),
                    "it was taken off for the heat");
    }

    /// A connector on the side the air did not come from is heated from behind, unseen.
    void far_side_connectors() {
        for (const Footprint* part : heated_) {
            const bool is_far =
                std::any_of(chart_.heat_plans.begin(), chart_.heat_plans.end(),
                            [&](const document::HeatPlan& plan) { return plan.side != part->placement.side; });
            if (is_far && is_connector(*part) && !is_absent(*part))
                add("connector-seated", part->id,
                    fmt::format("Reseat {} and look at its latch and joints.", name_or(part->name, "the connector")),
                    "heat reached it through the board");
        }
    }

    void cleaning() {
        bool low_melt = false, with_lead = false;
        for (const document::HeatPlan& plan : chart_.heat_plans) {
            const auto alloy = patterns::find_alloy(plan.alloy);
            const bool has_bismuth = alloy && alloy->bismuth_percent > 0;
            low_melt = low_melt || plan.low_melt_fraction > 0 || has_bismuth;
            with_lead = with_lead || (alloy && alloy->lead_percent > 0 && (plan.low_melt_fraction > 0 || has_bismuth));
        }
        if (low_melt)
            add("low-melt-residue", {}, "Wick every trace of low-melt alloy off the lands before new solder goes on.",
                with_lead ? "mixed with leaded solder a joint may melt near 96 °C and open in service"
                          : "what is left of it makes the new joint melt early and brittle");
        add("flux", {}, "Clean off the flux and look again under magnification.", "residue hides cracks and bridges");
    }

    void before_power() {
        bool any = false;
        for (const document::Reading& reading : chart_.readings) {
            if (reading.board != document::WhichBoard::ThisBoard || reading.power == document::PowerState::On) continue;
            any = true;
            add("reading-again", reading.id, fmt::format("Measure again without power: {}.", point_of(reading)),
                fmt::format("it was {}", value_in_words(reading)));
        }
        if (!any)
            add("readings", {}, "Measure each supply to ground without power before any power goes on.",
                "the chart holds no reading to compare with");
        for (const Footprint& part : chart_.parts)
            if (is_cell(part) && is_absent(part))
                add("cell-back", part.id,
                    fmt::format("The cell {} goes back last, after the readings and on a cold board.",
                                name_or(part.name, "without a name")),
                    "it was taken out for the heat");
        for (const KeepOut& keep_out : chart_.keep_outs)
            if (keep_out.measure == Measure::Removed && keep_out.reason == KeepOutReason::Cell)
                add("cell-back", keep_out.id,
                    fmt::format("The cell ({}) goes back last, after the readings and on a cold board.",
                                name_or(keep_out.name, "keep-out without a name")),
                    "it was taken out for the heat");
    }

    void comparison() {
        std::size_t looked_at = 0;
        for (const Tick& tick : chart_.ticks)
            if (tick.task == analysis::kSameAsBefore) ++looked_at;
        add("compared", {}, "Compare every part with how it was before.",
            fmt::format("{} of {} parts looked at again so far", std::min(looked_at, chart_.parts.size()),
                        chart_.parts.size()));
    }

    void own_entries() {
        for (const Tick& tick : chart_.ticks) {
            if (tick.task == analysis::kSameAsBefore) continue;
            const bool asked_for = std::any_of(list_.begin(), list_.end(), [&](const ChecklistEntry& entry) {
                return entry.task == tick.task && entry.target == tick.target;
            });
            if (asked_for && tick.task != kOwnTask) continue;
            ChecklistEntry entry;
            entry.task = tick.task;
            entry.target = tick.target;
            take(tick, entry);
            const bool is_own = tick.task == kOwnTask && !tick.note.empty();
            entry.text = is_own ? tick.note : plain_task(tick);
            if (is_own) entry.note.clear();
            list_.push_back(std::move(entry));
        }
    }

    [[nodiscard]] std::string plain_task(const Tick& tick) const {
        std::string text = tick.task;
        std::replace(text.begin(), text.end(), '-', ' ');
        if (const auto at = document::find_part(chart_, tick.target))
            text += " (" + name_or(chart_.parts[*at].name, "a part") + ")";
        return text;
    }

    /// By its sign on the map: two points of one board may well be told by the same words.
    [[nodiscard]] std::string point_of(const document::Reading& reading) const {
        std::string text = document::pin_name(chart_, reading.id) + ", " + plain_words(reading.quantity);
        if (const auto at = document::find_part(chart_, reading.target))
            text += " at " + name_or(chart_.parts[*at].name, "a part without a name");
        if (!reading.pad.empty()) text += " pad " + reading.pad;
        return text + (reading.reference.empty() ? "" : " to " + reading.reference);
    }

    static bool is_cell(const Footprint& part) { return part.part_class == PartClass::Cell; }

    const Chart& chart_;
    std::vector<const Footprint*> heated_;
    std::vector<const Footprint*> targets_;
    std::vector<ChecklistEntry> list_;
};

} // namespace

std::vector<ChecklistEntry> checklist_of(const Chart& chart) {
    return Lister(chart).list();
}

} // namespace padchart::scene
