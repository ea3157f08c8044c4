// Layouts of small outlines with three to five leads and of parts with a heat tab. Leads left, numbered downwards, so
// that pin 1 is upper left; then up the right side.

#include <algorithm>
#include <array>

#include "patterns/layout_parts.hpp"

namespace padchart::patterns {
namespace {

using document::Pad;

constexpr std::array<std::string_view, 2> kLeadChoices{"all leads", "middle lead cut off"};

constexpr ParameterSpec kBodyWidth = size_spec("body_width_mm", "body left to right");
constexpr ParameterSpec kBodyLength = size_spec("body_length_mm", "body top to bottom");
constexpr ParameterSpec kBodyHeight = size_spec("body_height_mm", "body height");
constexpr ParameterSpec kRowSpacing = size_spec("row_spacing_mm", "rows, centre to centre");
constexpr ParameterSpec kLandLength = size_spec("land_length_mm", "land along the lead");
constexpr ParameterSpec kLandWidth = size_spec("land_width_mm", "land across the lead");

document::Body body_of(const Given& given) {
    return rectangle_body(given("body_width_mm"), given("body_length_mm"), given("body_height_mm"));
}

constexpr std::array kThreeLead{
    kBodyWidth,
    kBodyLength,
    kBodyHeight,
    size_spec("pair_spacing_mm", "the pair, centre to centre"),
    kRowSpacing,
    kLandLength,
    kLandWidth,
    size_spec("lone_length_mm", "lone land along the lead"),
    size_spec("lone_width_mm", "lone land across the lead"),
};

Result<Pattern> build_three_lead(const Given& given) {
    const double x = given("row_spacing_mm") / 2;
    const double y = given("pair_spacing_mm") / 2;
    Pattern pattern;
    add_row(pattern.pads, 1, 2, {-x, -y}, {0, 2 * y}, given("land_length_mm"), given("land_width_mm"));
    pattern.pads.push_back(rectangle_pad("3", {x, 0}, given("lone_length_mm"), given("lone_width_mm")));
    pattern.body = body_of(given);
    return pattern;
}

// One lead wider than the other three: upper left, called 1 here (makers differ).
constexpr std::array kFourLead{
    kBodyWidth,
    kBodyLength,
    kBodyHeight,
    size_spec("pitch_mm", "side of equal leads, pitch"),
    size_spec("wide_pitch_mm", "side of the wide lead, pitch"),
    kRowSpacing,
    kLandLength,
    kLandWidth,
    size_spec("wide_width_mm", "wide land across the lead"),
};

Result<Pattern> build_four_lead(const Given& given) {
    const double x = given("row_spacing_mm") / 2;
    const double y = given("pitch_mm") / 2;
    const double l = given("land_length_mm");
    const double w = given("land_width_mm");
    const double wide_y = y - given("wide_pitch_mm");
    return Pattern{{rectangle_pad("1", {-x, wide_y}, l, given("wide_width_mm")), rectangle_pad("2", {-x, y}, l, w),
                    rectangle_pad("3", {x, y}, l, w), rectangle_pad("4", {x, -y}, l, w)},
                   body_of(given)};
}

// Three leads left, two right whose middle one is absent; the numbers run on without a gap.
constexpr std::array kFiveLead{
    kBodyWidth, kBodyLength, kBodyHeight, size_spec("pitch_mm", "pitch"), kRowSpacing, kLandLength, kLandWidth,
};

Result<Pattern> build_five_lead(const Given& given) {
    const double x = given("row_spacing_mm") / 2;
    const double pitch = given("pitch_mm");
    const double l = given("land_length_mm");
    const double w = given("land_width_mm");
    Pattern pattern;
    add_row(pattern.pads, 1, 3, {-x, -pitch}, {0, pitch}, l, w);
    add_row(pattern.pads, 4, 2, {x, pitch}, {0, -2 * pitch}, l, w);
    pattern.body = body_of(given);
    return pattern;
}

constexpr std::array kTabBase{
    kBodyWidth,
    kBodyLength,
    kBodyHeight,
    count_spec("leads", "leads", 2, 9),
    choice_spec("middle_lead", "leads soldered", kLeadChoices),
    size_spec("pitch_mm", "pitch"),
    place_spec("lead_x_mm", "leads' centre from the body's"),
    kLandLength,
    kLandWidth,
    place_spec("tab_x_mm", "tab's centre from the body's"),
    size_spec("tab_length_mm", "tab left to right"),
    size_spec("tab_width_mm", "tab top to bottom"),
};

std::span<const ParameterSpec> tab_specs() {
    static const std::array<ParameterSpec, kTabBase.size() + 1> kSpecs = [] {
        std::array<ParameterSpec, kTabBase.size() + 1> specs{};
        std::copy(kTabBase.begin(), kTabBase.end(), specs.begin());
        specs.back() = choice_spec("tab_name", "tab is called", centre_name_choices());
        return specs;
    }();
    return kSpecs;
}

/// The middle lead and the tab as one land.
Pad joined_tab(const Given& given, std::string number) {
    const double lead = given("lead_x_mm") - given("land_length_mm") / 2;
    const double half_lead = given("land_width_mm") / 2;
    const double near = given("tab_x_mm") - given("tab_length_mm") / 2;
    const double far = given("tab_x_mm") + given("tab_length_mm") / 2;
    const double half_tab = given("tab_width_mm") / 2;
    return polygon_pad(std::move(number), {{lead, -half_lead},
                                           {near, -half_lead},
                                           {near, -half_tab},
                                           {far, -half_tab},
                                           {far, half_tab},
                                           {near, half_tab},
                                           {near, half_lead},
                                           {lead, half_lead}});
}

Pad separate_tab(const Given& given) {
    return rectangle_pad(centre_name(given.count("tab_name"), given.count("leads")), {given("tab_x_mm"), 0},
                         given("tab_length_mm"), given("tab_width_mm"));
}

Result<Pattern> build_tab(const Given& given) {
    const int leads = given.count("leads");
    const bool joined = given.variant() == "joined";
    const bool cut = given.count("middle_lead") == 1;
    if (leads % 2 == 0 && (joined || cut))
        return Error{"A middle lead needs an odd number of leads, such as 3 or 5.", "leads"};
    if (joined && (cut || given("tab_width_mm") <= given("land_width_mm")))
        return Error{"The middle lead runs into the tab: it is not cut off and the tab is wider than it.",
                     "tab_width_mm"};
    Pattern pattern;
    add_row(pattern.pads, 1, leads, {given("lead_x_mm"), -(leads - 1) * given("pitch_mm") / 2}, {0, given("pitch_mm")},
            given("land_length_mm"), given("land_width_mm"));
    const auto middle = pattern.pads.begin() + leads / 2;
    if (joined) *middle = joined_tab(given, middle->number);
    if (cut) pattern.pads.erase(middle);
    if (!joined) pattern.pads.push_back(separate_tab(given));
    pattern.body = body_of(given);
    return pattern;
}

} // namespace

Layout three_lead_layout() {
    return {"family_three_lead", kThreeLead, build_three_lead, false};
}
Layout four_lead_layout() {
    return {"family_four_lead", kFourLead, build_four_lead, false};
}
Layout five_lead_layout() {
    return {"family_five_lead", kFiveLead, build_five_lead, false};
}
Layout tab_layout() {
    return {"family_tab", tab_specs(), build_tab, false};
}

} // namespace padchart::patterns
