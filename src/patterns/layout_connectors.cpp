// Layouts of connectors and sockets. Contacts bear numbers from 1, fixing tabs T1, T2, ... counter-clockwise from the
// upper left. What reaches beyond the last contact is given from there, so that it follows when contacts are added.

#include <array>

#include "patterns/layout_parts.hpp"
#include "patterns/numbering.hpp"

namespace padchart::patterns {
namespace {

using document::Pad;
using geometry::Vec2;

constexpr std::array<std::string_view, 3> kSchemeChoices{"zigzag, odd left and even right", "counter-clockwise",
                                                         "both rows the same way"};
constexpr std::array<std::string_view, 4> kTabChoices{"none", "two, one at each end", "three, none upper left",
                                                      "four at the corners"};

constexpr std::array kBoardConnector{
    size_spec("body_width_mm", "body left to right"),
    size_spec("body_end_mm", "body beyond the last contact"),
    size_spec("body_height_mm", "body height"),
    count_spec("contacts_per_row", "contacts in each row", 1, 100),
    size_spec("pitch_mm", "pitch", 0.01),
    size_spec("row_spacing_mm", "rows, centre to centre"),
    size_spec("land_length_mm", "land across the row"),
    size_spec("land_width_mm", "land along the row"),
    choice_spec("numbering", "numbered", kSchemeChoices),
    choice_spec("tabs", "fixing tabs", kTabChoices),
    size_spec("tab_end_mm", "tab beyond the last contact, centres"),
    size_spec("tab_spacing_mm", "tabs of one end, centre to centre"),
    size_spec("tab_width_mm", "tab across the rows"),
    size_spec("tab_length_mm", "tab along the rows"),
};

std::vector<Vec2> tab_places(int choice, double x, double y) {
    switch (choice) {
    case 1: return {{0, -y}, {0, y}};
    case 2: return {{-x, y}, {x, y}, {x, -y}};
    case 3: return {{-x, -y}, {-x, y}, {x, y}, {x, -y}};
    default: return {};
    }
}

void add_tabs(std::vector<Pad>& pads, const std::vector<Vec2>& places, double width, double length) {
    for (std::size_t i = 0; i < places.size(); ++i)
        pads.push_back(rectangle_pad("T" + std::to_string(i + 1), places[i], width, length));
}

Result<Pattern> build_board_connector(const Given& given) {
    const int per_row = given.count("contacts_per_row");
    const double pitch = given("pitch_mm");
    const double last = (per_row - 1) * pitch / 2;
    const double x = given("row_spacing_mm") / 2;
    const auto scheme = static_cast<ConnectorScheme>(given.count("numbering"));
    std::vector<Pad> contacts(static_cast<std::size_t>(2 * per_row));
    for (int row = 0; row < 2; ++row)
        for (int place = 0; place < per_row; ++place) {
            const int pin = connector_pin(scheme, row, place, per_row);
            contacts[static_cast<std::size_t>(pin - 1)] =
                rectangle_pad(std::to_string(pin), {row == 0 ? -x : x, place * pitch - last}, given("land_length_mm"),
                              given("land_width_mm"));
        }
    Pattern pattern{std::move(contacts), {}};
    add_tabs(pattern.pads, tab_places(given.count("tabs"), given("tab_spacing_mm") / 2, last + given("tab_end_mm")),
             given("tab_width_mm"), given("tab_length_mm"));
    pattern.body = rectangle_body(given("body_width_mm"), 2 * (last + given("body_end_mm")), given("body_height_mm"));
    return pattern;
}

// Contacts in one row at the top, pin 1 left; every other contact may lie a step further back.
constexpr std::array kFlatCable{
    size_spec("body_end_mm", "body beyond the last contact"),
    size_spec("body_length_mm", "body front to back"),
    size_spec("body_height_mm", "body height"),
    count_spec("contacts", "contacts", 2, 120),
    size_spec("pitch_mm", "pitch", 0.01),
    place_spec("contact_y_mm", "contacts' centre from the body's"),
    size_spec("land_width_mm", "land along the row"),
    size_spec("land_length_mm", "land across the row"),
    place_spec("stagger_mm", "even contacts moved by"),
    size_spec("tab_end_mm", "tab beyond the last contact, centres"),
    place_spec("tab_y_mm", "tabs' centre from the body's"),
    size_spec("tab_width_mm", "tab along the row"),
    size_spec("tab_length_mm", "tab across the row"),
};

Result<Pattern> build_flat_cable(const Given& given) {
    const int contacts = given.count("contacts");
    const double pitch = given("pitch_mm");
    const double last = (contacts - 1) * pitch / 2;
    Pattern pattern;
    add_row(pattern.pads, 1, contacts, {-last, given("contact_y_mm")}, {pitch, 0}, given("land_width_mm"),
            given("land_length_mm"));
    for (std::size_t i = 1; i < pattern.pads.size(); i += 2)
        pattern.pads[i].at.y += given("stagger_mm");
    const double tab_x = last + given("tab_end_mm");
    add_tabs(pattern.pads, {{-tab_x, given("tab_y_mm")}, {tab_x, given("tab_y_mm")}}, given("tab_width_mm"),
             given("tab_length_mm"));
    pattern.body = rectangle_body(2 * (last + given("body_end_mm")), given("body_length_mm"), given("body_height_mm"));
    return pattern;
}

// Contacts at the top, four unequal tabs: it goes in one way only.
constexpr std::array kCardSocket{
    size_spec("body_width_mm", "body left to right"),
    size_spec("body_length_mm", "body front to back"),
    size_spec("body_height_mm", "body height"),
    count_spec("contacts", "contacts", 4, 20),
    size_spec("pitch_mm", "pitch", 0.01),
    place_spec("contact_y_mm", "contacts' centre from the body's"),
    size_spec("land_width_mm", "contact land along the row"),
    size_spec("land_length_mm", "contact land across the row"),
    size_spec("tab_width_mm", "tab along the row"),
    size_spec("tab_length_mm", "tab across the row"),
    place_spec("tab_left_x_mm", "left tabs"),
    place_spec("tab_upper_left_y_mm", "upper left tab"),
    place_spec("tab_upper_right_x_mm", "upper right tab, across"),
    place_spec("tab_upper_right_y_mm", "upper right tab, down"),
    place_spec("tab_lower_right_x_mm", "lower right tab, across"),
    place_spec("tab_lower_y_mm", "lower tabs"),
    size_spec("tab_lower_right_length_mm", "lower right tab across the row"),
};

Result<Pattern> build_card_socket(const Given& given) {
    const int contacts = given.count("contacts");
    const double pitch = given("pitch_mm");
    Pattern pattern;
    add_row(pattern.pads, 1, contacts, {-(contacts - 1) * pitch / 2, given("contact_y_mm")}, {pitch, 0},
            given("land_width_mm"), given("land_length_mm"));
    const double left = given("tab_left_x_mm");
    const double low = given("tab_lower_y_mm");
    const double w = given("tab_width_mm");
    const double h = given("tab_length_mm");
    pattern.pads.push_back(rectangle_pad("T1", {left, given("tab_upper_left_y_mm")}, w, h));
    pattern.pads.push_back(rectangle_pad("T2", {left, low}, w, h));
    pattern.pads.push_back(
        rectangle_pad("T3", {given("tab_lower_right_x_mm"), low}, w, given("tab_lower_right_length_mm")));
    pattern.pads.push_back(rectangle_pad("T4", {given("tab_upper_right_x_mm"), given("tab_upper_right_y_mm")}, w, h));
    pattern.body = rectangle_body(given("body_width_mm"), given("body_length_mm"), given("body_height_mm"));
    return pattern;
}

} // namespace

Layout board_connector_layout() {
    return {"family_board_connector", kBoardConnector, build_board_connector, false};
}
Layout flat_cable_layout() {
    return {"family_flat_cable", kFlatCable, build_flat_cable, false};
}
Layout card_socket_layout() {
    return {"family_card_socket", kCardSocket, build_card_socket, false};
}

} // namespace padchart::patterns
