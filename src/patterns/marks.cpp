#include "patterns/marks.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "geometry/affine.hpp"
#include "patterns/labels.hpp"
#include "patterns/net_name.hpp"
#include "patterns/table.hpp"

namespace padchart::patterns {
namespace {

using document::centre_in_part;
using document::EvidenceKind;
using document::Footprint;
using document::from_text;
using document::MarkKind;
using document::Meaning;
using document::Orientation;
using document::Pad;
using document::PartClass;
using document::RecordState;
using document::to_text;
using document::Word;
using document::words;

/// Does a cell of words with blanks between them hold this one?
bool holds(std::string_view cell, std::string_view word) {
    while (!cell.empty()) {
        const std::string_view first = cell.substr(0, cell.find(' '));
        if (first == word) return true;
        cell.remove_prefix(std::min(cell.size(), first.size() + 1));
    }
    return false;
}

Certainty certainty_of(std::string_view word) {
    if (word == "high") return Certainty::High;
    return word == "medium" ? Certainty::Medium : Certainty::Low;
}

MarkMeaning meaning_of(const Table& rows, std::size_t row) {
    return {from_text<Meaning>(rows.text(row, "meaning")).value_or(Meaning::Unknown),
            certainty_of(rows.text(row, "certainty")), rows.text(row, "remark"), rows.text(row, "standing"),
            rows.text(row, "source")};
}

std::vector<std::vector<Meaning>> load_possible() {
    std::vector<std::vector<Meaning>> all;
    const Table& rows = table("class_meanings");
    for (const Word<PartClass>& part_class : words<PartClass>()) {
        std::vector<Meaning>& meanings = all.emplace_back(std::vector{Meaning::Unknown});
        for (const Word<Meaning>& meaning : words<Meaning>()) {
            if (meaning.value == Meaning::Unknown) continue;
            for (std::size_t row = 0; row < rows.size(); ++row)
                if (holds(rows.text(row, "classes"), part_class.text) &&
                    holds(rows.text(row, "meanings"), meaning.text))
                    meanings.push_back(meaning.value);
        }
    }
    return all;
}

bool is_diode(PartClass part_class) {
    return part_class == PartClass::Diode || part_class == PartClass::Zener || part_class == PartClass::TvsOneWay ||
           part_class == PartClass::Led || part_class == PartClass::Photodiode;
}

/// Two words for the same end of a part become one: pin 1 of a diode is its cathode, of a polarised capacitor its
/// positive end (IPC-7351); a capacitor's anode is positive; corner A1 is where pin 1 is.
Meaning same_end(PartClass part_class, Meaning meaning) {
    if (meaning == Meaning::CornerA1) return Meaning::Pin1;
    if (is_diode(part_class)) return meaning == Meaning::Pin1 ? Meaning::Cathode : meaning;
    const bool has_poles = can_mean(part_class, Meaning::Positive);
    if (!has_poles || part_class == PartClass::BridgeRectifier) return meaning;
    if (meaning == Meaning::Anode || meaning == Meaning::Pin1) return Meaning::Positive;
    return meaning == Meaning::Cathode ? Meaning::Negative : meaning;
}

bool is_pole(Meaning meaning) {
    return meaning == Meaning::Cathode || meaning == Meaning::Anode || meaning == Meaning::Positive ||
           meaning == Meaning::Negative;
}

/// Other ends, not merely other words: input beside pin 1 is no contradiction.
bool contradicts(PartClass part_class, Meaning first, Meaning second) {
    const Meaning a = same_end(part_class, first);
    const Meaning b = same_end(part_class, second);
    if (is_pole(a) && is_pole(b)) return a != b;
    return (a == Meaning::NoPolarity && is_pole(b)) || (b == Meaning::NoPolarity && is_pole(a));
}

std::string on_a(const Footprint& part) {
    return "on a part of kind '" + std::string(label_of(part.part_class)) + "'";
}

std::string quoted(Meaning meaning) {
    return "'" + std::string(label_of(meaning)) + "'";
}

class Findings {
public:
    explicit Findings(const Footprint& part) : part_(part) {}
    void add(Severity severity, std::string code, std::string message) {
        found_.push_back({severity, std::move(code), std::move(message), "", part_.id.text});
    }
    [[nodiscard]] Diagnostics take() { return std::move(found_); }

private:
    const Footprint& part_;
    Diagnostics found_;
};

void check_class(const Footprint& part, Findings& findings) {
    const Meaning meaning = part.orientation.meaning;
    if (can_mean(part.part_class, meaning)) return;
    const bool poles = meaning == Meaning::Positive || meaning == Meaning::Negative;
    if (is_diode(part.part_class) && poles) {
        findings.add(Severity::Warning, "polarity-word",
                     "The mark is recorded as " + quoted(meaning) + " " + on_a(part) +
                         ". Say cathode or anode: the band of a Zener or surge diode often lies on the positive rail.");
        return;
    }
    findings.add(Severity::Warning, "meaning-not-of-class",
                 "The mark is recorded as " + quoted(meaning) + " " + on_a(part) +
                     ", which has no such thing. Check the meaning, or what the part is.");
}

/// The usual meaning differs from the recorded one. How loud depends on how sure the usual one is.
void check_custom(const Footprint& part, const MarkMeaning& usual, Findings& findings) {
    const Orientation& record = part.orientation;
    if (usual.meaning == Meaning::Unknown || usual.certainty == Certainty::Low) return;
    if (!can_mean(part.part_class, record.meaning)) return; // said already
    if (!can_mean(part.part_class, usual.meaning)) return;  // a sign of the board, not of such a part
    if (!contradicts(part.part_class, usual.meaning, record.meaning)) return;
    const bool loud = usual.certainty == Certainty::High && !is_proof(record.evidence.kind);
    findings.add(loud ? Severity::Fault : Severity::Warning, "mark-against-custom",
                 "The " + std::string(label_of(record.mark)) + " is recorded as " + quoted(record.meaning) + " " +
                     on_a(part) + "; usual is " + quoted(usual.meaning) +
                     ". Check it with the maker's sheet or a meter before heat.");
}

void check_proof(const Footprint& part, const std::optional<MarkMeaning>& usual, Findings& findings) {
    const EvidenceKind evidence = part.orientation.evidence.kind;
    const bool weak = usual && usual->certainty == Certainty::Low;
    if (!weak || is_proof(evidence)) return;
    findings.add(evidence == EvidenceKind::NotStated ? Severity::Warning : Severity::Note, "mark-unproved",
                 "The " + std::string(label_of(part.orientation.mark)) + " is recorded as " +
                     quoted(part.orientation.meaning) + " " + on_a(part) +
                     ", where such a mark proves little. Meter the part or read its maker's sheet and say so.");
}

const Pad* first_pad(const Footprint& part) {
    for (const Pad& pad : part.pads)
        if (pad.number == "1" || pad.number == "A1") return &pad;
    return nullptr;
}

/// A notch or a bevel stands for an end or an edge, not for the place of pin 1.
void check_place(const Footprint& part, Findings& findings) {
    const Orientation& record = part.orientation;
    const bool is_pin_1 = record.meaning == Meaning::Pin1 || record.meaning == Meaning::CornerA1;
    if (!is_pin_1 || record.mark == MarkKind::Notch || record.mark == MarkKind::Bevel) return;
    const Pad* pad = first_pad(part);
    if (pad == nullptr) return;
    const geometry::Vec2 towards = pad->at - centre_in_part(part);
    if (geometry::length(towards) < 0.05) return; // in the middle: no side
    constexpr double kOtherSide_deg = 90.0;
    const double off = (record.bearing - geometry::bearing(towards)).signed_turn().degrees();
    if (std::abs(off) <= kOtherSide_deg) return;
    findings.add(Severity::Warning, "mark-far-from-pin-1",
                 "The mark stands for " + std::string(label_of(record.meaning)) +
                     " but lies on the other side of the part than land " + pad->number + ". One of the two is wrong.");
}

/// The land the mark points at, where the part has two and they lie apart along the bearing; else null.
const Pad* land_under_mark(const Footprint& part) {
    if (part.pads.size() != 2) return nullptr;
    const geometry::Vec2 along = part.pads[1].at - part.pads[0].at;
    if (geometry::length(along) < 0.05) return nullptr;
    constexpr double kAcross_deg = 60.0; // a mark on a long side speaks of neither land
    const double off = std::abs((part.orientation.bearing - geometry::bearing(along)).signed_turn().degrees());
    if (off <= kAcross_deg) return &part.pads[1];
    return off >= 180.0 - kAcross_deg ? &part.pads[0] : nullptr;
}

/// Where the end of the part lies that ought to be away from ground; null where the record does not tell.
const Pad* land_of_upper_end(const Footprint& part, Meaning upper, Meaning lower) {
    const Pad* marked = land_under_mark(part);
    if (marked == nullptr) return nullptr;
    const Meaning said = same_end(part.part_class, part.orientation.meaning);
    if (said == upper) return marked;
    if (said != lower) return nullptr;
    return marked == &part.pads[0] ? &part.pads[1] : &part.pads[0];
}

/// A Zener or surge diode that guards a rail has its cathode on the rail and its anode on ground; a polarised capacitor
/// its positive end on the rail. On a negative rail it is the other way round.
void check_nets(const Footprint& part, Findings& findings) {
    const bool guards = part.part_class == PartClass::Zener || part.part_class == PartClass::TvsOneWay;
    const bool has_poles =
        part.part_class == PartClass::TantalumCapacitor || part.part_class == PartClass::PolymerCapacitor ||
        part.part_class == PartClass::AluminiumCapacitor || part.part_class == PartClass::Supercapacitor;
    if (!guards && !has_poles) return;
    const Meaning upper = guards ? Meaning::Cathode : Meaning::Positive;
    const Pad* land = land_of_upper_end(part, upper, guards ? Meaning::Anode : Meaning::Negative);
    if (land == nullptr || rail_of(land->net) != Rail::Ground) return;
    const Pad& other = land == &part.pads[0] ? part.pads[1] : part.pads[0];
    if (rail_of(other.net) != Rail::Unknown) return; // below ground this is right; on ground both ends say nothing
    const std::string rail = other.net.empty() ? "the other land" : "net " + other.net;
    findings.add(Severity::Warning, "band-on-ground",
                 "By the record the " + std::string(label_of(upper)) + " lies on net " + land->net + " " + on_a(part) +
                     "; it belongs on " + rail + ", unless that is below ground. Check the mark, or the net.");
}

} // namespace

std::optional<MarkMeaning> usual_meaning(PartClass part_class, MarkKind mark) {
    const Table& rows = table("marks");
    for (const std::string_view wanted : {to_text(part_class), std::string_view("any")})
        for (std::size_t row = 0; row < rows.size(); ++row)
            if (holds(rows.text(row, "classes"), wanted) && holds(rows.text(row, "marks"), to_text(mark)))
                return meaning_of(rows, row);
    return std::nullopt;
}

std::vector<MarkKind> usual_marks(PartClass part_class) {
    const Table& rows = table("marks");
    std::vector<MarkKind> marks;
    const auto add = [&](MarkKind mark) {
        if (std::find(marks.begin(), marks.end(), mark) == marks.end()) marks.push_back(mark);
    };
    for (std::size_t row = 0; row < rows.size(); ++row) {
        if (!holds(rows.text(row, "classes"), to_text(part_class))) continue;
        std::string_view cell = rows.text(row, "marks");
        while (!cell.empty()) {
            const std::string_view first = cell.substr(0, cell.find(' '));
            if (const auto mark = from_text<MarkKind>(first)) add(*mark);
            cell.remove_prefix(std::min(cell.size(), first.size() + 1));
        }
    }
    if (marks.empty()) marks = {MarkKind::Dot, MarkKind::Bar, MarkKind::Notch, MarkKind::CutCorner, MarkKind::Triangle};
    return marks;
}

Meaning suggested_meaning(PartClass part_class, MarkKind mark) {
    const std::optional<MarkMeaning> usual = usual_meaning(part_class, mark);
    const bool fits = usual && usual->certainty != Certainty::Low && can_mean(part_class, usual->meaning);
    return fits ? usual->meaning : Meaning::Unknown;
}

std::span<const Meaning> possible_meanings(PartClass part_class) {
    static const std::vector<std::vector<Meaning>> kPossible = load_possible();
    return kPossible[static_cast<std::size_t>(part_class)];
}

bool can_mean(PartClass part_class, Meaning meaning) {
    const std::span<const Meaning> all = possible_meanings(part_class);
    return std::find(all.begin(), all.end(), meaning) != all.end();
}

bool is_proof(EvidenceKind kind) {
    return kind == EvidenceKind::Metered || kind == EvidenceKind::DataSheet;
}

Diagnostics orientation_conflicts(const Footprint& part) {
    Findings findings(part);
    const Orientation& record = part.orientation;
    if (record.state == RecordState::NoMark && record.mark != MarkKind::Unknown)
        findings.add(Severity::Warning, "mark-without-record",
                     "The part is said to show no mark, yet a " + std::string(label_of(record.mark)) +
                         " is named. Record the mark or clear it.");
    if (record.state != RecordState::Recorded || record.meaning == Meaning::Unknown) return findings.take();
    const std::optional<MarkMeaning> usual = usual_meaning(part.part_class, record.mark);
    check_class(part, findings);
    if (usual) check_custom(part, *usual, findings);
    check_proof(part, usual, findings);
    check_place(part, findings);
    check_nets(part, findings);
    return findings.take();
}

} // namespace padchart::patterns
