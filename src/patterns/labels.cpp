#include "patterns/labels.hpp"

#include <array>
#include <cassert>
#include <map>

namespace padchart::patterns {
namespace {

using document::BodyState;
using document::EvidenceKind;
using document::JointState;
using document::LandState;
using document::MarkKind;
using document::Meaning;
using document::PartClass;
using document::Presence;
using document::RecordState;
using document::Seating;
using document::to_text;
using document::Word;
using document::words;

/// The list's own words with blanks for dashes, made once.
template <class Enum>
std::string_view plain(Enum value) {
    static const std::map<Enum, std::string> kWords = [] {
        std::map<Enum, std::string> all;
        for (const Word<Enum>& word : words<Enum>()) {
            std::string text(word.text);
            for (char& c : text)
                if (c == '-') c = ' ';
            all.emplace(word.value, std::move(text));
        }
        return all;
    }();
    return kWords.at(value);
}

} // namespace

std::string_view label_of(PartClass value) {
    switch (value) {
    case PartClass::Unknown: return "not known";
    case PartClass::ArrayIsolated: return "resistor array, isolated";
    case PartClass::ArrayCommon: return "resistor array, common pin";
    case PartClass::FeedthroughCapacitor: return "feed-through capacitor";
    case PartClass::CommonModeChoke: return "common-mode choke";
    case PartClass::Zener: return "Zener diode";
    case PartClass::TvsOneWay: return "surge diode, one way";
    case PartClass::TvsTwoWay: return "surge diode, two way";
    case PartClass::EsdArray: return "ESD diode array";
    case PartClass::Led: return "LED";
    case PartClass::Cell: return "battery cell";
    case PartClass::BoardConnector: return "board-to-board connector";
    case PartClass::FlatCableConnector: return "flat-cable connector";
    default: return plain(value);
    }
}

std::string_view label_of(MarkKind value) {
    switch (value) {
    case MarkKind::Unknown: return "not known";
    case MarkKind::Bevel: return "bevelled edge";
    case MarkKind::Chamfer: return "chamfered land";
    case MarkKind::Plus: return "plus sign";
    case MarkKind::Minus: return "minus sign";
    case MarkKind::LetterK: return "letter K";
    case MarkKind::LetterA: return "letter A";
    case MarkKind::OutlineGap: return "gap in the printed outline";
    case MarkKind::Port: return "port or window";
    default: return plain(value);
    }
}

std::string_view label_of(Meaning value) {
    switch (value) {
    case Meaning::Unknown: return "not known";
    case Meaning::Pin1: return "pin 1";
    case Meaning::CornerA1: return "corner A1";
    case Meaning::PortPosition: return "where the port is";
    case Meaning::WindingStart: return "start of the winding";
    default: return plain(value);
    }
}

std::string_view label_of(EvidenceKind value) {
    switch (value) {
    case EvidenceKind::SeenHere: return "seen on this board";
    case EvidenceKind::SeenOnDonor: return "seen on a donor board";
    case EvidenceKind::DataSheet: return "maker's data sheet";
    case EvidenceKind::Colleague: return "a colleague says so";
    default: return plain(value);
    }
}

std::string_view label_of(RecordState value) {
    return value == RecordState::NoMark ? "no mark to be seen" : plain(value);
}

std::string_view label_of(Presence value) {
    switch (value) {
    case Presence::Removed: return "taken off, place known";
    case Presence::Lost: return "taken off, not found";
    case Presence::NotFitted: return "never fitted";
    default: return plain(value);
    }
}

std::string_view label_of(Seating value) {
    return value == Seating::SideOverhang  ? "over the side of its land"
           : value == Seating::EndOverhang ? "over the end of its land"
           : value == Seating::Tombstoned  ? "stands on one end"
                                           : plain(value);
}

std::string_view label_of(JointState value) {
    switch (value) {
    case JointState::Excess: return "too much solder";
    case JointState::Insufficient: return "too little solder";
    default: return plain(value);
    }
}

std::string_view label_of(BodyState value) {
    return plain(value);
}

std::string_view label_of(LandState value) {
    return value == LandState::MaskDamaged ? "solder mask damaged"
           : value == LandState::Residue   ? "residue left on it"
                                           : plain(value);
}

std::string_view label_of(Certainty value) {
    switch (value) {
    case Certainty::Low: return "unknown until checked";
    case Certainty::Medium: return "usual, with exceptions";
    case Certainty::High: return "sure";
    }
    return "unknown until checked";
}

std::string_view consequence_text(int grade) {
    static constexpr std::array<std::string_view, 5> kTexts{
        "no effect", "works less well", "does not work, nothing is damaged", "damages itself or the board",
        "hazard to people: fire or venting"};
    assert(grade >= 0 && grade <= 4);
    return kTexts[static_cast<std::size_t>(grade)];
}

} // namespace padchart::patterns
