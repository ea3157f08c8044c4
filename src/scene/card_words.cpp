#include "scene/card_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>

#include "patterns/labels.hpp"
#include "patterns/marks.hpp"
#include "patterns/table.hpp"
#include "scene/words.hpp"

namespace padchart::scene {

using document::Chart;
using document::Evidence;
using document::EvidenceKind;
using document::Footprint;
using document::MarkKind;
using document::Meaning;
using document::Pad;
using document::PartClass;
using document::RecordState;
using document::Side;
using document::Title;

namespace {

/// Does a cell of words with blanks between them hold this one, or "any"?
bool fits(std::string_view cell, std::string_view word) {
    if (cell == "any") return true;
    while (!cell.empty()) {
        const std::string_view first = cell.substr(0, cell.find(' '));
        if (first == word) return true;
        cell.remove_prefix(std::min(cell.size(), first.size() + 1));
    }
    return false;
}

void join(std::string& text, std::string_view separator, std::string_view more) {
    if (more.empty()) return;
    if (!text.empty()) text += separator;
    text += more;
}

std::string pads_in_words(const Footprint& part) {
    const int count = document::pad_count(part);
    return count == 1 ? "1 pad" : fmt::format("{} pads", count);
}

std::string kind_of(const Footprint& part) {
    std::string kind = part.part_class == PartClass::Unknown ? "kind not known" : in_words(part.part_class);
    join(kind, " ", part.value);
    join(kind, ", ", pads_in_words(part));
    return kind;
}

bool is_capacitor(PartClass part_class) {
    return part_class == PartClass::TantalumCapacitor || part_class == PartClass::PolymerCapacitor ||
           part_class == PartClass::AluminiumCapacitor || part_class == PartClass::Supercapacitor;
}

std::string meaning_in_words(const Footprint& part) {
    switch (part.orientation.meaning) {
    case Meaning::Unknown: return "not known: find out first";
    case Meaning::Pin1: return "pin 1 is at the mark";
    case Meaning::CornerA1: return "corner A1 is at the mark";
    case Meaning::Cathode: return "the cathode is on the mark's side";
    case Meaning::Anode:
        return is_capacitor(part.part_class) ? "plus (the anode) is on the mark's side"
                                             : "the anode is on the mark's side";
    case Meaning::Positive: return "plus is on the mark's side";
    case Meaning::Negative: return "minus is on the mark's side, plus on the other";
    case Meaning::Input: return "the input is at the mark";
    case Meaning::KeySide: return "the key is on the mark's side";
    case Meaning::ContactSide: return "the contacts are on the mark's side";
    case Meaning::PortPosition: return "the port is at the mark";
    case Meaning::WindingStart: return "the winding starts at the mark; no polarity";
    case Meaning::NoPolarity: return "no polarity";
    }
    return {};
}

/// ", at pad 3": the numbered pad the mark lies over, if it is clearly the nearest in direction.
std::string marked_pad(const Footprint& part) {
    constexpr double kClear_deg = 25.0;
    const geometry::Vec2 centre = document::centre_in_part(part);
    std::string number;
    double nearest = kClear_deg;
    double next = 360.0;
    for (const Pad& pad : part.pads) {
        if (geometry::contains(document::outline_in_part(pad), centre)) continue; // a middle land lies in no direction
        const double apart = std::abs(
            std::remainder(geometry::bearing(pad.at - centre).degrees() - part.orientation.bearing.degrees(), 360.0));
        if (apart < nearest) {
            next = nearest;
            nearest = apart;
            number = pad.number;
        } else {
            next = std::min(next, apart);
        }
    }
    return number.empty() || next - nearest < 2.0 ? "" : ", at pad " + number;
}

CardLine mark_line(const Footprint& part, const analysis::PartFit& fit) {
    switch (part.orientation.state) {
    case RecordState::Recorded: {
        const std::string mark = part.orientation.mark == MarkKind::Unknown
                                     ? "a mark"
                                     : std::string(patterns::label_of(part.orientation.mark));
        return {"Mark", fmt::format("{}, {}{}", mark, mark_place(part), marked_pad(part))};
    }
    case RecordState::NoMark: return {"Mark", "none to be seen; put one on the part before it is lifted", true};
    case RecordState::NotRecorded: break;
    }
    if (!fit.needs_record) return {"Mark", "not recorded; none needed"};
    return {"Mark", "look before the heat, fill in the circle it is at; once the part is off, it is too late", true};
}

std::string turns_in_words(const std::vector<double>& turns) {
    std::string text;
    for (std::size_t i = 0; i < turns.size(); ++i)
        join(text, i + 1 == turns.size() ? " or " : ", ", number(turns[i], 0) + "°");
    return text;
}

CardLine wrong_line(const analysis::PartFit& fit) {
    if (fit.risky_turns.empty()) {
        const bool sits_turned = fit.seating_turns.size() > 1;
        return {"If wrong", sits_turned ? "the turns it sits in change nothing" : "its pads allow one way only"};
    }
    const std::string_view end = patterns::consequence_text(static_cast<int>(fit.consequence));
    return {"If wrong",
            fmt::format("{}. It {} turned by {} too{}", end, fit.unsure_turns.empty() ? "sits" : "may sit",
                        turns_in_words(fit.risky_turns), fit.unsure_turns.empty() ? "" : ": drawn too near to tell"),
            fit.consequence >= analysis::Consequence::Damage, std::string(end)};
}

/// "photo board-top.jpg, 120 x 90 px from 240, 250"
std::string photo_in_words(const Chart& chart, const Evidence& evidence) {
    for (const document::Photo& photo : chart.photos) {
        if (evidence.photo.is_empty() || photo.id != evidence.photo) continue;
        std::string text = "photo " + photo.path.substr(photo.path.find_last_of('/') + 1);
        const std::vector<double>& crop = evidence.crop_px;
        if (crop.size() == 4)
            join(text, ", ", fmt::format("{:.0f} x {:.0f} px from {:.0f}, {:.0f}", crop[2], crop[3], crop[0], crop[1]));
        return text;
    }
    return {};
}

CardLine evidence_line(const Chart& chart, const Footprint& part) {
    const Evidence& evidence = part.orientation.evidence;
    if (part.orientation.state == RecordState::NotRecorded) return {"Evidence", "none yet"};
    const std::string kind(evidence.kind == EvidenceKind::NotStated ? "not stated" : patterns::label_of(evidence.kind));
    std::string text = kind;
    join(text, ", ", photo_in_words(chart, evidence));
    join(text, ", ", evidence.note);
    join(text, "; ", evidence.by);
    join(text, ", ", evidence.date);
    std::string brief = kind;
    join(brief, ", ", evidence.date);
    return {"Evidence", text, false, brief};
}

std::vector<std::string> warnings_for(const Footprint& part, const analysis::PartFit& fit) {
    std::vector<std::string> texts;
    if (!fit.is_complete) texts.emplace_back("Not all pads are drawn: it may sit in more turns than these.");
    for (const Diagnostic& conflict : patterns::orientation_conflicts(part))
        if (conflict.severity != Severity::Note && conflict.code != "mark-unproved") texts.push_back(conflict.message);
    for (std::string& text : confusions_of(part.part_class, part.orientation.mark))
        texts.push_back(std::move(text));
    return texts;
}

std::string identification_of(const Title& title) {
    std::string text = title.board;
    join(text, " ", title.revision);
    join(text, " · ", title.serial);
    join(text, " · ", title.job);
    if (!title.chart_revision.empty()) join(text, " · ", "chart " + title.chart_revision);
    join(text, " · ", title.date);
    return text;
}

} // namespace

std::vector<std::string> confusions_of(PartClass part_class, MarkKind mark) {
    const patterns::Table& rows = patterns::table("confusions");
    std::vector<std::string> texts;
    for (std::size_t row = 0; row < rows.size(); ++row)
        if (fits(rows.text(row, "classes"), document::to_text(part_class)) &&
            fits(rows.text(row, "marks"), document::to_text(mark)))
            texts.emplace_back(rows.text(row, "text"));
    return texts;
}

CardWords card_words(const Chart& chart, const Footprint& part, const analysis::PartFit& fit) {
    CardWords words;
    words.name = part.name.empty() ? "(no name)" : part.name;
    words.kind = kind_of(part);
    words.seen = part.placement.side == Side::Top ? "seen from the top" : "seen from the bottom";
    words.up = chart.title.up_edge.empty() ? "up as charted" : "up: " + chart.title.up_edge;
    words.is_open = fit.needs_record && !fit.has_record;
    words.status = fit.has_record ? "recorded" : fit.looked_no_mark ? "NO MARK" : "NOT RECORDED";
    if (!fit.needs_record && !fit.has_record) words.status = "none needed";
    words.wrong_turns = fit.risky_turns.empty()    ? ""
                        : fit.unsure_turns.empty() ? "sits too, wrong:"
                                                   : "may sit too, wrong:";
    words.lines.push_back(mark_line(part, fit));
    if (part.orientation.state == RecordState::Recorded)
        words.lines.push_back({"Means", meaning_in_words(part), part.orientation.meaning == Meaning::Unknown});
    words.lines.push_back(wrong_line(fit));
    if (fit.needs_record || part.orientation.state != RecordState::NotRecorded)
        words.evidence = evidence_line(chart, part);
    words.confusions = warnings_for(part, fit);
    words.identification = identification_of(chart.title);
    return words;
}

} // namespace padchart::scene
