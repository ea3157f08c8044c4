#include "scene/words.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <string_view>
#include <variant>

#include <fmt/format.h>

#include "geometry/affine.hpp"
#include "patterns/labels.hpp"

namespace padchart::scene {

using document::BodyState;
using document::Condition;
using document::Footprint;
using document::JointState;
using document::LandState;
using document::MarkKind;
using document::Meaning;
using document::Orientation;
using document::Pad;
using document::PartClass;
using document::Presence;
using document::Reading;
using document::RecordState;
using document::ScaleSource;
using document::Seating;
using document::SpecialValue;

namespace {

void join(std::string& text, std::string_view separator, std::string_view more) {
    if (more.empty()) return;
    if (!text.empty()) text += separator;
    text += more;
}

/// "joint cold", or nothing where the answer is "good" or "not checked".
template <class Enum>
std::string trouble(std::string_view of, Enum value) {
    if (value == Enum::NotChecked || value == Enum::Good) return {};
    return of.empty() ? std::string(patterns::label_of(value)) : fmt::format("{} {}", of, patterns::label_of(value));
}

std::string troubles(const Condition& condition) {
    std::string text;
    join(text, ", ", trouble("", condition.seating));
    join(text, ", ", trouble("joint", condition.joint));
    join(text, ", ", trouble("body", condition.body));
    join(text, ", ", trouble("land", condition.land));
    return text;
}

bool is_checked(const Condition& c) {
    return c.presence != Presence::NotChecked || c.seating != Seating::NotChecked ||
           c.joint != JointState::NotChecked || c.body != BodyState::NotChecked || c.land != LandState::NotChecked;
}

std::string pad_name(const Footprint& part, std::size_t i) {
    return part.pads[i].number.empty() ? fmt::format("#{}", i + 1) : part.pads[i].number;
}

std::string pad_trouble(const Pad& pad) {
    std::string text = trouble("land", pad.land);
    join(text, ", ", trouble("joint", pad.joint));
    return text;
}

} // namespace

std::string in_words(PartClass part_class) {
    return std::string(patterns::label_of(part_class));
}

std::string in_words(ScaleSource source) {
    switch (source) {
    case ScaleSource::DocumentUnits: return "stated by the trace itself";
    case ScaleSource::TwoPoints: return "two points and the distance between them";
    case ScaleSource::KnownPart: return "a part of known size";
    case ScaleSource::Drawn: return "drawn in millimetres";
    }
    return {};
}

std::string mark_and_meaning(const Orientation& orientation) {
    if (orientation.state == RecordState::NotRecorded) return "not recorded";
    if (orientation.state == RecordState::NoMark) return "no mark to be seen";
    const bool is_known = orientation.meaning != Meaning::Unknown;
    const std::string_view link = is_known ? " = " : ", ";
    const std::string_view meaning = is_known ? patterns::label_of(orientation.meaning) : "meaning unknown";
    return fmt::format("{}{}{}",
                       orientation.mark == MarkKind::Unknown ? "a mark" : patterns::label_of(orientation.mark), link,
                       meaning);
}

std::string mark_place(const Footprint& part) {
    static constexpr std::array<std::string_view, 8> kPlaces{"right", "upper right", "top",    "upper left",
                                                             "left",  "lower left",  "bottom", "lower right"};
    const double turn = (part.orientation.bearing + part.placement.turn).wrapped().degrees();
    return std::string(kPlaces[static_cast<std::size_t>((turn + 22.5) / 45.0) % 8]);
}

std::string condition_in_words(const Footprint& part) {
    const Condition& condition = part.condition;
    const std::string found = troubles(condition);
    std::string text;
    if (is_absent(part)) text = patterns::label_of(condition.presence);
    join(text, ", ", found);
    join(text, "; ", pad_faults_in_words(part));
    if (text.empty()) text = is_checked(condition) ? "no fault seen" : "not checked";
    if (!condition.not_needed_because.empty())
        join(text, "; ", fmt::format("not needed: {}", condition.not_needed_because));
    return text;
}

std::string pad_faults_in_words(const Footprint& part) {
    std::string text;
    for (std::size_t i = 0; i < part.pads.size(); ++i) {
        const std::string found = pad_trouble(part.pads[i]);
        if (!found.empty()) join(text, "; ", fmt::format("pad {}: {}", pad_name(part, i), found));
    }
    return text;
}

bool has_fault(const Pad& pad) {
    return !pad_trouble(pad).empty();
}

bool has_fault(const Condition& of_the_part_itself) {
    return !troubles(of_the_part_itself).empty();
}

bool has_fault(const Footprint& part) {
    return has_fault(part.condition) ||
           std::any_of(part.pads.begin(), part.pads.end(), [](const Pad& pad) { return has_fault(pad); });
}

bool is_absent(const Footprint& part) {
    return part.condition.presence != Presence::NotChecked && part.condition.presence != Presence::Present;
}

std::string ohms_in_words(double ohm) {
    const double size = std::abs(ohm);
    if (size >= 1e6) return fmt::format("{:.6g} MΩ", ohm / 1e6);
    if (size >= 1e3) return fmt::format("{:.6g} kΩ", ohm / 1e3);
    return fmt::format("{:.6g} Ω", ohm);
}

std::string value_in_words(const Reading& reading) {
    if (const SpecialValue* special = std::get_if<SpecialValue>(&reading.value))
        return std::string(document::to_text(*special));
    const double number = std::get<double>(reading.value);
    if (reading.unit == "ohm" || reading.unit == "Ω") return ohms_in_words(number);
    const std::string value = fmt::format("{:.6g}", number);
    return reading.unit.empty() ? value : value + " " + reading.unit;
}

std::string with_degrees(std::string text) {
    for (std::size_t at = text.find(" C"); at != std::string::npos; at = text.find(" C", at + 2)) {
        const bool after_number = at > 0 && text[at - 1] >= '0' && text[at - 1] <= '9';
        const bool ends = at + 2 == text.size() || !std::isalnum(static_cast<unsigned char>(text[at + 2]));
        if (after_number && ends) text.insert(at + 1, "°");
    }
    return text;
}

std::vector<std::string> with_degrees(std::vector<std::string> sentences) {
    for (std::string& sentence : sentences)
        sentence = with_degrees(std::move(sentence));
    return sentences;
}

std::string celsius(double value_c) {
    return number(value_c, 1) + " °C";
}

std::string number(double value, int decimals) {
    std::string text = fmt::format("{:.{}f}", value, decimals);
    if (text.find('.') != std::string::npos) {
        text.erase(text.find_last_not_of('0') + 1);
        if (text.back() == '.') text.pop_back();
    }
    return text == "-0" ? "0" : text;
}

} // namespace padchart::scene
