// Class letters of reference designations, for names that are made up by the program.

#include <set>

#include "app/editor.hpp"
#include "patterns/designation.hpp"

namespace padchart::app {
namespace {

using document::PartClass;

// Letters as the trade prints them on boards (IEEE 315 and IEC 81346-2 as commonly used; from memory).
std::string_view letter_of(PartClass part_class) {
    switch (part_class) {
    case PartClass::Resistor:
    case PartClass::SenseResistor:
    case PartClass::Jumper: return "R";
    case PartClass::ArrayIsolated:
    case PartClass::ArrayCommon: return "RN";
    case PartClass::Thermistor: return "RT";
    case PartClass::Varistor: return "RV";
    case PartClass::CeramicCapacitor:
    case PartClass::FeedthroughCapacitor:
    case PartClass::TantalumCapacitor:
    case PartClass::PolymerCapacitor:
    case PartClass::AluminiumCapacitor:
    case PartClass::Supercapacitor:
    case PartClass::FilmCapacitor: return "C";
    case PartClass::Inductor:
    case PartClass::CommonModeChoke: return "L";
    case PartClass::FerriteBead: return "FB";
    case PartClass::Transformer: return "T";
    case PartClass::Filter: return "FL";
    case PartClass::Diode:
    case PartClass::Zener:
    case PartClass::TvsOneWay:
    case PartClass::TvsTwoWay:
    case PartClass::EsdArray:
    case PartClass::Led:
    case PartClass::Photodiode:
    case PartClass::BridgeRectifier: return "D";
    case PartClass::Transistor: return "Q";
    case PartClass::Optocoupler:
    case PartClass::IntegratedCircuit:
    case PartClass::Sensor: return "U";
    case PartClass::Oscillator:
    case PartClass::Crystal:
    case PartClass::CrystalWithThermistor:
    case PartClass::Resonator: return "Y";
    case PartClass::Fuse: return "F";
    case PartClass::Cell:
    case PartClass::CellHolder: return "BT";
    case PartClass::BoardConnector:
    case PartClass::FlatCableConnector:
    case PartClass::CardSocket:
    case PartClass::Receptacle:
    case PartClass::Connector:
    case PartClass::SpringContact: return "J";
    case PartClass::Switch: return "S";
    case PartClass::Relay: return "K";
    case PartClass::Motor: return "M";
    case PartClass::Microphone: return "MK";
    case PartClass::Buzzer: return "LS";
    case PartClass::Antenna: return "E";
    case PartClass::TestPoint: return "TP";
    case PartClass::MountingHole:
    case PartClass::Mechanical: return "H";
    case PartClass::Camera:
    case PartClass::ShieldCan:
    case PartClass::Unknown: break;
    }
    return patterns::kMadeUpLetters;
}

} // namespace

std::string free_name(const document::Chart& chart, PartClass part_class) {
    std::set<std::string_view> taken;
    for (const document::Footprint& part : chart.parts)
        taken.insert(part.name);
    const std::string letter(letter_of(part_class));
    for (std::size_t number = 1;; ++number) {
        std::string name = letter + std::to_string(number);
        if (!taken.contains(name)) return name;
    }
}

} // namespace padchart::app
