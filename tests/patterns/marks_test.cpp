#include "patterns/marks.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>

#include "patterns/labels.hpp"
#include "patterns/table.hpp"
#include "support.hpp"

using namespace padchart;
using namespace padchart::patterns;
using namespace padchart::document;

namespace {

Footprint marked(PartClass part_class, MarkKind mark, Meaning meaning, EvidenceKind evidence = EvidenceKind::SeenHere) {
    Footprint part;
    part.id = {"d3"};
    part.part_class = part_class;
    part.orientation.state = RecordState::Recorded;
    part.orientation.mark = mark;
    part.orientation.meaning = meaning;
    part.orientation.evidence.kind = evidence;
    return part;
}

std::string codes(const Footprint& part) {
    std::string all;
    for (const Diagnostic& finding : orientation_conflicts(part))
        all += (all.empty() ? "" : " ") + finding.code;
    return all;
}

std::vector<std::string> split_words(std::string_view cell) {
    std::vector<std::string> all;
    std::string word;
    for (const char c : std::string(cell) + " ") {
        if (c != ' ') {
            word += c;
            continue;
        }
        if (!word.empty()) all.push_back(word);
        word.clear();
    }
    return all;
}

} // namespace

// Trade texts: pin 1 of a diode is the cathode (IPC-7351); bar on a tantalum, dark sector and bevel of a can (makers'
// drawings).
TEST_CASE("the four marks that are mixed up most") {
    CHECK(usual_meaning(PartClass::Diode, MarkKind::Band)->meaning == Meaning::Cathode);
    CHECK(usual_meaning(PartClass::TantalumCapacitor, MarkKind::Bar)->meaning == Meaning::Positive);
    CHECK(usual_meaning(PartClass::AluminiumCapacitor, MarkKind::DarkSector)->meaning == Meaning::Negative);
    CHECK(usual_meaning(PartClass::AluminiumCapacitor, MarkKind::Bevel)->meaning == Meaning::Positive);
    for (const auto& [part_class, mark] : {std::pair{PartClass::Diode, MarkKind::Band},
                                           {PartClass::TantalumCapacitor, MarkKind::Bar},
                                           {PartClass::AluminiumCapacitor, MarkKind::DarkSector},
                                           {PartClass::AluminiumCapacitor, MarkKind::Bevel}})
        CHECK(usual_meaning(part_class, mark)->certainty == Certainty::High);
}

// An assembler's documented case: near-identical LEDs with the same mark and opposite meaning.
TEST_CASE("the mark of an LED is unknown until checked") {
    for (const MarkKind mark :
         {MarkKind::Dot, MarkKind::Line, MarkKind::Triangle, MarkKind::Notch, MarkKind::CutCorner}) {
        CHECK(suggested_meaning(PartClass::Led, mark) == Meaning::Unknown);
        CHECK(usual_meaning(PartClass::Led, mark)->certainty == Certainty::Low);
    }
    CHECK(codes(marked(PartClass::Led, MarkKind::Dot, Meaning::Cathode, EvidenceKind::NotStated)) == "mark-unproved");
    CHECK(codes(marked(PartClass::Led, MarkKind::Dot, Meaning::Anode, EvidenceKind::Metered)).empty());
    CHECK(codes(marked(PartClass::Led, MarkKind::Dot, Meaning::Unknown, EvidenceKind::NotStated)).empty());
    const Footprint unstated = marked(PartClass::Led, MarkKind::Dot, Meaning::Cathode, EvidenceKind::NotStated);
    CHECK(orientation_conflicts(unstated).front().severity == Severity::Warning);
    const Footprint seen = marked(PartClass::Led, MarkKind::Dot, Meaning::Cathode, EvidenceKind::SeenHere);
    CHECK(orientation_conflicts(seen).front().severity == Severity::Note);
}

TEST_CASE("opposite meanings are faults unless proved") {
    const auto opposite = [](PartClass part_class, MarkKind mark, Meaning meaning) {
        CAPTURE(to_text(part_class));
        const Diagnostics found = orientation_conflicts(marked(part_class, mark, meaning));
        REQUIRE(found.size() == 1);
        CHECK(found.front().code == "mark-against-custom");
        CHECK(found.front().severity == Severity::Fault);
        CHECK(found.front().target == "d3");
        const Diagnostics proved = orientation_conflicts(marked(part_class, mark, meaning, EvidenceKind::DataSheet));
        REQUIRE(proved.size() == 1);
        CHECK(proved.front().severity == Severity::Warning);
    };
    opposite(PartClass::TantalumCapacitor, MarkKind::Bar, Meaning::Negative);
    opposite(PartClass::TantalumCapacitor, MarkKind::Bar, Meaning::Cathode);
    opposite(PartClass::AluminiumCapacitor, MarkKind::DarkSector, Meaning::Positive);
    opposite(PartClass::AluminiumCapacitor, MarkKind::Bevel, Meaning::Negative);
    opposite(PartClass::Diode, MarkKind::Band, Meaning::Anode);
    opposite(PartClass::Zener, MarkKind::Bar, Meaning::Anode);
}

TEST_CASE("right records raise nothing") {
    CHECK(codes(marked(PartClass::TantalumCapacitor, MarkKind::Bar, Meaning::Positive)).empty());
    CHECK(codes(marked(PartClass::TantalumCapacitor, MarkKind::Bar, Meaning::Anode)).empty());
    CHECK(codes(marked(PartClass::TantalumCapacitor, MarkKind::Bar, Meaning::Pin1)).empty());
    CHECK(codes(marked(PartClass::Diode, MarkKind::Band, Meaning::Cathode)).empty());
    CHECK(codes(marked(PartClass::Diode, MarkKind::Band, Meaning::Pin1)).empty());
    CHECK(codes(marked(PartClass::AluminiumCapacitor, MarkKind::DarkSector, Meaning::Negative)).empty());
    CHECK(codes(marked(PartClass::IntegratedCircuit, MarkKind::Dot, Meaning::Pin1)).empty());
    CHECK(codes(marked(PartClass::Filter, MarkKind::Dot, Meaning::Input)).empty());
    CHECK(codes(marked(PartClass::Unknown, MarkKind::Dot, Meaning::Cathode)).empty());
    CHECK(codes(Footprint{}).empty());
}

TEST_CASE("a meaning that such a part cannot have is pointed out") {
    CHECK(codes(marked(PartClass::Resistor, MarkKind::Bar, Meaning::Cathode)) == "meaning-not-of-class");
    CHECK(codes(marked(PartClass::TantalumCapacitor, MarkKind::Bar, Meaning::NoPolarity)) == "meaning-not-of-class");
    CHECK(codes(marked(PartClass::IntegratedCircuit, MarkKind::Dot, Meaning::Cathode)) == "meaning-not-of-class");
    CHECK(codes(marked(PartClass::Zener, MarkKind::Band, Meaning::Negative)) == "polarity-word");
}

TEST_CASE("a pin 1 mark across from land 1 is pointed out") {
    Footprint part = test::pattern("soic-8");
    part.orientation.state = RecordState::Recorded;
    part.orientation.mark = MarkKind::Dot;
    part.orientation.meaning = Meaning::Pin1;
    part.orientation.bearing = Angle::degrees(135); // upper left, where land 1 is
    CHECK(codes(part).empty());
    part.orientation.bearing = Angle::degrees(315);
    CHECK(codes(part) == "mark-far-from-pin-1");
    part.orientation.mark = MarkKind::Notch; // stands for an end, not for a place
    CHECK(codes(part).empty());
}

TEST_CASE("no mark and a named mark contradict each other") {
    Footprint part = marked(PartClass::Diode, MarkKind::Band, Meaning::Cathode);
    part.orientation.state = RecordState::NoMark;
    CHECK(codes(part) == "mark-without-record");
    part.orientation = {};
    part.orientation.state = RecordState::NoMark;
    CHECK(codes(part).empty());
}

TEST_CASE("a form never suggests what such a part cannot have") {
    for (const Word<PartClass>& part_class : words<PartClass>())
        for (const Word<MarkKind>& mark : words<MarkKind>()) {
            CAPTURE(part_class.text);
            CAPTURE(mark.text);
            CHECK(can_mean(part_class.value, suggested_meaning(part_class.value, mark.value)));
        }
}

TEST_CASE("following the suggestion never raises a contradiction") {
    for (const Word<PartClass>& part_class : words<PartClass>())
        for (const Word<MarkKind>& mark : words<MarkKind>()) {
            const Footprint part =
                marked(part_class.value, mark.value, suggested_meaning(part_class.value, mark.value));
            CHECK_MESSAGE(codes(part).empty(), part_class.text << " " << mark.text << " " << codes(part));
        }
}

TEST_CASE("the tables of marks hold only words that exist") {
    const Table& marks = table("marks");
    for (std::size_t row = 0; row < marks.size(); ++row) {
        for (const std::string& word : split_words(marks.text(row, "classes")))
            CHECK_MESSAGE((word == "any" || from_text<PartClass>(word)), word);
        for (const std::string& word : split_words(marks.text(row, "marks")))
            CHECK_MESSAGE(from_text<MarkKind>(word).has_value(), word);
        CHECK(from_text<Meaning>(marks.text(row, "meaning")).has_value());
        CHECK(std::set<std::string_view>{"low", "medium", "high"}.contains(marks.text(row, "certainty")));
        CHECK(!marks.text(row, "standing").empty());
        CHECK(!marks.text(row, "source").empty());
    }
    const Table& classes = table("class_meanings");
    std::multiset<std::string> named;
    for (std::size_t row = 0; row < classes.size(); ++row) {
        for (const std::string& word : split_words(classes.text(row, "classes"))) {
            CHECK_MESSAGE(from_text<PartClass>(word).has_value(), word);
            named.insert(word);
        }
        for (const std::string& word : split_words(classes.text(row, "meanings")))
            CHECK_MESSAGE(from_text<Meaning>(word).has_value(), word);
    }
    for (const Word<PartClass>& part_class : words<PartClass>())
        CHECK_MESSAGE(named.count(std::string(part_class.text)) == 1, part_class.text);
}

namespace {

/// Land 1 at the left on the one net, land 2 at the right on the other; the mark at the left.
Footprint between(PartClass part_class, Meaning meaning, const char* left, const char* right) {
    Footprint part = marked(part_class, MarkKind::Band, meaning);
    part.orientation.bearing = Angle::degrees(180);
    for (const auto& [number, x, net] : {std::tuple{"1", -1.0, left}, {"2", 1.0, right}}) {
        Pad pad;
        pad.number = number;
        pad.net = net;
        pad.at = {x, 0};
        pad.shape = {ShapeKind::Rectangle, 0.6, 0.8, {}};
        part.pads.push_back(pad);
    }
    return part;
}

bool is_on_ground(const Footprint& part) {
    return codes(part).find("band-on-ground") != std::string::npos;
}

} // namespace

// A Zener or surge diode that guards a supply has its band towards the rail, not towards ground; common practice, no
// source. The same holds for the positive end of a polarised capacitor.
TEST_CASE("the band of a Zener on a net called ground is a finding") {
    CHECK(is_on_ground(between(PartClass::Zener, Meaning::Cathode, "GND", "VBAT")));
    CHECK(is_on_ground(between(PartClass::Zener, Meaning::Cathode, "gnd", "")));
    CHECK(is_on_ground(between(PartClass::Zener, Meaning::Pin1, "GND", "VBAT"))); // pin 1 is the cathode: IPC-7351
    CHECK(is_on_ground(between(PartClass::TvsOneWay, Meaning::Cathode, "0V", "USB")));
    CHECK(is_on_ground(between(PartClass::Zener, Meaning::Anode, "VBAT", "GND"))); // then the cathode is at the right
    CHECK(is_on_ground(between(PartClass::TantalumCapacitor, Meaning::Positive, "GND", "VBAT")));
    CHECK(is_on_ground(between(PartClass::TantalumCapacitor, Meaning::Negative, "VBAT", "GND")));
}

TEST_CASE("a band towards the rail is none nor is what the nets cannot tell") {
    CHECK_FALSE(is_on_ground(between(PartClass::Zener, Meaning::Cathode, "VBAT", "GND")));
    CHECK_FALSE(is_on_ground(between(PartClass::Zener, Meaning::Cathode, "", "")));
    CHECK_FALSE(is_on_ground(between(PartClass::Zener, Meaning::Cathode, "GND", "-12V"))); // guards a negative rail
    CHECK_FALSE(is_on_ground(between(PartClass::Zener, Meaning::Cathode, "AGND", "DGND")));
    CHECK_FALSE(is_on_ground(between(PartClass::Diode, Meaning::Cathode, "GND", "COIL"))); // may be right
    Footprint across = between(PartClass::Zener, Meaning::Cathode, "GND", "VBAT");
    across.orientation.bearing = Angle::degrees(90);
    CHECK_FALSE(is_on_ground(across));
    Footprint open = between(PartClass::Zener, Meaning::Cathode, "GND", "VBAT");
    open.orientation.state = RecordState::NotRecorded;
    CHECK_FALSE(is_on_ground(open));
}

TEST_CASE("marks are offered by what is usual on a class") {
    CHECK(usual_marks(PartClass::TantalumCapacitor).front() == MarkKind::Bar);
    CHECK(usual_marks(PartClass::Diode).front() == MarkKind::Band);
    for (const Word<PartClass>& part_class : words<PartClass>()) {
        const std::vector<MarkKind> marks = usual_marks(part_class.value);
        CAPTURE(part_class.text);
        CHECK(marks.size() >= 1);
        CHECK(std::set<MarkKind>(marks.begin(), marks.end()).size() == marks.size());
    }
}

namespace {

template <class Enum>
void check_labels() {
    std::set<std::string_view> seen;
    for (const Word<Enum>& word : words<Enum>()) {
        const std::string_view label = label_of(word.value);
        CAPTURE(word.text);
        CHECK(!label.empty());
        CHECK(label.size() <= 34);
        CHECK(label.find('-') != 0);
        CHECK_MESSAGE(seen.insert(label).second, "twice: " << label);
    }
}

} // namespace

TEST_CASE("every word has a short label of its own") {
    check_labels<PartClass>();
    check_labels<MarkKind>();
    check_labels<Meaning>();
    check_labels<EvidenceKind>();
    check_labels<RecordState>();
    check_labels<Presence>();
    check_labels<Seating>();
    check_labels<JointState>();
    check_labels<BodyState>();
    check_labels<LandState>();
    CHECK(label_of(PartClass::CeramicCapacitor) == "ceramic capacitor");
    CHECK(label_of(Certainty::Low) == "unknown until checked");
    CHECK(consequence_text(0) == "no effect");
    CHECK(consequence_text(4).find("hazard") == 0);
}
