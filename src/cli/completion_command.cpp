// What a shell completes after `padchart`, made from the same table as the parser and the help.

#include <ostream>
#include <string>
#include <vector>

#include "cli/subcommands.hpp"

namespace padchart::cli {
namespace {

/// "-o,--output" as the words a hand may type.
std::vector<std::string> words_of(const Option& option) {
    std::vector<std::string> out;
    if (option.name.front() != '-') return out;
    const std::size_t comma = option.name.find(',');
    out.emplace_back(option.name.substr(0, comma));
    if (comma != std::string_view::npos) out.emplace_back(option.name.substr(comma + 1));
    return out;
}

std::string joined(const std::vector<std::string_view>& words) {
    std::string out;
    for (const std::string_view word : words)
        out += (out.empty() ? "" : " ") + std::string(word);
    return out;
}

std::string option_words(const Command& command) {
    std::string out = "--help";
    for (const Option& option : command.options)
        for (const std::string& word : words_of(option))
            out += " " + word;
    return out;
}

std::string command_names() {
    std::string out;
    for (const Command& command : commands())
        out += (out.empty() ? "" : " ") + std::string(command.name);
    return out;
}

/// Inside single quotes of bash, zsh and fish alike.
std::string quoted(std::string_view text) {
    std::string out = "'";
    for (const char c : text)
        out += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return out + "'";
}

void bash_choices(std::ostream& out, const Command& command) {
    for (const Option& option : command.options) {
        if (option.choices.empty() || option.name.front() != '-') continue;
        for (const std::string& word : words_of(option))
            out << "        " << command.name << ":" << word << ") COMPREPLY=($(compgen -W "
                << quoted(joined(option.choices)) << " -- \"$word\")); return ;;\n";
    }
}

void bash(std::ostream& out) {
    out << "# What bash completes after padchart.\n"
           "_padchart() {\n"
           "    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} command=${COMP_WORDS[1]}\n"
           "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
           "        COMPREPLY=($(compgen -W "
        << quoted(command_names() + " --help --version")
        << " -- \"$word\") $(compgen -f -- \"$word\"))\n"
           "        return\n"
           "    fi\n"
           "    case \"$command:$before\" in\n";
    for (const Command& command : commands())
        bash_choices(out, command);
    out << "    esac\n"
           "    if [[ $word != -* ]]; then\n"
           "        COMPREPLY=($(compgen -f -- \"$word\"))\n"
           "        return\n"
           "    fi\n"
           "    case $command in\n";
    for (const Command& command : commands())
        out << "        " << command.name << ") COMPREPLY=($(compgen -W " << quoted(option_words(command))
            << " -- \"$word\")) ;;\n";
    out << "    esac\n"
           "}\n"
           "complete -o filenames -F _padchart padchart\n";
}

/// In zsh's option lists brackets and colons have a meaning.
std::string zsh_text(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '[' || c == ']' || c == ':') out += '\\';
        out += c;
    }
    return out;
}

void zsh_option(std::ostream& out, const Option& option) {
    for (const std::string& word : words_of(option)) {
        std::string entry = word + "[" + zsh_text(option.help) + "]";
        if (option.kind != OptionKind::Flag)
            entry += option.choices.empty() ? ":value:_files" : ":word:(" + joined(option.choices) + ")";
        out << " \\\n                " << quoted((option.repeats ? "*" : "") + entry);
    }
}

void zsh(std::ostream& out) {
    out << "#compdef padchart\n"
           "# What zsh completes after padchart.\n"
           "_padchart() {\n"
           "    local -a commands=(\n";
    for (const Command& command : commands())
        out << "        " << quoted(std::string(command.name) + ":" + zsh_text(command.summary)) << "\n";
    out << "    )\n"
           "    if (( CURRENT == 2 )); then\n"
           "        _describe command commands\n"
           "        _files\n"
           "        return\n"
           "    fi\n"
           "    local command=$words[2]\n"
           "    shift words\n"
           "    (( CURRENT-- ))\n"
           "    case $command in\n";
    for (const Command& command : commands()) {
        out << "        " << command.name << ")\n            _arguments '--help[what it does]' '*:file:_files'";
        for (const Option& option : command.options)
            zsh_option(out, option);
        out << " ;;\n";
    }
    out << "    esac\n"
           "}\n"
           "_padchart \"$@\"\n";
}

void fish_option(std::ostream& out, const Command& command, const Option& option) {
    const std::vector<std::string> words = words_of(option);
    if (words.empty()) return;
    out << "complete -c padchart -n '__fish_seen_subcommand_from " << command.name << "'";
    for (const std::string& word : words)
        out << (word.starts_with("--") ? " -l " + word.substr(2) : " -s " + word.substr(1));
    if (option.kind != OptionKind::Flag) out << " -r";
    if (!option.choices.empty()) out << " -f -a " << quoted(joined(option.choices));
    out << " -d " << quoted(option.help) << "\n";
}

void fish(std::ostream& out) {
    out << "# What fish completes after padchart.\n";
    for (const Command& command : commands()) {
        out << "complete -c padchart -n __fish_use_subcommand -a " << command.name << " -d " << quoted(command.summary)
            << "\n";
        for (const Option& option : command.options)
            fish_option(out, command, option);
    }
}

int run_completion(const Arguments& arguments, Streams streams) {
    const std::string shell = arguments.text("SHELL");
    if (shell == "bash") bash(streams.out);
    if (shell == "zsh") zsh(streams.out);
    if (shell == "fish") fish(streams.out);
    return kFine;
}

} // namespace

Command completion_command() {
    return {"completion",
            "what a shell completes after padchart",
            "Prints the definitions for the shell named; an installed package has put them in place already.",
            "padchart completion bash > ~/.local/share/bash-completion/completions/padchart",
            {{"SHELL", OptionKind::Text, "the shell they are for", true, {"bash", "zsh", "fish"}}},
            run_completion};
}

} // namespace padchart::cli
