#include "page/cards.hpp"

#include <fmt/format.h>

#include "page/markup.hpp"
#include "page/page_frame.hpp"
#include "page/svg_scene.hpp"
#include "patterns/labels.hpp"
#include "patterns/material.hpp"
#include "scene/card_picture.hpp"
#include "scene/card_words.hpp"
#include "scene/words.hpp"

namespace padchart::page {

using document::Chart;
using document::Footprint;
using document::Side;

namespace {

/// Facts of a card, one a line; those that nobody stated are left out.
class Facts {
public:
    void add(std::string_view label, std::string_view text, bool urgent = false) {
        if (text.empty()) return;
        rows_ +=
            fmt::format("<dt>{}</dt><dd{}>{}</dd>", escaped(label), urgent ? " class=\"urgent\"" : "", escaped(text));
    }
    [[nodiscard]] std::string markup() const { return rows_.empty() ? "" : "<dl>" + rows_ + "</dl>"; }

private:
    std::string rows_;
};

struct Head {
    document::Id id;
    std::string kind; ///< "part", "keep-out", ...
    std::string name;
    std::string under; ///< beside the name
    Side side = Side::Top;
    geometry::Vec2 at;
    std::string words;        ///< further words a search may find
    bool is_on_paper = false; ///< printed; the rest stands in the tables
};

std::string side_in_words(Side side) {
    return side == Side::Top ? "top side" : "bottom side";
}

std::string card(const Head& head, const std::string& body) {
    return fmt::format("<article class=\"card\" data-kind=\"{}\" data-id=\"{}\" data-side=\"{}\" data-at=\"{} {}\" "
                       "data-words=\"{}\" data-name=\"{}\">\n<h3>{} <small>{}</small></h3>\n{}</article>\n",
                       head.kind, escaped(head.id.text), document::to_text(head.side), short_number(head.at.x),
                       short_number(head.at.y), escaped(head.name + " " + head.under + " " + head.words),
                       escaped(head.name), name_markup(head.name), escaped(head.under), body);
}

std::string picture_of(const Footprint& part, const analysis::PartFit& fit) {
    constexpr double kWidth_mm = 44.0;
    constexpr double kHeight_mm = 30.0;
    const scene::PlacedScene placed = scene::part_picture(part, fit, {{0, 0}, {kWidth_mm, kHeight_mm}});
    const double px_per_mm = placed.scale / placed.px_mm;
    const geometry::Vec2 from = (geometry::Vec2{} - placed.at) / placed.px_mm;
    return fmt::format("<svg class=\"sketch px\" role=\"img\" aria-label=\"{}\" viewBox=\"{} {} {} {}\">{}</svg>\n",
                       escaped(part.name + " seen from its own side"), short_number(from.x), short_number(from.y),
                       short_number(kWidth_mm / placed.px_mm), short_number(kHeight_mm / placed.px_mm),
                       svg_in_px(placed.scene, px_per_mm));
}

std::string limit_in_words(const Footprint& part) {
    const auto limits = patterns::limits_of(part);
    if (!limits) return {};
    return scene::celsius(limits->limit_c) + (limits->delicate ? ", protect from heat" : "");
}

std::string list_markup(std::string_view label, const std::vector<std::string>& texts) {
    if (texts.empty()) return {};
    std::string items;
    for (const std::string& text : texts)
        items += element("li", text);
    return fmt::format("<p class=\"label\">{}</p><ul>{}</ul>", escaped(label), items);
}

std::string signed_text(const document::Note& note) {
    std::string who = note.author;
    if (!note.date.empty()) who += (who.empty() ? "" : ", ") + note.date;
    return who.empty() ? note.text : note.text + " (" + who + ")";
}

std::string reading_in_words(const document::Reading& reading) {
    std::string text = scene::plain_words(reading.quantity) + " " + scene::value_in_words(reading);
    if (!reading.pad.empty()) text = "pad " + reading.pad + ": " + text;
    if (!reading.reference.empty()) text += ", against " + reading.reference;
    if (!reading.date.empty()) text += ", " + reading.date;
    return text;
}

std::vector<std::string> notes_on(const Chart& chart, const document::Id& id) {
    std::vector<std::string> out;
    for (const document::Note& note : chart.notes)
        if (note.target == id) out.push_back(signed_text(note));
    return out;
}

std::vector<std::string> readings_on(const Chart& chart, const document::Id& id) {
    std::vector<std::string> out;
    for (const document::Reading& reading : chart.readings)
        if (reading.target == id) out.push_back(reading_in_words(reading));
    return out;
}

/// The piece of a photo on which somebody saw how the part lies.
std::string photo_markup(const PageInput& input, const Footprint& part) {
    for (const EvidenceJpeg& one : input.evidence)
        if (one.part == part.id)
            return fmt::format("<img class=\"seen\" alt=\"{}\" width=\"{}\" height=\"{}\" src=\"{}\">\n",
                               escaped("photo of " + part.name), one.width, one.height, jpeg_source(one.jpeg));
    return {};
}

std::string part_card(const Chart& chart, const Footprint& part, const analysis::PartFit& fit,
                      const std::string& photo) {
    const scene::CardWords words = scene::card_words(chart, part, fit);
    Facts facts;
    facts.add("Role", part.role);
    facts.add("Side", side_in_words(part.placement.side));
    for (const scene::CardLine& line : words.lines)
        facts.add(line.label, line.text, line.urgent);
    if (words.evidence) facts.add(words.evidence->label, words.evidence->text);
    facts.add("State", scene::condition_in_words(part), scene::has_fault(part) || scene::is_absent(part));
    facts.add("Remark on the state", part.condition.note);
    facts.add("Heat limit", limit_in_words(part));
    facts.add("Comment", part.comment);
    std::string body;
    if (words.is_open || fit.has_record || fit.looked_no_mark)
        body += element("p", words.status, words.is_open ? " class=\"badge unknown\"" : " class=\"badge\"");
    if (fit.needs_record) body += picture_of(part, fit);
    body += photo;
    body += facts.markup();
    if (fit.needs_record) body += list_markup("Beware", words.confusions);
    body += list_markup("Readings", readings_on(chart, part.id));
    body += list_markup("Notes", notes_on(chart, part.id));
    return card({part.id, "part", part.name.empty() ? "(no name)" : part.name, words.kind, part.placement.side,
                 part.placement.at, part.role + " " + part.family,
                 fit.needs_record || scene::has_fault(part) || scene::is_absent(part)},
                body);
}

geometry::Vec2 centre_of(const geometry::Polygon& polygon) {
    return geometry::bounds(polygon).centre();
}

std::string keep_out_card(const document::KeepOut& thing) {
    Facts facts;
    facts.add("Reason", scene::plain_words(thing.reason));
    facts.add("Side", side_in_words(thing.side) + (thing.through_board ? ", and through the board" : ""));
    facts.add("Limit", scene::celsius(patterns::limits_of(thing).limit_c));
    if (thing.height_mm) facts.add("Height", scene::number(*thing.height_mm, 1) + " mm");
    const bool is_open = thing.measure == document::Measure::None;
    facts.add("Measure", is_open ? "none yet" : scene::plain_words(thing.measure), is_open);
    facts.add("Note", thing.note);
    return card({thing.id, "keep-out", thing.name.empty() ? scene::plain_words(thing.reason) : thing.name,
                 "keep heat out", thing.side, centre_of(thing.outline), thing.note},
                facts.markup());
}

std::string shield_card(const document::Shield& thing) {
    Facts facts;
    facts.add("Kind", scene::plain_words(thing.kind));
    facts.add("Side", side_in_words(thing.side));
    facts.add("Note", thing.note);
    return card({thing.id, "shield", thing.name.empty() ? scene::plain_words(thing.kind) : thing.name, "shield",
                 thing.side, centre_of(thing.outline), thing.note},
                facts.markup());
}

std::string note_card(const document::Note& note, std::size_t number) {
    const std::string who = note.author + (note.author.empty() || note.date.empty() ? "" : ", ") + note.date;
    return card({note.id, "note", fmt::format("N{}", number), "note", note.side, note.at, note.text},
                element("p", note.text) + element("p", who, " class=\"muted\""));
}

std::string reading_card(const Chart& chart, const document::Reading& reading, std::size_t number) {
    Facts facts;
    if (const auto part = document::find_part(chart, reading.target)) facts.add("At", chart.parts[*part].name);
    facts.add("Reading", reading_in_words(reading));
    facts.add("Leads", reading.leads == document::Leads::NotStated ? "" : scene::plain_words(reading.leads));
    facts.add("Power", reading.power == document::PowerState::NotStated ? "" : scene::plain_words(reading.power));
    facts.add("Removed", reading.parts_removed);
    facts.add("Meter", reading.meter);
    facts.add("Board", scene::plain_words(reading.board));
    facts.add("Note", reading.note);
    return card({reading.id, "reading", fmt::format("M{}", number), "reading", reading.side, reading.at, reading.note},
                facts.markup());
}

std::string plan_card(const Chart& chart, const PlanReport& report) {
    const document::HeatPlan& plan = report.plan;
    const auto target = document::find_part(chart, plan.target);
    const std::string name = target ? chart.parts[*target].name : plan.name;
    Facts facts;
    facts.add("Air", fmt::format("{}, {} L/min, from the {}", scene::celsius(plan.set_point_c),
                                 scene::number(plan.flow_l_per_min, 1), side_in_words(plan.side)));
    facts.add("Nozzle", fmt::format("{} mm bore, {} mm above the board", scene::number(plan.nozzle_bore_mm, 1),
                                    scene::number(plan.stand_off_mm, 1)));
    facts.add("Preheat", plan.preheat_c ? scene::celsius(*plan.preheat_c) : "none");
    facts.add("Dwell", scene::number(plan.dwell_s, 0) + " s");
    facts.add("Alloy", plan.alloy);
    facts.add("Note", plan.note);
    std::vector<std::string> says;
    if (report.heat)
        says = scene::with_degrees(report.heat->sentences);
    else
        says.push_back("Not computed: " + describe(report.heat.error()));
    says.emplace_back("An estimate, not a measurement: check with a thermocouple.");
    return card({plan.id, "plan", "Heat: " + name, plan.name, plan.side, plan.aim, "heat plan nozzle", true},
                facts.markup() + list_markup("Estimate", says));
}

} // namespace

std::string cards_markup(const PageInput& input) {
    const Chart& chart = input.chart;
    const HandOverReports& reports = input.reports;
    std::string out;
    for (std::size_t i = 0; i < chart.parts.size(); ++i)
        out += part_card(chart, chart.parts[i], reports.fit.parts[i], photo_markup(input, chart.parts[i]));
    for (const PlanReport& report : reports.plans)
        out += plan_card(chart, report);
    for (const document::KeepOut& thing : chart.keep_outs)
        out += keep_out_card(thing);
    for (const document::Shield& thing : chart.shields)
        out += shield_card(thing);
    std::size_t number = 0;
    for (const document::Reading& reading : chart.readings)
        out += reading_card(chart, reading, ++number);
    number = 0;
    for (const document::Note& note : chart.notes)
        out += note_card(note, ++number);
    return out;
}

} // namespace padchart::page
