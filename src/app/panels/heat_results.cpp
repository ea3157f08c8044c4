// What the estimate says: bands against limits, who may float, sentences and cautions.

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "app/heat_standing.hpp"
#include "app/panels/heat_parts.hpp"
#include "app/panels/heat_widgets.hpp"
#include "base/counted.hpp"
#include "patterns/labels.hpp"
#include "scene/cautions.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using analysis::Band;
using analysis::HeatReport;
using analysis::MeltVerdict;
using analysis::NeighbourReport;
using analysis::NeighbourVerdict;

constexpr std::size_t kMostDelicate = 3;
constexpr std::size_t kMostNames = 4;

const HeatReport* second_report(const Session& s) {
    const Estimate* second = s.heat.second();
    return second != nullptr && second->report ? &*second->report : nullptr;
}

Tone tone_of(MeltVerdict verdict) {
    return verdict == MeltVerdict::Melts       ? Tone::Fine
           : verdict == MeltVerdict::Uncertain ? Tone::Unknown
                                               : Tone::Danger;
}

Tone tone_of(NeighbourVerdict verdict) {
    return verdict == NeighbourVerdict::Safe ? Tone::Fine : Tone::Danger;
}

BandRow joints_row(const HeatReport& report, const HeatReport* second) {
    const analysis::TargetReport& target = report.target;
    BandRow row;
    row.name = (target.name.empty() ? "Spot" : target.name + " joints") + std::string(" (coldest)");
    row.band = target.peak_mean_c;
    if (second != nullptr) row.second = second->target.peak_mean_c;
    row.tick_c = target.liquidus_c;
    row.tick_words = fmt::format("liquid at {:.0f} °C", target.liquidus_c);
    row.tone = tone_of(target.verdict);
    row.verdict = analysis::to_text(target.verdict);
    return row;
}

std::string neighbour_name(const Session& s, const NeighbourReport& near) {
    const auto at = document::find_part(s.editor.chart(), near.source);
    if (!at || near.is_keep_out) return near.name;
    const document::PartClass part_class = s.editor.chart().parts[*at].part_class;
    if (part_class == document::PartClass::Unknown) return near.name;
    const std::string label(patterns::label_of(part_class));
    // "LED1" says what it is.
    return near.name.starts_with(label) ? near.name : near.name + " " + label;
}

BandRow neighbour_row(const Session& s, const NeighbourReport& near, const HeatReport* second) {
    BandRow row;
    row.name = neighbour_name(s, near);
    row.band = near.peak_c;
    if (second != nullptr)
        for (const NeighbourReport& other : second->neighbours)
            if (other.source == near.source) row.second = other.peak_c;
    if (row.second) row.name = near.name; // two bands leave no room for more
    row.tick_c = near.limit_c;
    if (near.limit_c) row.tick_words = fmt::format("limit {:.0f} °C", *near.limit_c);
    row.tone = tone_of(near.verdict);
    row.verdict = analysis::to_text(near.verdict);
    if (near.far_side) row.verdict += ", far side";
    if (near.shielded) row.verdict += near.shield_share > 0.9 ? ", shielded" : ", partly shielded";
    return row;
}

/// Delicate ones by their margin, and the worst of those that are made for a reflow where it passes its limit.
std::vector<const NeighbourReport*> relevant(const HeatReport& report) {
    std::vector<const NeighbourReport*> chosen;
    for (const NeighbourReport& near : report.neighbours)
        if (near.delicate && near.limit_c && chosen.size() < kMostDelicate) chosen.push_back(&near);
    const auto sturdy = std::find_if(report.neighbours.begin(), report.neighbours.end(), [](const auto& near) {
        return !near.delicate && near.limit_c && near.verdict != NeighbourVerdict::Safe;
    });
    if (sturdy != report.neighbours.end()) chosen.push_back(&*sturdy);
    return chosen;
}

std::vector<const NeighbourReport*> floaters(const HeatReport& report) {
    std::vector<const NeighbourReport*> list;
    for (const NeighbourReport& near : report.neighbours)
        if (near.may_float) list.push_back(&near);
    std::sort(list.begin(), list.end(),
              [](const auto* a, const auto* b) { return a->joint_peak_c.high > b->joint_peak_c.high; });
    return list;
}

std::string names_of(const std::vector<const NeighbourReport*>& list, std::size_t most) {
    std::string text;
    for (std::size_t i = 0; i < std::min(list.size(), most); ++i)
        text += (i > 0 ? ", " : "") + list[i]->name;
    if (list.size() > most) text += fmt::format(" + {}", list.size() - most);
    return text;
}

BandRow floaters_row(const std::vector<const NeighbourReport*>& list, double liquidus_c) {
    BandRow row;
    row.name = names_of(list, kMostNames);
    row.band = list.front()->joint_peak_c;
    for (const NeighbourReport* near : list) {
        row.band.low = std::min(row.band.low, near->joint_peak_c.low);
        row.band.high = std::max(row.band.high, near->joint_peak_c.high);
    }
    row.tick_c = liquidus_c;
    row.tick_words = "do not touch or blow";
    row.tone = Tone::Unknown;
    row.verdict = "may float";
    return row;
}

BandScale scale_of(const HeatReport& report, const HeatReport* second, bool pale, Standing standing) {
    BandScale scale;
    double most = 300.0;
    for (const HeatReport* one : {&report, second}) {
        if (one == nullptr) continue;
        most = std::max(most, one->target.peak_mean_c.high);
        for (const NeighbourReport* near : relevant(*one))
            most = std::max(most, near->peak_c.high);
    }
    scale.high_c = std::ceil((most + 10.0) / 50.0) * 50.0;
    scale.pale = pale;
    scale.sign = sign_of(standing);
    return scale;
}

/// The line over the bands is there in any case, so that nothing moves when the numbers become final.
std::string peak_words(Standing standing) {
    return standing == Standing::Final ? "Estimated peak, low – high" : "≈ " + in_words(standing) + ":";
}

void bullets(Ui& ui, const std::vector<std::string>& sentences, Tone tone, Standing standing) {
    for (const std::string& sentence : sentences) {
        const ImVec2 at = ImGui::GetCursorPos();
        dot(ui, tone, false);
        ImGui::SetCursorPos({at.x + ui.px(20), at.y});
        wrapped(ui, with_signs(scene::with_degrees(sentence), standing));
    }
}

std::vector<std::string> messages_of(const Diagnostics& findings) {
    std::vector<std::string> list;
    for (const Diagnostic& finding : findings)
        list.push_back(finding.message);
    return list;
}

} // namespace

void heat_bands(Ui& ui, Session& s, const HeatReport& report) {
    const HeatReport* second = second_report(s);
    const Standing standing = standing_of(s.heat, s.editor.snapshot());
    const BandScale scale = scale_of(report, second, s.heat.is_stale(), standing);
    muted(ui, peak_words(standing) + (second == nullptr ? "" : " (thin blue: the plan compared with)"));
    band_row(ui, joints_row(report, second), scale);
    for (const NeighbourReport* near : relevant(report))
        if (band_row(ui, neighbour_row(s, *near, second), scale) && !near->is_keep_out)
            s.go_to(document::Id(near->source));
    const std::vector<const NeighbourReport*> list = floaters(report);
    if (!list.empty()) band_row(ui, floaters_row(list, report.target.liquidus_c), scale);
}

void heat_words(Ui& ui, Session& s, const HeatReport& report) {
    const std::size_t more = report.sentences.size() - std::min<std::size_t>(report.sentences.size(), 1);
    const std::string summary = fmt::format("{} to mind, {}", more, counted(report.cautions.size(), "caution"));
    if (!section(ui, "What else to mind", summary, s.heat_view.words)) return;
    const Standing standing = standing_of(s.heat, s.editor.snapshot());
    bullets(ui, {report.sentences.begin() + (report.sentences.empty() ? 0 : 1), report.sentences.end()}, Tone::Danger,
            standing);
    bullets(ui, messages_of(report.cautions), Tone::Danger, standing);
    const std::vector<const NeighbourReport*> list = floaters(report);
    if (!list.empty()) {
        title(ui, fmt::format("May float: {}", list.size()));
        wrapped(ui, names_of(list, list.size()));
    }
    if (!report.remarks.empty()) title(ui, "What was assumed");
    for (const Diagnostic& remark : report.remarks)
        muted(ui, scene::with_degrees(remark.message));
    title(ui, "What the model leaves out");
    for (const std::string_view sentence : analysis::heat_simplifications())
        muted(ui, sentence);
    muted(ui, scene::kAidNotApproval);
}

} // namespace padchart::app
