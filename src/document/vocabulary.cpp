#include "document/vocabulary.hpp"

#include <array>

namespace padchart::document {

template <>
std::span<const Word<Side>> words<Side>() {
    static constexpr std::array<Word<Side>, 2> kWords{{
        {Side::Top, "top"},
        {Side::Bottom, "bottom"},
    }};
    return kWords;
}

template <>
std::span<const Word<ShapeKind>> words<ShapeKind>() {
    static constexpr std::array<Word<ShapeKind>, 4> kWords{{
        {ShapeKind::Rectangle, "rectangle"},
        {ShapeKind::Round, "round"},
        {ShapeKind::Oblong, "oblong"},
        {ShapeKind::Polygon, "polygon"},
    }};
    return kWords;
}

template <>
std::span<const Word<PartClass>> words<PartClass>() {
    static constexpr std::array<Word<PartClass>, 56> kWords{{
        {PartClass::Unknown, "unknown"},
        {PartClass::Resistor, "resistor"},
        {PartClass::SenseResistor, "sense-resistor"},
        {PartClass::Thermistor, "thermistor"},
        {PartClass::Varistor, "varistor"},
        {PartClass::Jumper, "jumper"},
        {PartClass::ArrayIsolated, "array-isolated"},
        {PartClass::ArrayCommon, "array-common"},
        {PartClass::CeramicCapacitor, "ceramic-capacitor"},
        {PartClass::FeedthroughCapacitor, "feedthrough-capacitor"},
        {PartClass::TantalumCapacitor, "tantalum-capacitor"},
        {PartClass::PolymerCapacitor, "polymer-capacitor"},
        {PartClass::AluminiumCapacitor, "aluminium-capacitor"},
        {PartClass::Supercapacitor, "supercapacitor"},
        {PartClass::FilmCapacitor, "film-capacitor"},
        {PartClass::Inductor, "inductor"},
        {PartClass::FerriteBead, "ferrite-bead"},
        {PartClass::CommonModeChoke, "common-mode-choke"},
        {PartClass::Transformer, "transformer"},
        {PartClass::Filter, "filter"},
        {PartClass::Diode, "diode"},
        {PartClass::Zener, "zener"},
        {PartClass::TvsOneWay, "tvs-one-way"},
        {PartClass::TvsTwoWay, "tvs-two-way"},
        {PartClass::EsdArray, "esd-array"},
        {PartClass::Led, "led"},
        {PartClass::Photodiode, "photodiode"},
        {PartClass::BridgeRectifier, "bridge-rectifier"},
        {PartClass::Optocoupler, "optocoupler"},
        {PartClass::Transistor, "transistor"},
        {PartClass::IntegratedCircuit, "integrated-circuit"},
        {PartClass::Oscillator, "oscillator"},
        {PartClass::Crystal, "crystal"},
        {PartClass::CrystalWithThermistor, "crystal-with-thermistor"},
        {PartClass::Resonator, "resonator"},
        {PartClass::Fuse, "fuse"},
        {PartClass::Cell, "cell"},
        {PartClass::CellHolder, "cell-holder"},
        {PartClass::BoardConnector, "board-connector"},
        {PartClass::FlatCableConnector, "flat-cable-connector"},
        {PartClass::CardSocket, "card-socket"},
        {PartClass::Receptacle, "receptacle"},
        {PartClass::Connector, "connector"},
        {PartClass::SpringContact, "spring-contact"},
        {PartClass::Switch, "switch"},
        {PartClass::Relay, "relay"},
        {PartClass::Motor, "motor"},
        {PartClass::Microphone, "microphone"},
        {PartClass::Buzzer, "buzzer"},
        {PartClass::Sensor, "sensor"},
        {PartClass::Camera, "camera"},
        {PartClass::Antenna, "antenna"},
        {PartClass::TestPoint, "test-point"},
        {PartClass::ShieldCan, "shield-can"},
        {PartClass::MountingHole, "mounting-hole"},
        {PartClass::Mechanical, "mechanical"},
    }};
    return kWords;
}

template <>
std::span<const Word<MarkKind>> words<MarkKind>() {
    static constexpr std::array<Word<MarkKind>, 28> kWords{{
        {MarkKind::Unknown, "unknown"},
        {MarkKind::Dot, "dot"},
        {MarkKind::Dimple, "dimple"},
        {MarkKind::Bar, "bar"},
        {MarkKind::Band, "band"},
        {MarkKind::Line, "line"},
        {MarkKind::Notch, "notch"},
        {MarkKind::Bevel, "bevel"},
        {MarkKind::Chamfer, "chamfer"},
        {MarkKind::CutCorner, "cut-corner"},
        {MarkKind::Triangle, "triangle"},
        {MarkKind::Arrow, "arrow"},
        {MarkKind::Plus, "plus"},
        {MarkKind::Minus, "minus"},
        {MarkKind::LetterK, "letter-k"},
        {MarkKind::LetterA, "letter-a"},
        {MarkKind::DarkSector, "dark-sector"},
        {MarkKind::FilledHalf, "filled-half"},
        {MarkKind::OutlineGap, "outline-gap"},
        {MarkKind::SquareLand, "square-land"},
        {MarkKind::LongerLand, "longer-land"},
        {MarkKind::MissingBall, "missing-ball"},
        {MarkKind::LoneLead, "lone-lead"},
        {MarkKind::WiderLead, "wider-lead"},
        {MarkKind::Port, "port"},
        {MarkKind::Key, "key"},
        {MarkKind::ActuatorSide, "actuator-side"},
        {MarkKind::Text, "text"},
    }};
    return kWords;
}

template <>
std::span<const Word<Meaning>> words<Meaning>() {
    static constexpr std::array<Word<Meaning>, 13> kWords{{
        {Meaning::Unknown, "unknown"},
        {Meaning::Pin1, "pin-1"},
        {Meaning::CornerA1, "corner-a1"},
        {Meaning::Cathode, "cathode"},
        {Meaning::Anode, "anode"},
        {Meaning::Positive, "positive"},
        {Meaning::Negative, "negative"},
        {Meaning::Input, "input"},
        {Meaning::KeySide, "key-side"},
        {Meaning::ContactSide, "contact-side"},
        {Meaning::PortPosition, "port-position"},
        {Meaning::WindingStart, "winding-start"},
        {Meaning::NoPolarity, "no-polarity"},
    }};
    return kWords;
}

template <>
std::span<const Word<EvidenceKind>> words<EvidenceKind>() {
    static constexpr std::array<Word<EvidenceKind>, 7> kWords{{
        {EvidenceKind::NotStated, "not-stated"},
        {EvidenceKind::SeenHere, "seen-here"},
        {EvidenceKind::SeenOnDonor, "seen-on-donor"},
        {EvidenceKind::Photo, "photo"},
        {EvidenceKind::DataSheet, "data-sheet"},
        {EvidenceKind::Colleague, "colleague"},
        {EvidenceKind::Metered, "metered"},
    }};
    return kWords;
}

template <>
std::span<const Word<RecordState>> words<RecordState>() {
    static constexpr std::array<Word<RecordState>, 3> kWords{{
        {RecordState::NotRecorded, "not-recorded"},
        {RecordState::Recorded, "recorded"},
        {RecordState::NoMark, "no-mark"},
    }};
    return kWords;
}

template <>
std::span<const Word<Presence>> words<Presence>() {
    static constexpr std::array<Word<Presence>, 6> kWords{{
        {Presence::NotChecked, "not-checked"},
        {Presence::Present, "present"},
        {Presence::Missing, "missing"},
        {Presence::Removed, "removed"},
        {Presence::Lost, "lost"},
        {Presence::NotFitted, "not-fitted"},
    }};
    return kWords;
}

template <>
std::span<const Word<Seating>> words<Seating>() {
    static constexpr std::array<Word<Seating>, 12> kWords{{
        {Seating::NotChecked, "not-checked"},
        {Seating::Good, "good"},
        {Seating::SideOverhang, "side-overhang"},
        {Seating::EndOverhang, "end-overhang"},
        {Seating::Skewed, "skewed"},
        {Seating::Tombstoned, "tombstoned"},
        {Seating::OnItsSide, "on-its-side"},
        {Seating::UpsideDown, "upside-down"},
        {Seating::Stacked, "stacked"},
        {Seating::WrongWayRound, "wrong-way-round"},
        {Seating::WrongPart, "wrong-part"},
        {Seating::Loose, "loose"},
    }};
    return kWords;
}

template <>
std::span<const Word<JointState>> words<JointState>() {
    static constexpr std::array<Word<JointState>, 11> kWords{{
        {JointState::NotChecked, "not-checked"},
        {JointState::Good, "good"},
        {JointState::Bridged, "bridged"},
        {JointState::Cold, "cold"},
        {JointState::Disturbed, "disturbed"},
        {JointState::NotWetted, "not-wetted"},
        {JointState::Dewetted, "dewetted"},
        {JointState::Excess, "excess"},
        {JointState::Insufficient, "insufficient"},
        {JointState::Open, "open"},
        {JointState::SolderBall, "solder-ball"},
    }};
    return kWords;
}

template <>
std::span<const Word<BodyState>> words<BodyState>() {
    static constexpr std::array<Word<BodyState>, 8> kWords{{
        {BodyState::NotChecked, "not-checked"},
        {BodyState::Good, "good"},
        {BodyState::Cracked, "cracked"},
        {BodyState::Chipped, "chipped"},
        {BodyState::Burnt, "burnt"},
        {BodyState::Melted, "melted"},
        {BodyState::Corroded, "corroded"},
        {BodyState::LeadBent, "lead-bent"},
    }};
    return kWords;
}

template <>
std::span<const Word<LandState>> words<LandState>() {
    static constexpr std::array<Word<LandState>, 8> kWords{{
        {LandState::NotChecked, "not-checked"},
        {LandState::Good, "good"},
        {LandState::Lifted, "lifted"},
        {LandState::Missing, "missing"},
        {LandState::Torn, "torn"},
        {LandState::MaskDamaged, "mask-damaged"},
        {LandState::Blistered, "blistered"},
        {LandState::Residue, "residue"},
    }};
    return kWords;
}

template <>
std::span<const Word<KeepOutReason>> words<KeepOutReason>() {
    static constexpr std::array<Word<KeepOutReason>, 16> kWords{{
        {KeepOutReason::Unknown, "unknown"},
        {KeepOutReason::Cell, "cell"},
        {KeepOutReason::PlasticConnector, "plastic-connector"},
        {KeepOutReason::CardTrayOrSwitch, "card-tray-or-switch"},
        {KeepOutReason::PortOpening, "port-opening"},
        {KeepOutReason::Optics, "optics"},
        {KeepOutReason::CapacitorCan, "capacitor-can"},
        {KeepOutReason::TuningFork, "tuning-fork"},
        {KeepOutReason::ThermalFuse, "thermal-fuse"},
        {KeepOutReason::Underfill, "underfill"},
        {KeepOutReason::LabelOrFoam, "label-or-foam"},
        {KeepOutReason::Coating, "coating"},
        {KeepOutReason::FarSidePart, "far-side-part"},
        {KeepOutReason::Flexible, "flexible"},
        {KeepOutReason::MagnetOrMotor, "magnet-or-motor"},
        {KeepOutReason::Lens, "lens"},
    }};
    return kWords;
}

template <>
std::span<const Word<Measure>> words<Measure>() {
    static constexpr std::array<Word<Measure>, 4> kWords{{
        {Measure::None, "none"},
        {Measure::Removed, "removed"},
        {Measure::Shielded, "shielded"},
        {Measure::Watched, "watched"},
    }};
    return kWords;
}

template <>
std::span<const Word<ShieldKind>> words<ShieldKind>() {
    static constexpr std::array<Word<ShieldKind>, 4> kWords{{
        {ShieldKind::PolyimideTape, "polyimide-tape"},
        {ShieldKind::AluminiumTape, "aluminium-tape"},
        {ShieldKind::Foil, "foil"},
        {ShieldKind::MetalPlate, "metal-plate"},
    }};
    return kWords;
}

template <>
std::span<const Word<Quantity>> words<Quantity>() {
    static constexpr std::array<Word<Quantity>, 9> kWords{{
        {Quantity::DiodeDrop, "diode-drop"},
        {Quantity::ResistanceToGround, "resistance-to-ground"},
        {Quantity::Resistance, "resistance"},
        {Quantity::Continuity, "continuity"},
        {Quantity::Voltage, "voltage"},
        {Quantity::Current, "current"},
        {Quantity::Capacitance, "capacitance"},
        {Quantity::SeriesResistance, "series-resistance"},
        {Quantity::Temperature, "temperature"},
    }};
    return kWords;
}

template <>
std::span<const Word<SpecialValue>> words<SpecialValue>() {
    static constexpr std::array<Word<SpecialValue>, 3> kWords{{
        {SpecialValue::OverLimit, "OL"},
        {SpecialValue::Short, "short"},
        {SpecialValue::Unstable, "unstable"},
    }};
    return kWords;
}

template <>
std::span<const Word<PowerState>> words<PowerState>() {
    static constexpr std::array<Word<PowerState>, 4> kWords{{
        {PowerState::NotStated, "not-stated"},
        {PowerState::Off, "off"},
        {PowerState::On, "on"},
        {PowerState::OffCellOut, "off-cell-out"},
    }};
    return kWords;
}

template <>
std::span<const Word<Leads>> words<Leads>() {
    static constexpr std::array<Word<Leads>, 5> kWords{{
        {Leads::NotStated, "not-stated"},
        {Leads::RedOnGround, "red-on-ground"},
        {Leads::BlackOnGround, "black-on-ground"},
        {Leads::RedOnFirst, "red-on-first"},
        {Leads::BlackOnFirst, "black-on-first"},
    }};
    return kWords;
}

template <>
std::span<const Word<WhichBoard>> words<WhichBoard>() {
    static constexpr std::array<Word<WhichBoard>, 3> kWords{{
        {WhichBoard::ThisBoard, "this-board"},
        {WhichBoard::KnownGood, "known-good"},
        {WhichBoard::Donor, "donor"},
    }};
    return kWords;
}

template <>
std::span<const Word<ScaleSource>> words<ScaleSource>() {
    static constexpr std::array<Word<ScaleSource>, 4> kWords{{
        {ScaleSource::DocumentUnits, "document-units"},
        {ScaleSource::TwoPoints, "two-points"},
        {ScaleSource::KnownPart, "known-part"},
        {ScaleSource::Drawn, "drawn"},
    }};
    return kWords;
}

} // namespace padchart::document
