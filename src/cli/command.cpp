#include "cli/command.hpp"

#include <algorithm>
#include <charconv>
#include <ostream>

#include "base/plain_text.hpp"

namespace padchart::cli {

bool Arguments::has(std::string_view name) const {
    const auto found = values_.find(name);
    return found != values_.end() && !found->second.empty();
}

std::string Arguments::text(std::string_view name, std::string_view fallback) const {
    return has(name) ? values_.find(name)->second.front() : std::string(fallback);
}

std::optional<double> Arguments::number(std::string_view name) const {
    if (!has(name)) return std::nullopt;
    const std::string& text = values_.find(name)->second.front();
    double value = 0.0;
    std::from_chars(text.data(), text.data() + text.size(), value);
    return value;
}

const std::vector<std::string>& Arguments::all(std::string_view name) const {
    static const std::vector<std::string> kNone;
    const auto found = values_.find(name);
    return found == values_.end() ? kNone : found->second;
}

int fail(Streams streams, const Error& error) {
    streams.err << "padchart: " << on_one_line(describe(error)) << '\n';
    return kCouldNotDo;
}

void print(std::ostream& out, const Diagnostics& findings) {
    Diagnostics sorted = findings;
    std::stable_sort(sorted.begin(), sorted.end(),
                     [](const Diagnostic& a, const Diagnostic& b) { return a.severity > b.severity; });
    std::string text; // in one piece
    for (const Diagnostic& finding : sorted) {
        text.append(to_text(finding.severity)).append(": ");
        if (!finding.where.empty()) text.append(on_one_line(finding.where)).append(": ");
        text.append(on_one_line(finding.message)).append("\n");
    }
    out << text;
}

int exit_code_of(const Diagnostics& findings) {
    const bool urgent = std::any_of(findings.begin(), findings.end(),
                                    [](const Diagnostic& finding) { return finding.severity != Severity::Note; });
    return urgent ? kFindings : kFine;
}

} // namespace padchart::cli
