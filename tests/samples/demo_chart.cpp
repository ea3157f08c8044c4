#include "samples/demo_chart.hpp"

#include <string_view>

#include "document/edits.hpp"

namespace padchart::samples {
namespace {

using namespace document;

/// One line of what the technician says: name, class, value, height of the body above the board in mm.
struct Said {
    std::string_view name;
    PartClass part_class;
    std::string_view value;
    double height_mm;
};

constexpr Said kSaid[] = {
    {"U1", PartClass::IntegratedCircuit, "", 0.8},
    {"U4", PartClass::IntegratedCircuit, "", 0.5},
    {"U6", PartClass::IntegratedCircuit, "", 1.6},
    {"U7", PartClass::IntegratedCircuit, "3V0", 1.2},
    {"U9", PartClass::IntegratedCircuit, "", 1.0},
    {"C1", PartClass::CeramicCapacitor, "10u 25V", 0.8},
    {"C2", PartClass::CeramicCapacitor, "100n", 0.5},
    {"C3", PartClass::CeramicCapacitor, "22u 6V3", 0.8},
    {"C4", PartClass::CeramicCapacitor, "22u 6V3", 0.8},
    {"C5", PartClass::CeramicCapacitor, "22u 6V3", 0.8},
    {"C7", PartClass::AluminiumCapacitor, "220u 10V", 5.8},
    {"C9", PartClass::TantalumCapacitor, "100u 6V3", 1.9},
    {"C11", PartClass::CeramicCapacitor, "1u", 0.3},
    {"C12", PartClass::CeramicCapacitor, "1u", 0.3},
    {"C13", PartClass::CeramicCapacitor, "10n", 0.2},
    {"C14", PartClass::CeramicCapacitor, "10n", 0.2},
    {"C15", PartClass::CeramicCapacitor, "100n", 0.5},
    {"C16", PartClass::CeramicCapacitor, "100n", 0.5},
    {"C17", PartClass::CeramicCapacitor, "1u", 0.5},
    {"C18", PartClass::CeramicCapacitor, "10u", 0.8},
    {"C30", PartClass::CeramicCapacitor, "10u", 0.8},
    {"C31", PartClass::CeramicCapacitor, "1u", 0.5},
    {"C32", PartClass::CeramicCapacitor, "100n", 0.5},
    {"C33", PartClass::CeramicCapacitor, "10u", 0.8},
    {"R1", PartClass::Resistor, "2k0", 0.35},
    {"R2", PartClass::Resistor, "10k", 0.35},
    {"R3", PartClass::Resistor, "10k", 0.35},
    {"R4", PartClass::Resistor, "100k", 0.35},
    {"R5", PartClass::Resistor, "330k", 0.35},
    {"R7", PartClass::Resistor, "100k", 0.13},
    {"R8", PartClass::Resistor, "2k2", 0.35},
    {"R9", PartClass::Resistor, "2k2", 0.35},
    {"R10", PartClass::Resistor, "1k0", 0.35},
    {"R30", PartClass::Resistor, "0R", 0.35},
    {"R31", PartClass::Resistor, "4k7", 0.35},
    {"RN1", PartClass::ArrayIsolated, "4 x 10k", 0.45},
    {"L1", PartClass::Inductor, "2u2", 2.0},
    {"L5", PartClass::FerriteBead, "600R", 0.5},
    {"D1", PartClass::Diode, "", 2.2},
    {"D2", PartClass::Zener, "5V6", 0.7},
    {"D3", PartClass::TvsOneWay, "", 1.0},
    {"LED1", PartClass::Led, "green", 0.8},
    {"TV2", PartClass::EsdArray, "", 0.6},
    {"Q1", PartClass::Transistor, "", 1.1},
    {"Q2", PartClass::Transistor, "", 0.95},
    {"Q5", PartClass::Transistor, "", 1.1},
    {"X1", PartClass::Oscillator, "26 MHz", 0.8},
    {"Y1", PartClass::Crystal, "32 MHz", 0.7},
    {"J2", PartClass::CardSocket, "", 1.9},
    {"J5", PartClass::FlatCableConnector, "8 way", 2.0},
    {"J9", PartClass::BoardConnector, "2 x 10", 1.5},
    {"MK1", PartClass::Microphone, "", 1.0},
    {"BT1", PartClass::CellHolder, "12 mm cell", 3.2},
    {"SH1", PartClass::ShieldCan, "", 2.4},
    {"TP1", PartClass::TestPoint, "", 0.0},
    {"TP2", PartClass::TestPoint, "", 0.0},
    {"TP3", PartClass::TestPoint, "", 0.0},
};

/// A record that was made before heat. The mark's kind and bearing come from the trace where it was drawn there.
struct Recorded {
    std::string_view name;
    MarkKind mark;
    double bearing_deg; ///< used only where the trace shows no mark
    Meaning meaning;
    EvidenceKind evidence;
    std::string_view note;
};

constexpr Recorded kRecorded[] = {
    {"U1", MarkKind::Dot, 135, Meaning::Pin1, EvidenceKind::SeenHere, ""},
    {"U6", MarkKind::Dot, 135, Meaning::Pin1, EvidenceKind::SeenHere, ""},
    {"U9", MarkKind::Dot, 135, Meaning::Pin1, EvidenceKind::SeenHere, ""},
    {"C7", MarkKind::DarkSector, 0, Meaning::Negative, EvidenceKind::SeenHere, "bevelled corners agree"},
    {"C9", MarkKind::Bar, 180, Meaning::Positive, EvidenceKind::SeenHere, ""},
    {"BT1", MarkKind::Plus, 0, Meaning::Positive, EvidenceKind::SeenHere, ""},
    {"D1", MarkKind::Band, 180, Meaning::Cathode, EvidenceKind::SeenHere, ""},
    {"D2", MarkKind::Band, 180, Meaning::Cathode, EvidenceKind::Metered, "conducts towards the band"},
    {"D3", MarkKind::Band, 180, Meaning::Cathode, EvidenceKind::SeenOnDonor, "band faces the rail"},
};

struct Sensitive {
    std::string_view name;
    std::string_view material;
    std::string_view note;
};

constexpr Sensitive kSensitive[] = {
    {"J2", "pct", "kind read off the donor's frame"},
    {"J5", "lcp", "the actuator is softer: keep it closed"},
    {"J9", "lcp", ""},
    {"MK1", "mems-microphone", "port faces up"},
    {"C7", "al-can", ""},
    {"BT1", "pa9t", "the empty holder; the cell is out, in tray 3"},
};

/// Applies edits one after the other and remembers the first that failed.
class Editor {
public:
    explicit Editor(Chart chart) : chart_(std::move(chart)) {}

    template <class Edit>
    void part(std::string_view name, const Edit& edit) {
        const auto at = find_part_named(chart_, name);
        if (!at) return fail({"the trace has no part called " + std::string(name), {}});
        take(change_part(chart_, chart_.parts[*at].id, edit));
    }
    [[nodiscard]] Id id(std::string_view name) const {
        const auto at = find_part_named(chart_, name);
        return at ? chart_.parts[*at].id : Id{};
    }
    void take(Result<Chart> next) {
        if (next)
            chart_ = std::move(*next);
        else
            fail(next.error());
    }
    [[nodiscard]] const Chart& chart() const { return chart_; }
    [[nodiscard]] Result<Chart> result() && {
        if (error_) return *error_;
        return std::move(chart_);
    }

private:
    void fail(Error error) {
        if (!error_) error_ = std::move(error);
    }

    Chart chart_;
    std::optional<Error> error_;
};

void rename_second_r4(Editor& edit) {
    bool first = true;
    for (const Footprint& part : edit.chart().parts) {
        if (part.name != "R4") continue;
        if (!first) return edit.take(rename_part(edit.chart(), part.id, "R5"));
        first = false;
    }
}

void say(Editor& edit) {
    for (const Said& said : kSaid)
        edit.part(said.name, [&](Footprint& part) {
            part.part_class = said.part_class;
            part.value = said.value;
            if (part.body && said.height_mm > 0.0) part.body->height_mm = said.height_mm;
            part.condition.presence = Presence::Present;
            part.condition.seating = Seating::Good;
            part.condition.joint = JointState::Good;
        });
}

void record(Editor& edit) {
    for (const Recorded& recorded : kRecorded)
        edit.part(recorded.name, [&](Footprint& part) {
            Orientation& orientation = part.orientation;
            if (orientation.state != RecordState::Recorded) orientation.bearing = Angle::degrees(recorded.bearing_deg);
            orientation.state = RecordState::Recorded;
            orientation.mark = recorded.mark;
            orientation.meaning = recorded.meaning;
            orientation.evidence = {recorded.evidence, std::string(recorded.note), "M. Okonjo-Vale", "2026-03-14", {}};
        });
    // A line on a light-emitting diode proves nothing until it is lit, and the array and the clock show no mark at all.
    edit.part("LED1", [](Footprint& part) { part.orientation.meaning = Meaning::Unknown; });
    edit.part("X1", [](Footprint& part) { part.orientation.state = RecordState::NotRecorded; });
}

void protect(Editor& edit) {
    for (const Sensitive& sensitive : kSensitive)
        edit.part(sensitive.name, [&](Footprint& part) {
            if (!part.heat) part.heat.emplace();
            part.heat->material = sensitive.material;
            part.heat->note = sensitive.note;
        });
    for (const KeepOut& old : edit.chart().keep_outs) {
        KeepOut keep_out = old;
        keep_out.name = "antenna foam";
        keep_out.reason = KeepOutReason::LabelOrFoam;
        keep_out.measure = Measure::Removed;
        keep_out.note = "glued; lift it with the flat blade and keep it";
        edit.take(put(edit.chart(), keep_out));
        break;
    }
    Shield shield;
    shield.id = id_of("sh", "foil over J2");
    shield.name = "foil over J2";
    shield.kind = ShieldKind::AluminiumTape;
    shield.outline.outer = {{23.4, 16.9}, {37.7, 16.9}, {37.7, 28.4}, {23.4, 28.4}};
    shield.note = "two layers over the whole frame, pressed down along the near edge";
    edit.take(put(edit.chart(), shield));
}

void change_states(Editor& edit) {
    edit.part("C14", [](Footprint& part) {
        part.condition = {};
        part.condition.presence = Presence::Missing;
        part.condition.note = "was gone when the board came in";
    });
    edit.part("R7", [](Footprint& part) {
        part.condition.seating = Seating::Skewed;
        part.condition.note = "knocked; re-seat it with U4";
    });
    for (const std::string_view name : {"C30", "C33", "R30", "R31", "Q5", "U9"})
        edit.part(name, [](Footprint& part) { part.condition = {}; });
}

void plan_heat(Editor& edit) {
    Stack stack;
    stack.thickness_mm = 1.0;
    stack.layers = 4;
    stack.note = "counted at the slot";
    edit.take(set_stack(edit.chart(), stack));
    HeatPlan plan;
    plan.id = id_of("hp", "lift U4");
    plan.name = "lift U4";
    plan.target = edit.id("U4");
    plan.aim = {20.6, 21.0};
    plan.set_point_c = 350.0;
    plan.flow_l_per_min = 20.0;
    plan.nozzle_bore_mm = 4.0;
    plan.stand_off_mm = 10.0;
    plan.preheat_c = 120.0;
    plan.dwell_s = 45.0;
    plan.shields = {id_of("sh", "foil over J2")};
    plan.note = "card out, cell out, foam off first";
    edit.take(put(edit.chart(), plan));
}

Reading reading_at(const Editor& edit, std::string_view part, std::string_view pad, Quantity quantity,
                   std::variant<double, SpecialValue> value, std::string_view unit) {
    Reading reading;
    reading.id = id_of("rd", std::string(part) + "/" + std::string(pad) + "/" + std::string(to_text(quantity)));
    const auto at = find_part_named(edit.chart(), part);
    if (at) {
        const Footprint& found = edit.chart().parts[*at];
        reading.target = found.id;
        reading.at = found.placement.at;
        reading.side = found.placement.side;
    }
    reading.pad = pad;
    reading.quantity = quantity;
    reading.value = value;
    reading.unit = unit;
    reading.leads = Leads::RedOnGround;
    reading.power = PowerState::OffCellOut;
    reading.meter = "bench meter 2";
    reading.date = "2026-03-14";
    return reading;
}

void measure(Editor& edit) {
    edit.take(put(edit.chart(), reading_at(edit, "C11", "1", Quantity::DiodeDrop, 0.412, "V")));
    edit.take(put(edit.chart(), reading_at(edit, "C12", "1", Quantity::DiodeDrop, SpecialValue::Short, "V")));
    edit.take(put(edit.chart(), reading_at(edit, "TP3", "", Quantity::DiodeDrop, 0.538, "V")));
    edit.take(put(edit.chart(), reading_at(edit, "C9", "1", Quantity::ResistanceToGround, 1850.0, "ohm")));
    Note note;
    note.id = id_of("n", "corroded");
    note.at = {22.9, 22.9};
    note.text = "green residue under the edge of U4; clean before refitting";
    note.author = "M. Okonjo-Vale";
    note.date = "2026-03-14";
    note.target = edit.id("U4");
    edit.take(put(edit.chart(), note));
}

Title title() {
    Title title;
    title.title = "Power corner";
    title.board = "River logger";
    title.revision = "C";
    title.maker = "Tarn & Ford Gauging";
    title.serial = "RL-C-00217";
    title.job = "W-1043";
    title.author = "M. Okonjo-Vale";
    title.date = "2026-03-14";
    title.chart_revision = "4";
    title.up_edge = "cable edge";
    title.not_mapped = "the radio half to the right of the notch, and all inner layers";
    return title;
}

} // namespace

Result<Chart> demo_chart(Chart traced) {
    Editor edit(std::move(traced));
    edit.take(set_title(edit.chart(), title()));
    rename_second_r4(edit);
    say(edit);
    record(edit);
    protect(edit);
    change_states(edit);
    plan_heat(edit);
    measure(edit);
    return std::move(edit).result();
}

} // namespace padchart::samples
