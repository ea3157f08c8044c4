#include "scene/sheet_tables.hpp"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

#include "analysis/clearance.hpp"
#include "patterns/labels.hpp"
#include "patterns/material.hpp"
#include "scene/cautions.hpp"
#include "scene/checklist.hpp"
#include "scene/words.hpp"

namespace padchart::scene {

using document::Chart;
using document::Footprint;
using document::Id;
using document::Side;

namespace {

constexpr std::size_t kNearestGaps = 6;

std::string or_dash(const std::string& text) {
    return text.empty() ? "–" : text;
}

void append(std::string& text, std::string_view separator, std::string_view more) {
    if (more.empty()) return;
    if (!text.empty()) text += separator;
    text += more;
}

std::string name_of(const Chart& chart, const Id& id) {
    if (const auto part = document::find_part(chart, id)) {
        const std::string& name = chart.parts[*part].name;
        return name.empty() ? "part without a name" : name;
    }
    for (const document::KeepOut& keep_out : chart.keep_outs)
        if (keep_out.id == id) return keep_out.name.empty() ? plain_words(keep_out.reason) : keep_out.name;
    return "–";
}

std::string as_sentence(std::string text) {
    if (text.empty()) return text;
    if (text.front() >= 'a' && text.front() <= 'z') text.front() = static_cast<char>(text.front() - 'a' + 'A');
    if (text.back() != '.') text += '.';
    return text;
}

std::string side_in_words(Side side) {
    return side == Side::Top ? "top" : "bottom";
}

std::string limit_in_words(const Footprint& part) {
    const std::optional<patterns::HeatLimits> limits = patterns::limits_of(part);
    if (!limits) return "–";
    return celsius(limits->limit_c) + (limits->delicate ? " !" : "");
}

std::string mark_in_words(const Footprint& part, const analysis::PartFit* fit) {
    const document::Orientation& orientation = part.orientation;
    if (orientation.state == document::RecordState::Recorded) {
        std::string text = mark_place(part) + ": " + mark_and_meaning(orientation);
        if (orientation.evidence.kind != document::EvidenceKind::NotStated)
            text += fmt::format(" ({})", patterns::label_of(orientation.evidence.kind));
        return text;
    }
    if (fit == nullptr) return mark_and_meaning(orientation);
    if (orientation.state == document::RecordState::NoMark)
        return "no mark to be seen" + std::string(fit->needs_record ? ", could go back wrong" : "");
    return fit->needs_record ? "UNKNOWN, could go back wrong" : "not needed";
}

const analysis::PartFit* fit_of_part(const Reports& reports, const Id& id) {
    if (reports.fit == nullptr) return nullptr;
    const auto& parts = reports.fit->parts;
    const auto found =
        std::find_if(parts.begin(), parts.end(), [&](const analysis::PartFit& fit) { return fit.part == id; });
    return found == parts.end() ? nullptr : &*found;
}

std::string value_and_role(const Footprint& part) {
    std::string text = part.value;
    append(text, "; ", part.role);
    return or_dash(text);
}

void write_cautions(Blocks& writer, const Chart& chart) {
    writer.heading("Cautions");
    for (const std::string& caution : cautions_for(chart))
        writer.caution(caution);
    writer.strong(kAidNotApproval);
    writer.heading("What is not mapped");
    writer.paragraph(chart.title.not_mapped.empty() ? "Not stated: take nothing for empty that is empty on this sheet."
                                                    : as_sentence(chart.title.not_mapped));
}

void write_parts(Blocks& writer, const Chart& chart, const Reports& reports) {
    writer.heading(fmt::format("Parts ({})", chart.parts.size()));
    writer.muted("Place of the mark as seen from the part's own side, this sheet upright. \"!\": protect from heat.");
    const std::vector<Column> columns{{"Name", 0.7, true}, {"Side", 0.6}, {"Value, role", 1.7},
                                      {"Class", 1.4},      {"Pads", 0.4}, {"Mark and meaning", 1.9},
                                      {"Condition", 1.2},  {"Limit", 0.9}};
    std::vector<Row> rows;
    for (const Footprint& part : chart.parts)
        rows.push_back({or_dash(part.name), side_in_words(part.placement.side), value_and_role(part),
                        in_words(part.part_class), std::to_string(document::pad_count(part)),
                        mark_in_words(part, fit_of_part(reports, part.id)), condition_in_words(part),
                        limit_in_words(part)});
    writer.table(columns, rows);
}

std::string measure_in_words(document::Measure measure) {
    return measure == document::Measure::None ? "none yet" : plain_words(measure);
}

void write_keep_outs(Blocks& writer, const Chart& chart) {
    if (chart.keep_outs.empty() && chart.shields.empty()) return;
    writer.heading("Keep heat out, and what is done about it");
    std::vector<Row> rows;
    for (const document::KeepOut& keep_out : chart.keep_outs) {
        const patterns::HeatLimits limits = patterns::limits_of(keep_out);
        rows.push_back({or_dash(keep_out.name),
                        side_in_words(keep_out.side) + (keep_out.through_board ? " and through the board" : ""),
                        plain_words(keep_out.reason), celsius(limits.limit_c),
                        keep_out.height_mm ? number(*keep_out.height_mm, 1) + " mm" : "–",
                        measure_in_words(keep_out.measure), or_dash(keep_out.note)});
    }
    for (const document::Shield& shield : chart.shields)
        rows.push_back({or_dash(shield.name), side_in_words(shield.side), "shield", "–", "–", plain_words(shield.kind),
                        or_dash(shield.note)});
    writer.table({{"Name", 1.3, true},
                  {"Side", 0.8},
                  {"Reason", 1.2},
                  {"Limit", 0.8},
                  {"Height", 0.8},
                  {"Measure", 1.1},
                  {"Note", 2.2}},
                 rows);
}

std::string targets_shields(const Chart& chart, const document::HeatPlan& plan) {
    std::string text;
    for (const document::Shield& shield : chart.shields)
        if (std::find(plan.shields.begin(), plan.shields.end(), shield.id) != plan.shields.end())
            append(text, ", ", shield.name.empty() ? plain_words(shield.kind) : shield.name);
    return or_dash(text);
}

std::string alloy_in_words(const document::HeatPlan& plan) {
    if (plan.low_melt_fraction <= 0.0) return plan.alloy;
    return fmt::format("{} with {} % low-melt", plan.alloy, number(plan.low_melt_fraction * 100.0, 0));
}

void write_plans(Blocks& writer, const Chart& chart) {
    if (chart.heat_plans.empty()) return;
    writer.heading("Heat plans");
    std::vector<Row> rows;
    for (const document::HeatPlan& plan : chart.heat_plans) {
        const std::string air = fmt::format("{}, {} L/min", celsius(plan.set_point_c), number(plan.flow_l_per_min, 1));
        const std::string nozzle = fmt::format("{} mm bore, {} mm above the board", number(plan.nozzle_bore_mm, 1),
                                               number(plan.stand_off_mm, 1));
        rows.push_back({name_of(chart, plan.target), or_dash(plan.name), side_in_words(plan.side), air, nozzle,
                        plan.preheat_c ? celsius(*plan.preheat_c) : "none", number(plan.dwell_s, 0) + " s",
                        alloy_in_words(plan), targets_shields(chart, plan)});
        if (!plan.note.empty()) rows.back()[1] += ": " + plan.note;
    }
    writer.table({{"Target", 0.8, true},
                  {"Plan", 1.2},
                  {"Side", 0.75},
                  {"Air", 1.0},
                  {"Nozzle", 1.2},
                  {"Preheat", 0.9},
                  {"Dwell", 0.75},
                  {"Alloy", 1.0},
                  {"Shields", 1.1}},
                 rows);
}

/// To be ticked off by hand, each with who did it; what the chart says is done already says so.
void write_checklist(Blocks& writer, const Chart& chart) {
    const std::vector<ChecklistEntry> entries = checklist_of(chart);
    if (entries.empty()) return;
    writer.heading("After rework, before the power");
    std::vector<Row> rows;
    for (const ChecklistEntry& entry : entries) {
        std::string what = entry.text;
        if (!entry.reason.empty()) what += " (" + entry.reason + ")";
        append(what, "; ", entry.note == entry.text ? "" : entry.note);
        std::string done = entry.done ? "done" : "";
        if (entry.done) append(done, ", ", entry.by);
        if (entry.done) append(done, ", ", entry.date);
        rows.push_back({fmt::format("{}", rows.size() + 1), what, done, ""});
    }
    writer.table({{"No.", 0.4, true}, {"What and why", 4.2}, {"Done", 1.3}, {"Initials", 1.0}}, rows);
}

constexpr const char* kCompared = "Compared with before";

/// On the cover: who works from the sheet must not miss it.
void write_headline(Blocks& writer, const SheetOptions& options) {
    if (!options.compared) return;
    writer.heading(kCompared);
    writer.strong(options.compared->heading);
    if (!options.compared->paragraphs.empty()) writer.paragraph(options.compared->paragraphs.front());
}

void write_compared(Blocks& writer, const SheetOptions& options) {
    if (!options.compared || options.compared->paragraphs.size() < 2) return;
    writer.heading("What differs from before");
    writer.strong(options.compared->heading);
    for (std::size_t i = 1; i < options.compared->paragraphs.size(); ++i)
        writer.paragraph(options.compared->paragraphs[i]);
}

std::string pad_suffix(const std::string& pad) {
    return pad.empty() ? "" : " pad " + pad;
}

std::string kind_in_words(analysis::GapKind kind) {
    switch (kind) {
    case analysis::GapKind::BodyToBody: return "body to body";
    case analysis::GapKind::PadToPad: return "land to land";
    case analysis::GapKind::PadToEdge: return "land to board edge";
    case analysis::GapKind::BodyToEdge: return "body to board edge";
    }
    return {};
}

std::vector<Row> sensitive_rows(const Chart& chart) {
    std::vector<Row> rows;
    for (const document::HeatPlan& plan : chart.heat_plans) {
        const std::vector<analysis::SensitiveGap> gaps = analysis::gaps_of_plan(chart, plan);
        for (std::size_t i = 0; i < std::min(gaps.size(), kNearestGaps); ++i) {
            const analysis::SensitiveGap& gap = gaps[i];
            rows.push_back({plan.target.is_empty() ? "the aim" : name_of(chart, plan.target),
                            name_of(chart, gap.sensitive), number(gap.gap.mm, 2) + " mm",
                            gap.same_side ? "same side" : "through the board",
                            !gap.inside_ring ? "–"
                            : gap.shielded   ? "within the nozzle's reach, shielded"
                                             : "within the nozzle's reach"});
        }
    }
    return rows;
}

std::vector<Row> close_rows(const Chart& chart, const analysis::ClearanceReport& report) {
    std::vector<Row> rows;
    for (const analysis::CloseGap& close : report.close)
        rows.push_back(
            {name_of(chart, close.first) + pad_suffix(close.first_pad),
             close.second.is_empty() ? "board edge" : name_of(chart, close.second) + pad_suffix(close.second_pad),
             number(close.gap.mm, 2) + " mm", kind_in_words(close.kind) + ", " + side_in_words(close.side),
             "rule: " + number(close.rule_mm, 2) + " mm"});
    return rows;
}

void write_clearances(Blocks& writer, const Chart& chart, const Reports& reports) {
    writer.heading("Clearances");
    if (!chart.scale) {
        writer.paragraph("None measured: this chart has no scale.");
        return;
    }
    std::vector<Row> rows = sensitive_rows(chart);
    if (reports.clearance != nullptr)
        for (Row& row : close_rows(chart, *reports.clearance))
            rows.push_back(std::move(row));
    if (rows.empty()) {
        writer.paragraph(reports.clearance != nullptr
                             ? fmt::format("{} parts compared: no pair is nearer than the shop's rules, and no "
                                           "heat-sensitive part is near the target of a heat plan.",
                                           reports.clearance->parts_compared)
                             : "Not computed for this sheet.");
        return;
    }
    writer.table({{"From", 1.1, true}, {"To", 1.2, true}, {"Distance", 0.8}, {"How", 1.4}, {"Remark", 1.4}}, rows);
}

std::string how_measured(const document::Reading& reading) {
    std::string text;
    if (!reading.reference.empty()) text = "against " + reading.reference;
    if (reading.leads != document::Leads::NotStated) append(text, ", ", plain_words(reading.leads));
    if (reading.power != document::PowerState::NotStated) append(text, ", ", "power " + plain_words(reading.power));
    if (!reading.parts_removed.empty()) append(text, ", ", "removed: " + reading.parts_removed);
    return or_dash(text);
}

void write_readings(Blocks& writer, const Chart& chart) {
    if (chart.readings.empty()) return;
    writer.heading("Readings");
    std::vector<Row> rows;
    for (const document::Reading& reading : chart.readings) {
        std::string where = reading.target.is_empty() ? "" : name_of(chart, reading.target) + pad_suffix(reading.pad);
        append(where, ", ", side_in_words(reading.side));
        std::string when = reading.meter;
        append(when, ", ", reading.date);
        append(when, "; ", reading.note);
        rows.push_back({fmt::format("M{}", rows.size() + 1), where, plain_words(reading.quantity),
                        value_in_words(reading), how_measured(reading), plain_words(reading.board), or_dash(when)});
    }
    writer.table({{"No.", 0.55, true},
                  {"Where", 1.1},
                  {"What", 1.1},
                  {"Value", 0.9, true},
                  {"How", 1.6},
                  {"Board", 0.9},
                  {"Meter, day", 1.2}},
                 rows);
}

void write_notes(Blocks& writer, const Chart& chart) {
    if (chart.notes.empty()) return;
    writer.heading("Notes");
    std::vector<Row> rows;
    for (const document::Note& note : chart.notes) {
        std::string who = note.author;
        append(who, ", ", note.date);
        rows.push_back({fmt::format("N{}", rows.size() + 1),
                        note.target.is_empty() ? side_in_words(note.side) : name_of(chart, note.target),
                        or_dash(note.text), or_dash(who)});
    }
    writer.table({{"No.", 0.4, true}, {"At", 0.7}, {"Note", 3.5}, {"Who, when", 1.2}}, rows);
}

/// Newest first: it tells which older sheet is void.
void write_revisions(Blocks& writer, const Chart& chart, const SheetOptions& options) {
    writer.heading("Revisions");
    for (const std::string& note : options.revision_notes)
        writer.paragraph(note);
    if (!chart.revisions.empty()) {
        std::vector<Row> rows;
        for (const document::RevisionNote& note : chart.revisions)
            rows.push_back({or_dash(note.revision), or_dash(note.date), or_dash(note.author), or_dash(note.text)});
        std::reverse(rows.begin(), rows.end());
        writer.table({{"Revision", 0.7, true}, {"Day", 1.0}, {"Who", 1.2}, {"What changed and why", 4.0}}, rows);
        writer.muted("Mark older sheets as superseded.");
    } else if (options.revision_notes.empty()) {
        writer.paragraph(fmt::format("Revision {}: what changed was not stated. Mark older sheets as superseded.",
                                     or_dash(chart.title.chart_revision)));
    }
}

} // namespace

Blocks cautions_part(const Chart& chart, const SheetOptions& options) {
    Blocks writer;
    write_headline(writer, options);
    write_cautions(writer, chart);
    return writer;
}

Blocks written_part(const Chart& chart, const Reports& reports, const SheetOptions& options) {
    Blocks out = cautions_part(chart, options);
    Blocks tables = tables_part(chart, reports, options);
    std::move(tables.list.begin(), tables.list.end(), std::back_inserter(out.list));
    return out;
}

Blocks tables_part(const Chart& chart, const Reports& reports, const SheetOptions& options) {
    Blocks writer;
    write_plans(writer, chart);
    for (const SheetSection& section : options.sections) {
        writer.heading(section.heading);
        for (const std::string& paragraph : section.paragraphs)
            writer.paragraph(paragraph);
    }
    write_keep_outs(writer, chart);
    write_compared(writer, options);
    write_checklist(writer, chart);
    write_parts(writer, chart, reports);
    write_clearances(writer, chart, reports);
    write_readings(writer, chart);
    write_notes(writer, chart);
    write_revisions(writer, chart, options);
    return writer;
}

void write_blocks(PageWriter& writer, const Blocks& blocks) {
    for (const Block& block : blocks.list) {
        switch (block.kind) {
        case Block::Kind::Heading: writer.heading(block.text); break;
        case Block::Kind::Paragraph: writer.paragraph(block.text); break;
        case Block::Kind::Muted: writer.paragraph(block.text, {.role = Role::PageMuted}); break;
        case Block::Kind::Strong: writer.paragraph(block.text, {.role = Role::PageTextStrong, .strong = true}); break;
        case Block::Kind::Caution: writer.caution(block.text); break;
        case Block::Kind::Table: writer.table(block.columns, block.rows); break;
        }
    }
}

} // namespace padchart::scene
