#pragma once
// Small boards drawn in words, traced, corrected and traced again.

#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "svg/reimport.hpp"
#include "svg/trace_to_chart.hpp"

namespace padchart::svg {

inline document::Chart traced(const std::string& shapes, const std::string& page = R"(width="30mm" height="20mm")") {
    const Result<Drawing> drawing =
        read("<svg xmlns=\"http://www.w3.org/2000/svg\" " + page + " viewBox=\"0 0 30 20\">" + shapes + "</svg>");
    REQUIRE(drawing);
    Result<TraceResult> result = chart_from_trace(*drawing);
    REQUIRE(result);
    return result->chart;
}

/// In other units on a page that is as large.
inline document::Chart traced_page(const std::string& shapes, const std::string& box_size) {
    const Result<Drawing> drawing =
        read("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"30mm\" height=\"20mm\" viewBox=\"0 0 " + box_size +
             "\">" + shapes + "</svg>");
    REQUIRE(drawing);
    Result<TraceResult> result = chart_from_trace(*drawing);
    REQUIRE(result);
    return result->chart;
}

/// Two pads of a chip, 2 mm over all.
inline std::string chip(const std::string& name, double x, double y) {
    const auto pad = [&](int number, double left) {
        return "<rect id=\"" + name + "-" + std::to_string(number) + "\" x=\"" + std::to_string(left) + "\" y=\"" +
               std::to_string(y) + "\" width=\"0.8\" height=\"0.8\"/>";
    };
    return "<g id=\"" + name + "\"><g class=\"pads\">" + pad(1, x) + pad(2, x + 1.2) + "</g></g>";
}

/// What is told under a code.
inline std::vector<std::string> told_as(const Result<ReimportResult>& result, std::string_view code) {
    REQUIRE_MESSAGE(result, (result ? std::string() : describe(result.error())));
    std::vector<std::string> lines;
    for (const Diagnostic& finding : result->findings)
        if (finding.code == code) lines.push_back(finding.message);
    return lines;
}

} // namespace padchart::svg
