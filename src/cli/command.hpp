#pragma once
// One subcommand as data: what it is called, what it takes, an example, and the function that does it. The table of
// them feeds the parser, the help and the tests. A command reads files, writes files and two streams, nothing else.

#include <iosfwd>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.hpp"
#include "base/result.hpp"

namespace padchart::cli {

/// What a shell script may rely on.
enum ExitCode : int {
    kFine = 0,
    kFindings = 1,  ///< done, and something needs attention
    kCouldNotDo = 2 ///< wrong call, unreadable input, unwritable output
};

enum class OptionKind { Flag, Text, Number };

struct Option {
    std::string_view name; ///< "--json", "-o,--output", or for a positional "CHART"
    OptionKind kind = OptionKind::Text;
    std::string_view help;
    bool required = false;
    std::vector<std::string_view> choices = {}; ///< closed list of words, or empty
    bool repeats = false;                       ///< may be given several times
};

/// What was given, by the option's bare long name ("output") or the positional's name ("CHART").
class Arguments {
public:
    void set(std::string name, std::vector<std::string> values) { values_[std::move(name)] = std::move(values); }

    [[nodiscard]] bool has(std::string_view name) const;
    /// The value given, or `fallback`.
    [[nodiscard]] std::string text(std::string_view name, std::string_view fallback = {}) const;
    /// Requires: the option is a Number (the parser has checked it).
    [[nodiscard]] std::optional<double> number(std::string_view name) const;
    [[nodiscard]] const std::vector<std::string>& all(std::string_view name) const;

private:
    std::map<std::string, std::vector<std::string>, std::less<>> values_;
};

/// Where a command writes: the answer on `out`, findings and errors on `err`.
struct Streams {
    std::ostream& out;
    std::ostream& err;
};

struct Command {
    std::string_view name;
    std::string_view summary; ///< one line
    std::string_view details; ///< what it computes and prints; may be empty
    std::string_view example; ///< a call that works on the demo
    std::vector<Option> options;
    int (*run)(const Arguments&, Streams) = nullptr;
    std::string_view exit_codes = "0 fine, 1 findings, 2 could not do it"; ///< what the help says of them
};

/// All subcommands that work, in the order of the day.
[[nodiscard]] std::span<const Command> commands();

/// Parses and runs one. `arguments` without the program's name. Never throws.
/// `open_window` is called for `padchart [CHART]` and for `view`, with the arguments the window takes.
int run(std::span<const std::string> arguments, Streams streams, int (*open_window)(std::span<const std::string>));

/// Prints "padchart: where: message" and gives kCouldNotDo.
int fail(Streams streams, const Error& error);
/// Prints findings, most urgent first, one a line: "warning: 12:40: message".
void print(std::ostream& out, const Diagnostics& findings);
/// kFindings when any is a warning or worse.
[[nodiscard]] int exit_code_of(const Diagnostics& findings);

} // namespace padchart::cli
