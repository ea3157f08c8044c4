#pragma once
// A remark about the user's input or chart that does not stop the work: import goes on, a check goes
// on, the panel jumps to the target, the command line prints it on stderr.

#include <string>
#include <vector>

namespace padchart {

/// Ordered from calm to urgent.
enum class Severity {
    Note,    ///< good to know
    Warning, ///< the result may not be what was meant
    Fault    ///< something was left out or is wrong
};

struct Diagnostic {
    Severity severity = Severity::Note;
    std::string code;    ///< stable short name for machines, kebab-case: "path-cut-short"
    std::string message; ///< what was found and what would be right, one or two sentences
    std::string where;   ///< "12:40" in a text, "/footprints/3" in a chart file, or empty
    std::string target;  ///< id of the thing in the chart it speaks of, or empty

    bool operator==(const Diagnostic&) const = default;
};

using Diagnostics = std::vector<Diagnostic>;

[[nodiscard]] inline const char* to_text(Severity severity) {
    switch (severity) {
    case Severity::Note: return "note";
    case Severity::Warning: return "warning";
    case Severity::Fault: return "fault";
    }
    return "note";
}

} // namespace padchart
