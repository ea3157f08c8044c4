// The command line's grammar, from the table of commands. The only file that includes the parsing library, which is
// slow to compile.

#include <CLI/CLI.hpp>

#include <charconv>
#include <memory>
#include <ostream>

#include "cli/command.hpp"
#include "cli/plain_output.hpp"

namespace padchart::cli {
namespace {

constexpr std::string_view kVersion = "0.1.0";

/// Where CLI11 puts what was given, kept alive until the call has run.
struct Bound {
    std::string name;
    OptionKind kind = OptionKind::Text;
    std::vector<std::string> values;
    bool flag = false;
};

/// "-o,--output" is kept as "output"; "CHART" as "CHART".
std::string bare_name(std::string_view name) {
    const std::size_t dashes = name.rfind("--");
    return std::string(dashes == std::string_view::npos ? name : name.substr(dashes + 2));
}

std::string check_number(const std::string& text) {
    double value = 0.0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
    const bool whole = fault == std::errc{} && end == text.data() + text.size();
    return whole ? "" : "\"" + text + "\" is not a number; right would be one like 2.5";
}

void add_option(CLI::App& app, const Option& option, Bound& bound) {
    if (option.kind == OptionKind::Flag) {
        app.add_flag(std::string(option.name), bound.flag, std::string(option.help));
        return;
    }
    CLI::Option* made = app.add_option(std::string(option.name), bound.values, std::string(option.help));
    made->required(option.required)->type_name(option.kind == OptionKind::Number ? "NUMBER" : "TEXT");
    // Without the second, the first of two positionals would swallow both words.
    if (!option.repeats) made->expected(1)->allow_extra_args(false);
    if (option.kind == OptionKind::Number) made->check(check_number);
    if (option.choices.empty()) return;
    std::vector<std::string> words(option.choices.begin(), option.choices.end());
    made->check(CLI::IsMember(words));
}

std::string footer_of(const Command& command) {
    std::string footer;
    if (!command.details.empty()) footer += std::string(command.details) + "\n\n";
    footer += "Example: " + std::string(command.example);
    footer += "\nExit code: " + std::string(command.exit_codes) + ".";
    return footer;
}

struct BoundCommand {
    const Command* command = nullptr;
    CLI::App* app = nullptr;
    std::vector<std::unique_ptr<Bound>> options;
};

BoundCommand bind(CLI::App& app, const Command& command) {
    BoundCommand bound;
    bound.command = &command;
    bound.app = app.add_subcommand(std::string(command.name), std::string(command.summary));
    bound.app->footer(footer_of(command));
    for (const Option& option : command.options) {
        bound.options.push_back(std::make_unique<Bound>());
        bound.options.back()->name = bare_name(option.name);
        bound.options.back()->kind = option.kind;
        add_option(*bound.app, option, *bound.options.back());
    }
    return bound;
}

Arguments arguments_of(const BoundCommand& bound) {
    Arguments arguments;
    for (const auto& option : bound.options) {
        if (option->kind == OptionKind::Flag) {
            if (option->flag) arguments.set(option->name, {"true"});
        } else if (!option->values.empty()) {
            arguments.set(option->name, option->values);
        }
    }
    return arguments;
}

/// `help` and `help COMMAND` for those who do not think of --help.
std::vector<std::string> without_help_word(std::span<const std::string> arguments) {
    std::vector<std::string> plain(arguments.begin(), arguments.end());
    if (plain.empty() || plain.front() != "help") return plain;
    plain.erase(plain.begin());
    plain.emplace_back("--help");
    return plain;
}

bool names_a_command(std::span<const std::string> arguments) {
    if (arguments.empty()) return false;
    if (!arguments.front().empty() && arguments.front().front() == '-') return true;
    for (const Command& command : commands())
        if (arguments.front() == command.name) return true;
    return false;
}

/// A first word that is no command and no file that could be a chart is most likely a slip of the pen.
bool looks_like_a_chart(const std::string& word) {
    return word.find_first_of("./") != std::string::npos;
}

int answer_parse_end(const CLI::App& app, const CLI::ParseError& end, Streams streams) {
    const bool asked = end.get_exit_code() == static_cast<int>(CLI::ExitCodes::Success);
    if (asked) return app.exit(end, streams.out, streams.err) == 0 ? kFine : kCouldNotDo;
    std::string call = "padchart";
    for (const CLI::App* sub : app.get_subcommands())
        call += " " + sub->get_name();
    streams.err << call << ": " << end.what() << "\nTry `" << call << " --help`.\n";
    return kCouldNotDo;
}

int parse_and_run(std::span<const std::string> arguments, Streams streams) {
    CLI::App app("Chart a region of a board before rework. Without a command: opens the window on CHART.", "padchart");
    app.set_version_flag("--version", std::string(kVersion));
    app.require_subcommand(1);
    app.footer("`padchart COMMAND --help` tells about one of them.\n"
               "An aid, not an approval: local codes and licensed practice decide.");
    std::vector<BoundCommand> bound;
    for (const Command& command : commands())
        bound.push_back(bind(app, command));
    try {
        // CLI11 takes the words from the back.
        app.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend()));
    } catch (const CLI::ParseError& end) {
        return answer_parse_end(app, end, streams);
    }
    for (const BoundCommand& candidate : bound)
        if (candidate.app->parsed()) return candidate.command->run(arguments_of(candidate), streams);
    return kCouldNotDo;
}

} // namespace

int run(std::span<const std::string> arguments, Streams streams, int (*open_window)(std::span<const std::string>)) {
    const std::vector<std::string> words = without_help_word(arguments);
    const std::span<const std::string> asked(words);
    PlainBuffer out_buffer(streams.out), err_buffer(streams.err);
    std::ostream out(&out_buffer), err(&err_buffer);
    const Streams plain{out, err};
    try {
        if (names_a_command(asked)) {
            const bool is_view = asked.front() == "view";
            const bool asks_help = asked.size() > 1 && (asked.back() == "--help" || asked.back() == "-h");
            if (!is_view || asks_help) return parse_and_run(asked, plain);
            return open_window(asked.subspan(1));
        }
        if (!asked.empty() && !looks_like_a_chart(asked.front())) {
            plain.err << "padchart: there is no command \"" << asked.front()
                      << "\" and no such chart. `padchart --help` lists the commands.\n";
            return kCouldNotDo;
        }
        return open_window(asked);
    } catch (const std::exception& fault) {
        plain.err << "padchart: stopped by a fault of the program: " << fault.what() << '\n';
        return kCouldNotDo;
    }
}

} // namespace padchart::cli
