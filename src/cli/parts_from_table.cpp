#include "cli/parts_from_table.hpp"

#include <fmt/format.h>

#include <optional>
#include <type_traits>
#include <utility>

#include "base/day.hpp"
#include "cli/tables.hpp"
#include "document/edits.hpp"
#include "json/chart_file.hpp"

namespace padchart::cli {
namespace {

using document::Chart;
using document::Footprint;
using document::KeepOut;
using document::Reading;

template <class Enum>
std::string words_of_list() {
    std::string text;
    for (const document::Word<Enum>& word : document::words<Enum>())
        text += (text.empty() ? "" : ", ") + std::string(word.text);
    return text;
}

template <class Enum>
Result<void> set_word(Enum& value, const std::string& cell) {
    const auto found = document::from_text<Enum>(trimmed(cell));
    if (!found) return Error{"\"" + cell + "\" is not known here; right would be one of " + words_of_list<Enum>(), {}};
    value = *found;
    return {};
}

Result<void> set_number(double& value, const std::string& cell) {
    const auto number = number_in(trimmed(cell));
    if (!number) return Error{"\"" + cell + "\" is no number", {}};
    value = *number;
    return {};
}

Result<void> set_number(std::optional<double>& value, const std::string& cell) {
    if (trimmed(cell).empty()) {
        value.reset();
        return {};
    }
    double number = 0.0;
    const Result<void> done = set_number(number, cell);
    if (done) value = number;
    return done;
}

Result<void> set_text(std::string& value, const std::string& cell) {
    value = cell;
    return {};
}

// Parts ----------------------------------------------------------------------------------------------------------

/// Words that begin alike; the whole list of classes would fill a screen.
std::string near_classes(const std::string& word) {
    std::string near;
    for (const document::Word<document::PartClass>& known : document::words<document::PartClass>())
        if (!word.empty() && known.text.front() == word.front())
            near += (near.empty() ? "" : ", ") + std::string(known.text);
    return near.empty() ? "a class as `padchart parts` prints it" : "one of " + near;
}

Result<void> set_part(Footprint& part, std::string_view column, const std::string& cell) {
    if (column != "class")
        return set_text(column == "name" ? part.name : column == "role" ? part.role : part.value, cell);
    const std::string word = trimmed(cell);
    const auto part_class = document::from_text<document::PartClass>(word);
    if (!part_class) return Error{"\"" + cell + "\" is no class; right would be " + near_classes(word), {}};
    part.part_class = *part_class;
    return {};
}

/// What would keep a chart with this thing in it from being saved.
template <class T>
std::optional<std::string> fault_alone(const T& thing) {
    Chart alone;
    if constexpr (std::is_same_v<T, Footprint>) alone.parts.add(thing);
    if constexpr (std::is_same_v<T, KeepOut>) alone.keep_outs.add(thing);
    if constexpr (std::is_same_v<T, Reading>) alone.readings.add(thing);
    const Result<Chart> read_back = json::read_chart(json::write_chart(alone), "");
    return read_back ? std::nullopt : std::optional(read_back.error().message);
}

// Keep-outs ------------------------------------------------------------------------------------------------------

Result<void> set_keep_out(KeepOut& thing, std::string_view column, const std::string& cell) {
    if (column == "name") return set_text(thing.name, cell);
    if (column == "note") return set_text(thing.note, cell);
    if (column == "reason") return set_word(thing.reason, cell);
    if (column == "side") return set_word(thing.side, cell);
    if (column == "measure") return set_word(thing.measure, cell);
    if (column == "above_board_mm") return set_number(thing.height_mm, cell);
    if (column == "limit_c") return set_number(thing.limit_c, cell);
    const std::string word = trimmed(cell);
    if (word != "yes" && word != "no") return Error{"\"" + cell + "\" is neither yes nor no", {}};
    thing.through_board = word == "yes";
    return {};
}

// Readings -------------------------------------------------------------------------------------------------------

Result<void> set_target(Reading& reading, const Chart& chart, const std::string& cell) {
    const std::string name = trimmed(cell);
    std::size_t found = 0;
    for (const Footprint& part : chart.parts) {
        if (name.empty() || part.name != name) continue;
        reading.target = part.id;
        ++found;
    }
    if (name.empty()) reading.target = {};
    if (!name.empty() && found != 1)
        return Error{
            fmt::format("{} parts of the chart are called \"{}\"; right would be the name of one", found, name), {}};
    return {};
}

Result<void> set_value(Reading& reading, const std::string& cell) {
    if (const auto special = document::from_text<document::SpecialValue>(trimmed(cell))) {
        reading.value = *special;
        return {};
    }
    const auto number = number_in(trimmed(cell));
    if (!number)
        return Error{"\"" + cell + "\" is no reading; right would be a number or one of " +
                         words_of_list<document::SpecialValue>(),
                     {}};
    reading.value = *number;
    return {};
}

Result<void> set_reading(Reading& r, const Chart& chart, std::string_view column, const std::string& cell) {
    if (column == "part") return set_target(r, chart, cell);
    if (column == "value") return set_value(r, cell);
    if (column == "side") return set_word(r.side, cell);
    if (column == "x_mm") return set_number(r.at.x, cell);
    if (column == "y_mm") return set_number(r.at.y, cell);
    if (column == "quantity") return set_word(r.quantity, cell);
    if (column == "leads") return set_word(r.leads, cell);
    if (column == "power") return set_word(r.power, cell);
    if (column == "date" && !trimmed(cell).empty() && !is_day(trimmed(cell)))
        return Error{"\"" + cell + "\" is not a day; right would be year, month and day, such as 2031-04-02", {}};
    if (column == "board") return set_word(r.board, cell);
    static constexpr std::pair<std::string_view, std::string Reading::*> kTexts[] = {
        {"pad", &Reading::pad},
        {"unit", &Reading::unit},
        {"reference", &Reading::reference},
        {"parts_removed", &Reading::parts_removed},
        {"meter", &Reading::meter},
        {"date", &Reading::date},
        {"note", &Reading::note}};
    for (const auto& [known, field] : kTexts)
        if (known == column) return set_text(r.*field, cell);
    return Error{"this column is not taken back", {}};
}

Result<document::Id> add_reading(Chart& chart, const std::map<std::string, std::string>& cells) {
    Reading reading;
    for (const char* needed : {"quantity", "value"})
        if (cells.count(needed) == 0) return Error{"is empty; a new reading needs a quantity and a value", needed};
    const bool has_place = cells.count("x_mm") != 0 && cells.count("y_mm") != 0;
    if (!has_place && cells.count("part") == 0)
        return Error{"is empty; a new reading needs a part, or x_mm and y_mm", "part"};
    for (const auto& [column, cell] : cells)
        if (const Result<void> done = set_reading(reading, chart, column, cell); !done)
            return Error{done.error().message, column};
    if (const auto at = document::find_part(chart, reading.target); at && !has_place) {
        reading.at = chart.parts[*at].placement.at;
        if (cells.count("side") == 0) reading.side = chart.parts[*at].placement.side;
    }
    std::string seed;
    for (const auto& [column, cell] : cells)
        seed += column + cell;
    reading.id = document::free_id(chart, "reading", seed);
    if (const auto fault = fault_alone(reading)) return Error{*fault, "new row"};
    const document::Id id = reading.id;
    chart.readings.add(std::move(reading));
    return id;
}

/// Headings first.
std::vector<CsvRow> all_rows(TextTable table) {
    table.rows.insert(table.rows.begin(), std::move(table.headings));
    return std::move(table.rows);
}

template <class T, class Set>
auto setter_for(document::Items<T>& list, Set set) {
    return [&list, set](std::size_t position, std::string_view column, const std::string& cell) -> Result<void> {
        T thing = list[position];
        if (const Result<void> done = set(thing, column, cell); !done) return done;
        if (const auto fault = fault_alone(thing)) return Error{"\"" + cell + "\": " + *fault, {}};
        list.replace(position, std::move(thing));
        return {};
    };
}

Result<TableEdits> finished(TableEdits edits, Result<TakenTable> taken) {
    if (!taken) return taken.error();
    edits.taken = std::move(*taken);
    return edits;
}

} // namespace

Result<TableEdits> parts_from_table(const Chart& chart, const std::vector<CsvRow>& rows,
                                    const std::vector<CsvRow>& as_printed) {
    TableEdits edits{chart, {}};
    TableShape shape;
    shape.thing = "part";
    shape.columns = {{"name"}, {"class"}, {"role"}, {"value"}};
    shape.name_of = [&chart](std::size_t i) { return chart.parts[i].name; };
    shape.set = setter_for(edits.chart.parts, set_part);
    Result<TakenTable> taken = take_table(rows, as_printed, shape);
    return finished(std::move(edits), std::move(taken));
}

Result<TableEdits> keep_outs_from_table(const Chart& chart, const std::vector<CsvRow>& rows, bool comma_is_decimal) {
    TableEdits edits{chart, {}};
    TableShape shape;
    shape.thing = "keep-out";
    shape.comma_is_decimal = comma_is_decimal;
    shape.columns = {{"name"},          {"reason"},  {"side"}, {"through_board"}, {"above_board_mm", true},
                     {"limit_c", true}, {"measure"}, {"note"}};
    shape.name_of = [&chart](std::size_t i) { return chart.keep_outs[i].name; };
    shape.set = setter_for(edits.chart.keep_outs, set_keep_out);
    Result<TakenTable> taken = take_table(rows, all_rows(keep_outs_table(chart)), shape);
    return finished(std::move(edits), std::move(taken));
}

Result<TableEdits> readings_from_table(const Chart& chart, const std::vector<CsvRow>& rows, bool comma_is_decimal) {
    TableEdits edits{chart, {}};
    TableShape shape;
    shape.thing = "reading";
    shape.comma_is_decimal = comma_is_decimal;
    shape.columns = {{"part"},          {"pad"},   {"side"},      {"x_mm", true}, {"y_mm", true}, {"quantity"},
                     {"value", true},   {"unit"},  {"reference"}, {"leads"},      {"power"},      {"board"},
                     {"parts_removed"}, {"meter"}, {"date"},      {"note"}};
    shape.name_of = [&chart](std::size_t i) {
        const auto at = document::find_part(chart, chart.readings[i].target);
        return at ? "reading at " + chart.parts[*at].name : chart.readings[i].id.text;
    };
    shape.set =
        setter_for(edits.chart.readings, [&chart](Reading& reading, std::string_view column, const std::string& cell) {
            return set_reading(reading, chart, column, cell);
        });
    shape.add = [&edits](const std::map<std::string, std::string>& cells) { return add_reading(edits.chart, cells); };
    Result<TakenTable> taken = take_table(rows, all_rows(readings_table(chart)), shape);
    return finished(std::move(edits), std::move(taken));
}

} // namespace padchart::cli
