#include "cli/tables.hpp"

#include <fmt/format.h>

#include "cli/shared.hpp"
#include "geometry/polygon.hpp"

namespace padchart::cli {
namespace {

template <class Enum>
std::string word(Enum value) {
    return std::string(document::to_text(value));
}

/// Empty where nothing can be measured.
std::string place(const document::Chart& chart, double mm) {
    return chart.scale ? fmt::format("{:.3f}", mm) : std::string();
}

std::string maybe(const std::optional<double>& number) {
    return number ? fmt::format("{:g}", *number) : std::string();
}

std::string value_of(const document::Reading& reading) {
    if (const auto* special = std::get_if<document::SpecialValue>(&reading.value)) return word(*special);
    return fmt::format("{}", std::get<double>(reading.value));
}

} // namespace

TextTable readings_table(const document::Chart& chart) {
    TextTable table;
    table.headings = {"id",        "part",  "pad",   "side",  "x_mm",          "y_mm",  "quantity", "value", "unit",
                      "reference", "leads", "power", "board", "parts_removed", "meter", "date",     "note"};
    for (const document::Reading& r : chart.readings)
        table.rows.push_back({r.id.text, r.target.is_empty() ? std::string() : display_name(chart, r.target), r.pad,
                              word(r.side), place(chart, r.at.x), place(chart, r.at.y), word(r.quantity), value_of(r),
                              r.unit, r.reference, word(r.leads), word(r.power), word(r.board), r.parts_removed,
                              r.meter, r.date, r.note});
    return table;
}

TextTable keep_outs_table(const document::Chart& chart) {
    TextTable table;
    table.headings = {"id",          "name",     "reason",         "side",    "through_board", "centre_x_mm",
                      "centre_y_mm", "area_mm2", "above_board_mm", "limit_c", "measure",       "note"};
    for (const document::KeepOut& k : chart.keep_outs) {
        const geometry::Vec2 centre = geometry::centroid(k.outline.outer);
        table.rows.push_back({k.id.text, k.name, word(k.reason), word(k.side), k.through_board ? "yes" : "no",
                              place(chart, centre.x), place(chart, centre.y),
                              chart.scale ? fmt::format("{:.2f}", geometry::area(k.outline)) : std::string(),
                              maybe(k.height_mm), maybe(k.limit_c), word(k.measure), k.note});
    }
    return table;
}

} // namespace padchart::cli
