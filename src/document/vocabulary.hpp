#pragma once
// The closed word lists of a chart. Each word has one spelling, used in the file, on the command line and as the
// key of what the window shows. "unknown" and "not-checked" are answers, and the default wherever they exist.

#include <optional>
#include <span>
#include <string_view>

namespace padchart::document {

enum class Side { Top, Bottom };

enum class ShapeKind { Rectangle, Round, Oblong, Polygon };

/// What a part is, as far as fit, heat and cautions need to know. The free text `role` says what it does here.
enum class PartClass {
    Unknown,
    Resistor,
    SenseResistor,
    Thermistor,
    Varistor,
    Jumper,
    ArrayIsolated,
    ArrayCommon,
    CeramicCapacitor,
    FeedthroughCapacitor,
    TantalumCapacitor,
    PolymerCapacitor,
    AluminiumCapacitor,
    Supercapacitor,
    FilmCapacitor,
    Inductor,
    FerriteBead,
    CommonModeChoke,
    Transformer,
    Filter,
    Diode,
    Zener,
    TvsOneWay,
    TvsTwoWay,
    EsdArray,
    Led,
    Photodiode,
    BridgeRectifier,
    Optocoupler,
    Transistor,
    IntegratedCircuit,
    Oscillator,
    Crystal,
    CrystalWithThermistor,
    Resonator,
    Fuse,
    Cell,
    CellHolder,
    BoardConnector,
    FlatCableConnector,
    CardSocket,
    Receptacle,
    Connector,
    SpringContact,
    Switch,
    Relay,
    Motor,
    Microphone,
    Buzzer,
    Sensor,
    Camera,
    Antenna,
    TestPoint,
    ShieldCan,
    MountingHole,
    Mechanical
};

enum class MarkKind {
    Unknown,
    Dot,
    Dimple,
    Bar,
    Band,
    Line,
    Notch,
    Bevel,
    Chamfer,
    CutCorner,
    Triangle,
    Arrow,
    Plus,
    Minus,
    LetterK,
    LetterA,
    DarkSector,
    FilledHalf,
    OutlineGap,
    SquareLand,
    LongerLand,
    MissingBall,
    LoneLead,
    WiderLead,
    Port,
    Key,
    ActuatorSide,
    Text
};

/// What the mark says about this part.
enum class Meaning {
    Unknown,
    Pin1,
    CornerA1,
    Cathode,
    Anode,
    Positive,
    Negative,
    Input,
    KeySide,
    ContactSide,
    PortPosition,
    WindingStart,
    NoPolarity
};

enum class EvidenceKind { NotStated, SeenHere, SeenOnDonor, Photo, DataSheet, Colleague, Metered };

enum class RecordState {
    NotRecorded, ///< nobody has looked yet
    Recorded,    ///< a mark with its bearing is on record
    NoMark       ///< looked, and there is nothing to be seen
};

// State of a part: five questions, each with its own answer, so that nobody has to pick the lesser of two faults.
enum class Presence { NotChecked, Present, Missing, Removed, Lost, NotFitted };
enum class Seating {
    NotChecked,
    Good,
    SideOverhang,
    EndOverhang,
    Skewed,
    Tombstoned,
    OnItsSide,
    UpsideDown,
    Stacked,
    WrongWayRound,
    WrongPart,
    Loose
};
enum class JointState {
    NotChecked,
    Good,
    Bridged,
    Cold,
    Disturbed,
    NotWetted,
    Dewetted,
    Excess,
    Insufficient,
    Open,
    SolderBall
};
enum class BodyState { NotChecked, Good, Cracked, Chipped, Burnt, Melted, Corroded, LeadBent };
enum class LandState { NotChecked, Good, Lifted, Missing, Torn, MaskDamaged, Blistered, Residue };

enum class KeepOutReason {
    Unknown,
    Cell,
    PlasticConnector,
    CardTrayOrSwitch,
    PortOpening,
    Optics,
    CapacitorCan,
    TuningFork,
    ThermalFuse,
    Underfill,
    LabelOrFoam,
    Coating,
    FarSidePart,
    Flexible,
    MagnetOrMotor,
    Lens
};
enum class Measure { None, Removed, Shielded, Watched };

enum class ShieldKind { PolyimideTape, AluminiumTape, Foil, MetalPlate };

enum class Quantity {
    DiodeDrop,
    ResistanceToGround,
    Resistance,
    Continuity,
    Voltage,
    Current,
    Capacitance,
    SeriesResistance,
    Temperature
};
/// Text where a number would lie.
enum class SpecialValue { OverLimit, Short, Unstable };
enum class PowerState { NotStated, Off, On, OffCellOut };
enum class Leads { NotStated, RedOnGround, BlackOnGround, RedOnFirst, BlackOnFirst };
enum class WhichBoard { ThisBoard, KnownGood, Donor };

enum class ScaleSource { DocumentUnits, TwoPoints, KnownPart, Drawn };

/// One word and its spelling.
template <class Enum>
struct Word {
    Enum value;
    std::string_view text;
};

/// All words of a list, in the order of the enum. Defined for every enum above.
template <class Enum>
[[nodiscard]] std::span<const Word<Enum>> words();

template <>
std::span<const Word<Side>> words<Side>();
template <>
std::span<const Word<ShapeKind>> words<ShapeKind>();
template <>
std::span<const Word<PartClass>> words<PartClass>();
template <>
std::span<const Word<MarkKind>> words<MarkKind>();
template <>
std::span<const Word<Meaning>> words<Meaning>();
template <>
std::span<const Word<EvidenceKind>> words<EvidenceKind>();
template <>
std::span<const Word<RecordState>> words<RecordState>();
template <>
std::span<const Word<Presence>> words<Presence>();
template <>
std::span<const Word<Seating>> words<Seating>();
template <>
std::span<const Word<JointState>> words<JointState>();
template <>
std::span<const Word<BodyState>> words<BodyState>();
template <>
std::span<const Word<LandState>> words<LandState>();
template <>
std::span<const Word<KeepOutReason>> words<KeepOutReason>();
template <>
std::span<const Word<Measure>> words<Measure>();
template <>
std::span<const Word<ShieldKind>> words<ShieldKind>();
template <>
std::span<const Word<Quantity>> words<Quantity>();
template <>
std::span<const Word<SpecialValue>> words<SpecialValue>();
template <>
std::span<const Word<PowerState>> words<PowerState>();
template <>
std::span<const Word<Leads>> words<Leads>();
template <>
std::span<const Word<WhichBoard>> words<WhichBoard>();
template <>
std::span<const Word<ScaleSource>> words<ScaleSource>();

template <class Enum>
[[nodiscard]] std::string_view to_text(Enum value) {
    for (const Word<Enum>& word : words<Enum>())
        if (word.value == value) return word.text;
    return "unknown";
}

template <class Enum>
[[nodiscard]] std::optional<Enum> from_text(std::string_view text) {
    for (const Word<Enum>& word : words<Enum>())
        if (word.text == text) return word.value;
    return std::nullopt;
}

} // namespace padchart::document
