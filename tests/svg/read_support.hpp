#pragma once
// Short drawings for tests, and what was read of them.

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "svg/drawing.hpp"

namespace padchart::svg::test {

/// A page of 40 x 30 mm with ten units to the millimetre round `inner`.
inline std::string page(const std::string& inner) {
    return "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" "
           "xmlns:ed=\"urn:editor\" width=\"40mm\" height=\"30mm\" viewBox=\"0 0 400 300\">" +
           inner + "</svg>";
}

inline Drawing read_text(const std::string& text, const ReadOptions& options = {}) {
    auto drawing = read(text, options);
    REQUIRE_MESSAGE(drawing.has_value(), (drawing ? std::string() : describe(drawing.error())));
    return std::move(drawing).value();
}

inline Drawing read_page(const std::string& inner, const ReadOptions& options = {}) {
    return read_text(page(inner), options);
}

inline bool has_code(const Diagnostics& diagnostics, const std::string& code) {
    return std::any_of(diagnostics.begin(), diagnostics.end(), [&](const Diagnostic& d) { return d.code == code; });
}

inline void check_box(const DrawnShape& shape, double x0, double y0, double x1, double y1) {
    CHECK(shape.bbox.min.x == doctest::Approx(x0).epsilon(1e-9));
    CHECK(shape.bbox.min.y == doctest::Approx(y0).epsilon(1e-9));
    CHECK(shape.bbox.max.x == doctest::Approx(x1).epsilon(1e-9));
    CHECK(shape.bbox.max.y == doctest::Approx(y1).epsilon(1e-9));
}

} // namespace padchart::svg::test
