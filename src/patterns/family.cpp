#include "patterns/family.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "patterns/layouts.hpp"
#include "patterns/numbering.hpp"
#include "patterns/pad_overlap.hpp"
#include "patterns/table.hpp"

namespace padchart::patterns {
namespace {

using document::Footprint;

/// Menus show the groups in this order.
constexpr std::array<std::string_view, 16> kGroups{"Chips",
                                                   "Chip arrays",
                                                   "Capacitors",
                                                   "Inductors and chokes",
                                                   "Diodes",
                                                   "Light-emitting diodes",
                                                   "Transistors",
                                                   "Gull wing",
                                                   "No-lead",
                                                   "Ball and land grids",
                                                   "Frequency parts",
                                                   "Connectors",
                                                   "Sockets",
                                                   "Sound and sensors",
                                                   "Shields and mechanical",
                                                   "Test points"};

std::size_t group_rank(std::string_view group) {
    const auto at = std::find(kGroups.begin(), kGroups.end(), group);
    assert(at != kGroups.end());
    return static_cast<std::size_t>(at - kGroups.begin());
}

Family family_of(const Table& rows, std::size_t row, std::size_t layout) {
    Family family;
    family.key = rows.text(row, "key");
    family.name = rows.text(row, "name");
    family.group = rows.text(row, "group");
    family.part_class =
        document::from_text<document::PartClass>(rows.text(row, "class")).value_or(document::PartClass::Unknown);
    for (const ParameterSpec& spec : layouts()[layout].parameters)
        family.parameters.push_back({spec.key, spec.label, spec.unit, rows.number(row, spec.key).value_or(spec.min),
                                     spec.min, spec.max, spec.step, spec.is_integer, spec.choices});
    family.takes_omitted = layouts()[layout].takes_omitted;
    family.standing = rows.text(row, "standing");
    family.source = rows.text(row, "source");
    family.layout = layout;
    return family;
}

std::vector<Family> load_families() {
    std::vector<Family> all;
    for (std::size_t layout = 0; layout < layouts().size(); ++layout) {
        const Table& rows = table(layouts()[layout].table);
        for (std::size_t row = 0; row < rows.size(); ++row)
            all.push_back(family_of(rows, row, layout));
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const Family& a, const Family& b) { return group_rank(a.group) < group_rank(b.group); });
    return all;
}

std::string number_text(double value) {
    std::string text = std::to_string(value);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

std::string limits_text(const Parameter& parameter) {
    const std::string unit = parameter.unit.empty() ? "" : " " + std::string(parameter.unit);
    return number_text(parameter.min) + " to " + number_text(parameter.max) + unit;
}

Result<void> check_parameter(const Parameter& parameter, double value) {
    const std::string where(parameter.key);
    const std::string label(parameter.label);
    if (!std::isfinite(value)) return Error{"The value for '" + label + "' is not a number.", where};
    if (value < parameter.min || value > parameter.max)
        return Error{"The value for '" + label + "' is " + number_text(value) + "; right is " + limits_text(parameter) +
                         ".",
                     where};
    if (parameter.is_integer && value != std::floor(value))
        return Error{"The value for '" + label + "' is " + number_text(value) + "; it must be a whole number.", where};
    return {};
}

Result<std::vector<double>> complete(const Family& family, std::span<const double> given) {
    if (given.size() > family.parameters.size() && !family.takes_omitted)
        return Error{std::string(family.key) + " takes " + std::to_string(family.parameters.size()) + " numbers, not " +
                         std::to_string(given.size()) + ".",
                     ""};
    std::vector<double> values = default_parameters(family);
    values.resize(std::max(values.size(), given.size()));
    std::copy(given.begin(), given.end(), values.begin());
    for (std::size_t i = 0; i < family.parameters.size(); ++i)
        if (Result<void> checked = check_parameter(family.parameters[i], values[i]); !checked) return checked.error();
    for (std::size_t i = family.parameters.size(); i < values.size(); ++i)
        if (!std::isfinite(values[i])) return Error{"An omitted place is not a number.", "omitted"};
    return values;
}

std::string_view variant_of(const Family& family) {
    const Table& rows = table(layouts()[family.layout].table);
    const std::optional<std::size_t> row = rows.find("key", family.key);
    return row ? rows.text(*row, "variant") : std::string_view{};
}

std::string called(const document::Pad& pad) {
    return pad.number.empty() ? "a land without number" : "land " + pad.number;
}

} // namespace

double Given::operator()(std::string_view key) const {
    const auto at =
        std::find_if(specs_.begin(), specs_.end(), [&](const ParameterSpec& spec) { return spec.key == key; });
    assert(at != specs_.end());
    return values_[static_cast<std::size_t>(at - specs_.begin())];
}

int Given::count(std::string_view key) const {
    return static_cast<int>(std::lround((*this)(key)));
}

std::span<const double> Given::omitted() const {
    return values_.subspan(specs_.size());
}

std::span<const Layout> layouts() {
    static const std::array kLayouts{
        two_land_layout(),    can_layout(),         line_layout(),      four_land_layout(),  sense_layout(),
        feedthrough_layout(), three_lead_layout(),  four_lead_layout(), five_lead_layout(),  tab_layout(),
        two_row_layout(),     quad_layout(),        two_ring_layout(),  grid_layout(),       board_connector_layout(),
        flat_cable_layout(),  card_socket_layout(), shield_layout(),    microphone_layout(), cell_holder_layout(),
        round_land_layout()};
    return kLayouts;
}

std::span<const Family> families() {
    static const std::vector<Family> kFamilies = load_families();
    return kFamilies;
}

const Family* find_family(std::string_view key) {
    const std::span<const Family> all = families();
    const auto at = std::find_if(all.begin(), all.end(), [&](const Family& family) { return family.key == key; });
    return at == all.end() ? nullptr : &*at;
}

std::vector<double> default_parameters(const Family& family) {
    std::vector<double> values;
    for (const Parameter& parameter : family.parameters)
        values.push_back(parameter.default_value);
    return values;
}

Result<Pattern> build_pattern(const Family& family, std::span<const double> parameters) {
    Result<std::vector<double>> values = complete(family, parameters);
    if (!values) return values.error();
    const Layout& layout = layouts()[family.layout];
    Result<Pattern> pattern = layout.build(Given(layout.parameters, *values, variant_of(family)));
    if (pattern && pattern->pads.empty()) return Error{"These numbers leave no lands at all.", ""};
    return pattern;
}

Result<Footprint> generate(const Family& family, std::span<const double> parameters) {
    Result<std::vector<double>> values = complete(family, parameters);
    if (!values) return values.error();
    Result<Pattern> pattern = build_pattern(family, *values);
    if (!pattern) return pattern.error();
    if (const auto pair = first_overlap(pattern->pads))
        return Error{"With these numbers " + called(pattern->pads[pair->first]) + " and " +
                         called(pattern->pads[pair->second]) + " overlap; make lands smaller or the pitch larger.",
                     ""};
    Footprint part;
    part.part_class = family.part_class;
    part.family = std::string(family.key);
    part.family_parameters = std::move(*values);
    part.pads = std::move(pattern->pads);
    part.body = std::move(pattern->body);
    return part;
}

Result<Footprint> generate(std::string_view key, std::span<const double> parameters) {
    const Family* family = find_family(key);
    if (family == nullptr) return Error{"There is no package family '" + std::string(key) + "'.", "family"};
    return generate(*family, parameters);
}

double omitted_place(int row, int column) {
    assert(row >= 1 && column >= 1 && column <= 999);
    return row * 1000.0 + column;
}

Result<std::vector<double>> with_omitted(const Family& family, std::span<const double> parameters,
                                         std::string_view names) {
    if (!family.takes_omitted)
        return Error{std::string(family.key) + " is no grid; only grids can leave places out.", "omitted"};
    const std::size_t own = family.parameters.size();
    Result<std::vector<double>> values = complete(family, parameters.first(std::min(own, parameters.size())));
    if (!values) return values.error();
    const ParameterSpec* specs = layouts()[family.layout].parameters.data();
    const Given given({specs, own}, *values, {});
    const RowLetters letters = given.count("letters") == 0 ? RowLetters::Standard : RowLetters::Unbroken;
    std::vector<double> result = *values;
    while (!names.empty()) {
        const std::size_t start = names.find_first_not_of(" ,;");
        if (start == std::string_view::npos) break;
        names.remove_prefix(start);
        const std::string_view name = names.substr(0, names.find_first_of(" ,;"));
        names.remove_prefix(name.size());
        const std::optional<GridPlace> place = ball_place(name, letters);
        if (!place || place->row > given.count("rows") || place->column > given.count("columns"))
            return Error{"'" + std::string(name) + "' is no place of this grid; right is such as A1.", "omitted"};
        const double code = omitted_place(place->row, place->column);
        if (std::find(result.begin() + static_cast<std::ptrdiff_t>(own), result.end(), code) != result.end())
            return Error{"'" + std::string(name) + "' is left out twice.", "omitted"};
        result.push_back(code);
    }
    return result;
}

} // namespace padchart::patterns
