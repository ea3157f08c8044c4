#include "patterns/size_class.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "patterns/table.hpp"

namespace padchart::patterns {
namespace {

/// How a code says which system it is of.
enum class System { NotSaid, Metric, Inch };

struct Written {
    std::string code; ///< upper case, without the words round it and without the M
    System system = System::NotSaid;
    bool has_m = false;
};

std::string lower(std::string_view text) {
    std::string result(text);
    for (char& c : result)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return result;
}

bool take(std::string& text, std::string_view word) {
    const std::size_t at = text.find(word);
    if (at == std::string::npos) return false;
    text.erase(at, word.size());
    return true;
}

Written written(std::string_view text) {
    std::string rest = lower(text);
    Written result;
    if (take(rest, "metric")) result.system = System::Metric;
    if (take(rest, "inch") || take(rest, "imperial")) result.system = System::Inch;
    rest.erase(std::remove_if(rest.begin(), rest.end(), [](char c) { return c == ' ' || c == '(' || c == ')'; }),
               rest.end());
    if (rest.size() > 4 && rest.back() == 'm') {
        rest.pop_back();
        result.has_m = true;
        result.system = System::Metric;
    }
    result.code = rest;
    return result;
}

std::string_view without_m(std::string_view metric) {
    return !metric.empty() && metric.back() == 'M' ? metric.substr(0, metric.size() - 1) : metric;
}

bool is_chip(const SizeClass& size) {
    return size.metric != without_m(size.metric);
}

/// The other prints of a row, blanks between them: "6432".
bool has_other_print(std::size_t row, std::string_view code) {
    std::string_view cell = table("size_classes").text(row, "other_prints");
    while (!cell.empty()) {
        const std::string_view first = cell.substr(0, cell.find(' '));
        if (first == code) return true;
        cell.remove_prefix(std::min(cell.size(), first.size() + 1));
    }
    return false;
}

/// As metric, as inch, or as another print of the metric code.
struct Reading {
    const SizeClass* size = nullptr;
    bool as_inch = false;
    bool other_print = false;
};

std::vector<Reading> readings_of(const Written& text) {
    std::vector<Reading> all;
    if (text.code.empty()) return all; // would fit every size without an inch code
    const std::span<const SizeClass> sizes = size_classes();
    for (std::size_t row = 0; row < sizes.size(); ++row) {
        const SizeClass& size = sizes[row];
        const bool metric = text.system != System::Inch && (!text.has_m || is_chip(size));
        if (text.system != System::Metric && size.inch == text.code) all.push_back({&size, true, false});
        if (metric && without_m(size.metric) == text.code) all.push_back({&size, false, false});
        if (metric && has_other_print(row, text.code)) all.push_back({&size, false, true});
    }
    return all;
}

std::string spelled(const std::vector<Reading>& readings) {
    std::string all;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        if (i > 0) all += i + 1 == readings.size() ? " or " : ", ";
        all += label_of(*readings[i].size);
    }
    return all;
}

Diagnostics findings_of(std::string_view text, const Written& code, const std::vector<Reading>& readings) {
    Diagnostics findings;
    const std::string name = "'" + std::string(text) + "'";
    if (readings.size() > 1)
        findings.push_back({Severity::Warning, "size-code-ambiguous",
                            "The size " + name + " can be " + spelled(readings) +
                                ". Write the metric code of a chip with M, or say inch.",
                            "", ""});
    const Reading& only = readings.front();
    if (readings.size() == 1 && is_chip(*only.size) && !only.as_inch && !code.has_m && !only.other_print)
        findings.push_back({Severity::Note, "size-code-without-m",
                            name + " is read as " + label_of(*only.size) + ". Write the metric code with M.", "", ""});
    for (const Reading& reading : readings)
        if (reading.other_print)
            findings.push_back({Severity::Note, "size-code-other-print",
                                name + " is another print for " + label_of(*reading.size) + ".", "", ""});
    return findings;
}

} // namespace

std::span<const SizeClass> size_classes() {
    static const std::vector<SizeClass> kSizes = [] {
        std::vector<SizeClass> all;
        const Table& rows = table("size_classes");
        for (std::size_t row = 0; row < rows.size(); ++row)
            all.push_back({rows.text(row, "kind"), rows.text(row, "metric"), rows.text(row, "inch"),
                           rows.number(row, "length_mm").value_or(0.0), rows.number(row, "width_mm").value_or(0.0),
                           rows.number(row, "tolerance_mm").value_or(0.0), rows.text(row, "family"),
                           rows.text(row, "standing"), rows.text(row, "source")});
        return all;
    }();
    return kSizes;
}

std::string label_of(const SizeClass& size) {
    const std::string metric(size.metric);
    if (!size.inch.empty()) {
        const std::string tail = size.kind == "chip" ? "" : ", long-side terminations";
        return metric + " (inch " + std::string(size.inch) + tail + ")";
    }
    return metric + " " + std::string(size.kind) + " (metric)";
}

std::vector<SizeMatch> size_matches(double length_mm, double width_mm, double tolerance_mm) {
    assert(std::isfinite(length_mm) && std::isfinite(width_mm) && length_mm > 0.0 && width_mm > 0.0);
    assert(tolerance_mm >= 0.0);
    const auto [shorter, longer] = std::minmax(length_mm, width_mm);
    std::vector<SizeMatch> matches;
    for (const SizeClass& size : size_classes()) {
        const auto [nominal_short, nominal_long] = std::minmax(size.length_mm, size.width_mm);
        const double off = std::max(std::abs(longer - nominal_long), std::abs(shorter - nominal_short));
        constexpr double kRounding = 1e-9;
        if (off <= tolerance_mm + size.tolerance_mm + kRounding) matches.push_back({&size, off});
    }
    std::stable_sort(matches.begin(), matches.end(),
                     [](const SizeMatch& a, const SizeMatch& b) { return a.deviation_mm < b.deviation_mm; });
    return matches;
}

Result<SizeCode> parse_size_code(std::string_view text) {
    const Written code = written(text);
    const std::vector<Reading> readings = readings_of(code);
    if (readings.empty())
        return Error{"No known size bears the code '" + std::string(text) + "'; right is such as 1608M or inch 0603.",
                     ""};
    SizeCode result;
    for (const Reading& reading : readings)
        result.readings.push_back(reading.size);
    result.findings = findings_of(text, code, readings);
    return result;
}

} // namespace padchart::patterns
