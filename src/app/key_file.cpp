#include "app/key_file.hpp"

#include <algorithm>
#include <cctype>

#include <fmt/format.h>

#include "app/actions.hpp"
#include "app/trace_log.hpp"
#include "base/disk_file.hpp"
#include "cli/user_folders.hpp"

namespace padchart::app {
namespace {

constexpr std::size_t kMostBytes = 200'000;
constexpr std::size_t kMostTold = 4; // with their reasons: more than a notice has room for

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view kSpaces = " \t\r";
    const std::size_t first = text.find_first_not_of(kSpaces);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(kSpaces) - first + 1);
}

std::string plain(std::string_view text) {
    std::string out;
    for (const char c : text)
        if (c != ' ' && c != '\t') out += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return out;
}

bool drop_prefix(std::string& text, std::string_view prefix) {
    if (!text.starts_with(prefix) || text.size() == prefix.size()) return false;
    text.erase(0, prefix.size());
    return true;
}

bool can_be_given(Key key) {
    return key != Key::None && key != Key::Escape && !is_modifier(key);
}

std::vector<std::string_view> split_keys(std::string_view text) {
    constexpr std::string_view kBetween = " or ";
    std::vector<std::string_view> parts;
    for (std::size_t at = text.find(kBetween); at != std::string_view::npos; at = text.find(kBetween)) {
        parts.push_back(trimmed(text.substr(0, at)));
        text.remove_prefix(at + kBetween.size());
    }
    if (!trimmed(text).empty()) parts.push_back(trimmed(text));
    return parts;
}

struct Line {
    std::size_t number = 0;
    KeyedAction* action = nullptr;
    std::vector<Chord> keys;
};

class FileReader {
public:
    explicit FileReader(std::vector<KeyedAction>& actions) : actions_(actions) {}

    Diagnostics read(std::string_view file) {
        std::size_t number = 0;
        while (!file.empty()) {
            const std::size_t end = std::min(file.find('\n'), file.size());
            read_line(file.substr(0, end), ++number);
            file.remove_prefix(std::min(end + 1, file.size()));
        }
        give();
        std::stable_sort(findings_.begin(), findings_.end(),
                         [](const auto& a, const auto& b) { return a.first < b.first; });
        Diagnostics in_order;
        for (auto& [line, finding] : findings_)
            in_order.push_back(std::move(finding));
        return in_order;
    }

private:
    void say(std::size_t line, const std::string& what) {
        findings_.push_back({line, {Severity::Warning, "key-file", what, fmt::format("line {}", line), ""}});
    }

    void read_line(std::string_view text, std::size_t number) {
        text = trimmed(text.substr(0, std::min(text.find('#'), text.size())));
        if (text.empty()) return;
        const std::size_t sign = text.find('=');
        if (sign == std::string_view::npos)
            return say(number, "\"" + std::string(text.substr(0, 40)) +
                                   "\" is no line of keys; right would be: save = Ctrl+S.");
        const std::string_view id = trimmed(text.substr(0, sign));
        const auto action = std::find_if(actions_.begin(), actions_.end(), [&](const auto& a) { return a.id == id; });
        if (action == actions_.end())
            return say(number, "No action is called \"" + std::string(id.substr(0, 40)) + "\".");
        const auto same = [&](const Line& line) { return line.action == &*action; };
        if (std::any_of(lines_.begin(), lines_.end(), same))
            return say(number, "\"" + action->id + "\" stands here a second time; the first line counts.");
        Line line{number, &*action, {}};
        const std::string_view wanted = trimmed(text.substr(sign + 1));
        for (const std::string_view part : split_keys(wanted)) {
            if (const auto chord = chord_from(part))
                take(line, *chord);
            else
                say(number, "\"" + std::string(part.substr(0, 40)) + "\" is no key that an action can have.");
        }
        // Nothing at all is meant; a slip of the pen is not, and leaves the usual keys.
        if (!line.keys.empty() || wanted.empty()) lines_.push_back(std::move(line));
    }

    void take(Line& line, const Chord& chord) {
        for (const Line& other : lines_)
            if (std::find(other.keys.begin(), other.keys.end(), chord) != other.keys.end())
                return say(line.number, fmt::format("{} is already the key of \"{}\" in line {}.", to_text(chord),
                                                    other.action->id, other.number));
        if (std::find(line.keys.begin(), line.keys.end(), chord) == line.keys.end()) line.keys.push_back(chord);
    }

    /// What the file gives to one action, another one loses, unless it is named too.
    void give() {
        const auto is_named = [this](const KeyedAction& action) {
            return std::any_of(lines_.begin(), lines_.end(), [&](const Line& line) { return line.action == &action; });
        };
        for (KeyedAction& action : actions_) {
            if (is_named(action)) continue;
            for (const Line& line : lines_)
                for (const Chord& chord : line.keys)
                    if (std::erase(action.keys, chord) > 0)
                        say(line.number, fmt::format("{} was the key of \"{}\" and is now the key of \"{}\".",
                                                     to_text(chord), action.id, line.action->id));
        }
        for (Line& line : lines_)
            line.action->keys = std::move(line.keys);
    }

    std::vector<KeyedAction>& actions_;
    std::vector<Line> lines_;
    std::vector<std::pair<std::size_t, Diagnostic>> findings_; ///< with their lines
};

std::vector<KeyedAction> keyed_actions() {
    std::vector<KeyedAction> keyed;
    for (const Action& action : actions())
        keyed.push_back({std::string(action.id), action.keys});
    return keyed;
}

std::string file_text() {
    std::string text =
        "# Keys of Padchart, read when the window opens. These are the usual ones: to change one, take the # away "
        "from\n"
        "# the front of its line and write another key. Nothing behind the = leaves the action without a key.\n";
    std::string_view group;
    for (const Action& action : actions()) {
        if (action.group != group) text += fmt::format("\n# {}\n", group = action.group);
        std::string keys;
        for (const Chord& chord : action.keys)
            keys += (keys.empty() ? "" : " or ") + to_text(chord);
        // Only what a person has changed stands in force: a later version may come with other keys and more actions.
        text += fmt::format("#{} = {}", action.id, keys);
        text += fmt::format("{}# {}\n", keys.empty() ? "" : "  ", action.label);
    }
    return text;
}

Result<void> write_beside_nothing(const std::filesystem::path& path, const std::string& text) {
    std::error_code error;
    std::filesystem::create_directories(path.parent_path(), error);
    if (error) return Error{"the folder cannot be made: " + error.message(), path.parent_path().string()};
    return replace_file(path, text);
}

} // namespace

std::optional<Chord> chord_from(std::string_view text) {
    std::string rest = plain(text);
    Chord chord;
    for (bool found = true; found;) {
        found = false;
        for (const auto& [word, flag] : {std::pair<std::string_view, bool Chord::*>{"ctrl+", &Chord::ctrl},
                                         {"shift+", &Chord::shift},
                                         {"alt+", &Chord::alt}})
            if (!(chord.*flag) && drop_prefix(rest, word)) chord.*flag = found = true;
    }
    for (int k = 1; k < kKeyCount; ++k) {
        const Key key = static_cast<Key>(k);
        if (!can_be_given(key) || plain(to_text(Chord{key})) != rest) continue;
        chord.key = key;
        return chord;
    }
    return std::nullopt;
}

Diagnostics apply_keys(std::string_view file, std::vector<KeyedAction>& actions) {
    return FileReader(actions).read(file);
}

std::filesystem::path key_file_path() {
    const std::filesystem::path folder = cli::config_folder();
    return folder.empty() ? folder : folder / "keys.txt";
}

void load_key_file(Session& s) {
    const std::filesystem::path path = key_file_path();
    std::error_code ignored;
    if (path.empty() || !std::filesystem::exists(path, ignored)) return;
    const Result<std::string> text = read_file(path);
    if (!text) return s.editor.tell(Severity::Warning, "The key file was left out: " + describe(text.error()));
    if (text->size() > kMostBytes)
        return s.editor.tell(Severity::Warning, "The key file was left out: it is far too long for one.");
    std::vector<KeyedAction> keyed = keyed_actions();
    const Diagnostics findings = apply_keys(*text, keyed);
    for (const KeyedAction& action : keyed)
        set_keys(action.id, action.keys);
    trace("keys", fmt::format("{} findings", findings.size()));
    if (findings.empty()) return;
    std::string notice = "Key file";
    const std::size_t told = std::min(findings.size(), kMostTold);
    for (std::size_t i = 0; i < told; ++i)
        notice += fmt::format("{} {}: {}", i == 0 ? "," : " And", findings[i].where, findings[i].message);
    for (std::size_t i = told; i < findings.size(); ++i)
        notice += fmt::format("{} {}",
                              i == told                  ? " Look also at"
                              : i + 1 == findings.size() ? " and"
                                                         : ",",
                              findings[i].where);
    if (findings.size() > told) notice += ".";
    s.editor.tell(Severity::Warning, notice);
}

void write_key_file(Session& s) {
    const std::filesystem::path path = key_file_path();
    if (path.empty())
        return s.editor.tell(Severity::Fault, "There is no place for it: neither XDG_CONFIG_HOME nor HOME is set.");
    std::error_code ignored;
    if (std::filesystem::exists(path, ignored))
        return s.editor.tell(Severity::Note, "There is a key file already, and it stays: " + path.string());
    if (const Result<void> written = write_beside_nothing(path, file_text()); !written)
        return s.editor.tell(Severity::Fault, describe(written.error()));
    s.editor.tell(Severity::Note, "Written: " + path.string() + ". Edit it and open the window again.");
    trace("keys", "written");
}

} // namespace padchart::app
