// The manual page, made from the same table as the parser and the help, so that it cannot tell of options there are
// not.

#include <ostream>
#include <string>

#include "cli/subcommands.hpp"

namespace padchart::cli {
namespace {

/// Text as roff takes it: no line may begin with a dot or a quote, backslashes and hyphens are themselves.
std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if ((c == '.' || c == '\'') && (out.empty() || out.back() == '\n')) out += "\\&";
        if (c == '\\') {
            out += "\\e";
        } else if (c == '-') {
            out += "\\-";
        } else {
            out += c;
        }
    }
    return out;
}

/// A blank line in the table's text begins a paragraph.
void paragraphs(std::ostream& out, std::string_view text) {
    while (!text.empty()) {
        const std::size_t end = text.find("\n\n");
        out << escaped(text.substr(0, end)) << '\n';
        if (end == std::string_view::npos) return;
        out << ".sp\n";
        text.remove_prefix(end + 2);
    }
}

std::string choices_of(const Option& option) {
    std::string out;
    for (const std::string_view choice : option.choices)
        out += (out.empty() ? "" : "|") + std::string(choice);
    return out;
}

void option_entry(std::ostream& out, const Option& option) {
    out << ".TP\n.B " << escaped(option.name);
    if (option.kind == OptionKind::Number) out << " \\fINUMBER\\fR";
    if (option.kind == OptionKind::Text && option.name.front() == '-')
        out << " \\fI" << (option.choices.empty() ? "TEXT" : escaped(choices_of(option))) << "\\fR";
    out << '\n' << escaped(option.help) << '\n';
}

void command_entry(std::ostream& out, const Command& command) {
    out << ".SS padchart " << escaped(command.name) << '\n' << escaped(command.summary) << '\n';
    if (!command.details.empty()) {
        out << ".sp\n";
        paragraphs(out, command.details);
    }
    for (const Option& option : command.options)
        option_entry(out, option);
    out << ".PP\nExample:\n.RS\n.nf\n" << escaped(command.example) << "\n.fi\n.RE\n";
}

constexpr std::string_view kHead = R"(.TH PADCHART 1 "" "Padchart" "User commands"
.SH NAME
padchart \- chart a region of a circuit board before hot\-air rework
.SH SYNOPSIS
.B padchart
.RI [ CHART ]
.br
.B padchart
.I COMMAND
.RI [ options ]
.SH DESCRIPTION
Without a command the window opens, on the chart where one is named.
Every computation also works without a display, as a command.
What it says of heat is an estimate, not a measurement: check with a thermocouple.
Local rules and the part maker's sheet win.
.SH COMMANDS
)";

constexpr std::string_view kTail = R"(.SH EXIT STATUS
.TP
.B 0
Fine.
.TP
.B 1
Done, and something needs attention.
.TP
.B 2
It could not be done: a wrong call, a file that cannot be read or written.
.SH ENVIRONMENT
.TP
.B XDG_CONFIG_HOME, XDG_DATA_HOME, XDG_STATE_HOME
Where the window keeps the keys, the user's own patterns, and what it remembers between two starts,
each in a folder
.IR padchart .
.SH FILES
.TP
.I NAME.chart.json
A chart. Its JSON Schema is installed with the program.
)";

int run_manual(const Arguments&, Streams streams) {
    streams.out << kHead;
    for (const Command& command : commands())
        command_entry(streams.out, command);
    streams.out << kTail;
    return kFine;
}

} // namespace

Command manual_command() {
    return {"manual",
            "the manual page, for man",
            "Prints the whole of this help as a manual page in the roff language.",
            "padchart manual | man -l -",
            {},
            run_manual};
}

} // namespace padchart::cli
