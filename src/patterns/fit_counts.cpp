#include "patterns/fit_counts.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string_view>

#include "patterns/layouts.hpp"

namespace padchart::patterns {
namespace {

using Values = std::vector<double>;
using geometry::Vec2;

std::size_t index_of(const Family& family, std::string_view key) {
    const auto at = std::find_if(family.parameters.begin(), family.parameters.end(),
                                 [&](const Parameter& parameter) { return parameter.key == key; });
    return static_cast<std::size_t>(at - family.parameters.begin());
}

bool has(const Family& family, std::string_view key) {
    return index_of(family, key) < family.parameters.size();
}

void set(const Family& family, Values& values, std::string_view key, double value) {
    values[index_of(family, key)] = value;
}

double get(const Family& family, const Values& values, std::string_view key) {
    return values[index_of(family, key)];
}

/// Perimeter lands, with and without a land in the middle where the family has one.
std::vector<std::pair<Values, int>> with_and_without_centre(const Family& family, int lands) {
    const Values own = default_parameters(family);
    if (get(family, own, "centre_width_mm") == 0.0) return {{own, lands}};
    Values bare = own;
    set(family, bare, "centre_width_mm", 0.0);
    set(family, bare, "centre_length_mm", 0.0);
    set(family, bare, "centre_chamfer_mm", 0.0);
    return {{own, lands - 1}, {bare, lands}};
}

void add_two_rows(const Family& family, int lands, std::vector<Values>& all) {
    for (auto& [values, pins] : with_and_without_centre(family, lands)) {
        if (pins < 2 || pins % 2 != 0) continue;
        set(family, values, "pins", pins);
        all.push_back(values);
    }
}

void add_quad(const Family& family, int lands, std::vector<Values>& all) {
    for (auto& [values, pins] : with_and_without_centre(family, lands)) {
        const int more = static_cast<int>(get(family, values, "side_pins") - get(family, values, "end_pins"));
        const int side = (pins / 2 + more) / 2;
        const int end = pins / 2 - side;
        if (pins % 2 != 0 || side < 1 || end < 1 || side - end != more) continue;
        set(family, values, "side_pins", side);
        set(family, values, "end_pins", end);
        all.push_back(values);
    }
}

void add_board_connector(const Family& family, int lands, std::vector<Values>& all) {
    constexpr int kTabs[] = {0, 2, 3, 4};
    const Values own = default_parameters(family);
    for (int choice = 3; choice >= 0; --choice) {
        const int contacts = lands - kTabs[choice];
        if (contacts < 2 || contacts % 2 != 0) continue;
        Values values = own;
        set(family, values, "tabs", choice);
        set(family, values, "contacts_per_row", contacts / 2);
        all.push_back(values);
    }
}

void add_one_row(const Family& family, std::string_view key, int count, std::vector<Values>& all) {
    Values values = default_parameters(family);
    if (count < 1) return;
    set(family, values, key, count);
    all.push_back(values);
}

/// Sorted coordinates into columns: those nearer than half the smallest usual step belong together.
std::vector<double> columns_of(std::vector<double> coordinates, double nearest) {
    std::sort(coordinates.begin(), coordinates.end());
    std::vector<double> columns;
    double sum = 0.0;
    int count = 0;
    for (std::size_t i = 0; i < coordinates.size(); ++i) {
        if (count > 0 && coordinates[i] - sum / count > 0.35 * nearest) {
            columns.push_back(sum / count);
            sum = 0.0;
            count = 0;
        }
        sum += coordinates[i];
        ++count;
    }
    if (count > 0) columns.push_back(sum / count);
    return columns;
}

double nearest_distance(std::span<const Vec2> lands) {
    std::vector<double> all;
    for (std::size_t i = 0; i < lands.size(); ++i) {
        double best = std::numeric_limits<double>::infinity();
        for (std::size_t j = 0; j < lands.size(); ++j)
            if (i != j) best = std::min(best, geometry::distance(lands[i], lands[j]));
        all.push_back(best);
    }
    std::nth_element(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(all.size() / 2), all.end());
    return all[all.size() / 2];
}

struct Axis {
    int count = 1;
    double pitch = 0.0; ///< 0 where there is one column only
};

Axis axis_of(const std::vector<double>& columns) {
    if (columns.size() < 2) return {};
    std::vector<double> steps;
    for (std::size_t i = 1; i < columns.size(); ++i)
        steps.push_back(columns[i] - columns[i - 1]);
    std::nth_element(steps.begin(), steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2), steps.end());
    const double step = steps[steps.size() / 2];
    const double all = columns.back() - columns.front();
    constexpr double kMostColumns = 1000.0; // lands traced twice in one place lie next to no distance apart
    if (!(all < kMostColumns * step)) return {};
    const int count = static_cast<int>(std::lround(all / step)) + 1;
    return {count, all / (count - 1)};
}

} // namespace

std::vector<Values> count_variants(const Family& family, std::size_t lands) {
    const std::string_view layout = layouts()[family.layout].table;
    const int n = static_cast<int>(lands);
    std::vector<Values> all{default_parameters(family)};
    if (layout == "family_two_row") add_two_rows(family, n, all);
    if (layout == "family_quad") add_quad(family, n, all);
    if (layout == "family_board_connector") add_board_connector(family, n, all);
    if (layout == "family_line") add_one_row(family, "pins", n, all);
    if (layout == "family_flat_cable") add_one_row(family, "contacts", n - 2, all);
    if (layout == "family_card_socket") add_one_row(family, "contacts", n - 4, all);
    std::vector<Values> right;
    for (const Values& values : all) {
        const Result<Pattern> pattern = build_pattern(family, values);
        const bool new_one = std::find(right.begin(), right.end(), values) == right.end();
        if (pattern && pattern->pads.size() == lands && new_one) right.push_back(values);
    }
    return right;
}

std::vector<Values> grid_variants(const Family& family, std::span<const Vec2> lands) {
    if (!has(family, "columns") || lands.size() < 2) return {};
    std::vector<double> xs;
    std::vector<double> ys;
    for (const Vec2 land : lands) {
        xs.push_back(land.x);
        ys.push_back(land.y);
    }
    const double nearest = nearest_distance(lands);
    const Axis x = axis_of(columns_of(std::move(xs), nearest));
    const Axis y = axis_of(columns_of(std::move(ys), nearest));
    Values own = default_parameters(family);
    const bool same_counts = get(family, own, "columns") == x.count && get(family, own, "rows") == y.count;
    if (x.pitch > 0.0) set(family, own, "pitch_x_mm", x.pitch);
    if (y.pitch > 0.0) set(family, own, "pitch_y_mm", y.pitch);
    std::vector<Values> all;
    const Result<Pattern> as_is = build_pattern(family, own);
    if (same_counts && as_is && as_is->pads.size() == lands.size()) all.push_back(own);
    set(family, own, "columns", x.count);
    set(family, own, "rows", y.count);
    set(family, own, "empty_columns", 0.0);
    set(family, own, "empty_rows", 0.0);
    set(family, own, "fill", 0.0);
    const Result<Pattern> full = build_pattern(family, own);
    // A few lands scattered over a wide field are no grid.
    const bool dense = full && full->pads.size() >= lands.size() && full->pads.size() <= 3 * lands.size();
    if (all.empty() && dense) all.push_back(own);
    return all;
}

void grow_body(const Family& family, const document::Footprint& own, const std::vector<document::Pad>& pads,
               std::vector<double>& values) {
    if (own.pads.size() == pads.size()) return;
    const auto box = [](const std::vector<document::Pad>& lands) {
        geometry::Box all;
        for (const document::Pad& pad : lands)
            all.add(pad.at);
        return all;
    };
    const geometry::Box before = box(own.pads);
    const geometry::Box after = box(pads);
    const auto grow = [&](std::string_view key, double by) {
        const std::size_t at = index_of(family, key);
        if (at == family.parameters.size()) return;
        values[at] = std::clamp(values[at] + by, family.parameters[at].min, family.parameters[at].max);
    };
    grow("body_width_mm", after.width() - before.width());
    grow("body_length_mm", after.height() - before.height());
}

} // namespace padchart::patterns
