#pragma once
// The land patterns of the turn-symmetry table, from their stated coordinates. There y runs up; here it is turned down,
// so that counter-clockwise stays counter-clockwise.

#include <cmath>
#include <string>
#include <vector>

#include "document/footprint.hpp"

namespace padchart::test {

struct LandSpec {
    double x, y, w, h;
};

inline document::Footprint lands(const std::vector<LandSpec>& specs,
                                 document::ShapeKind kind = document::ShapeKind::Rectangle) {
    document::Footprint part;
    for (const LandSpec& spec : specs) {
        document::Pad pad;
        pad.at = {spec.x, -spec.y};
        pad.shape = {kind, spec.w, spec.h, {}};
        part.pads.push_back(pad);
    }
    return part;
}

/// `count` lands at pitch along y, centred, at x.
inline void add_column(std::vector<LandSpec>& specs, double x, int count, double pitch, double w, double h) {
    for (int i = 0; i < count; ++i)
        specs.push_back({x, (i - (count - 1) / 2.0) * pitch, w, h});
}

/// The same along x, at y; w and h as they lie.
inline void add_row(std::vector<LandSpec>& specs, double y, int count, double pitch, double w, double h) {
    for (int i = 0; i < count; ++i)
        specs.push_back({(i - (count - 1) / 2.0) * pitch, y, w, h});
}

inline std::vector<LandSpec> two_rows(double x, int count, double pitch, double w, double h) {
    std::vector<LandSpec> specs;
    add_column(specs, -x, count, pitch, w, h);
    add_column(specs, x, count, pitch, w, h);
    return specs;
}

inline std::vector<LandSpec> four_rows(double at, int count, double pitch, double w, double h) {
    std::vector<LandSpec> specs = two_rows(at, count, pitch, w, h);
    add_row(specs, -at, count, pitch, h, w);
    add_row(specs, at, count, pitch, h, w);
    return specs;
}

inline std::vector<LandSpec> grid(int columns, int rows, double pitch, double side) {
    std::vector<LandSpec> specs;
    for (int i = 0; i < columns; ++i)
        add_column(specs, (i - (columns - 1) / 2.0) * pitch, rows, pitch, side, side);
    return specs;
}

inline std::vector<LandSpec> with(std::vector<LandSpec> specs, const std::vector<LandSpec>& more) {
    specs.insert(specs.end(), more.begin(), more.end());
    return specs;
}

inline std::vector<LandSpec> corners(double x, double y, double w, double h) {
    return {{-x, -y, w, h}, {x, -y, w, h}, {-x, y, w, h}, {x, y, w, h}};
}

/// "0 90 180", for messages that show what was found.
inline std::string written(const std::vector<double>& turns) {
    std::string text;
    for (const double turn : turns)
        text += (text.empty() ? "" : " ") + std::to_string(std::lround(turn));
    return text;
}

struct TableRow {
    std::string name;
    document::Footprint part;
    std::vector<double> exact;
    std::vector<double> seats_unshifted;
    std::vector<double> seats_at_best_shift;
};

/// All 34 rows in their order; row 32 is two patterns and stands twice.
std::vector<TableRow> turn_table();
[[nodiscard]] document::Footprint pattern_named(const std::string& name);

} // namespace padchart::test
