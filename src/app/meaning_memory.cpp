#include "app/meaning_memory.hpp"

#include <algorithm>
#include <vector>

#include "base/disk_file.hpp"
#include "cli/user_folders.hpp"
#include "svg/scan.hpp"

namespace padchart::app {
namespace {

constexpr std::string_view kNothingSaid = "-";

std::optional<svg::Role> role_of(std::string_view word) {
    for (int i = 0; i <= static_cast<int>(svg::Role::Note); ++i)
        if (svg::to_text(static_cast<svg::Role>(i)) == word) return static_cast<svg::Role>(i);
    return std::nullopt;
}

/// A name may hold what separates the fields of the file.
std::string one_line(std::string_view text) {
    std::string line(svg::trimmed(text));
    std::replace_if(
        line.begin(), line.end(), [](char c) { return c == '\t' || c == '\n' || c == '\r'; }, ' ');
    return line;
}

std::string in_small_letters(std::string text) {
    for (char& letter : text)
        letter = svg::to_lower(letter);
    return text;
}

} // namespace

const RememberedMeaning* MeaningMemory::find(std::string_view what) const {
    const auto found = entries_.find(in_small_letters(one_line(what)));
    return found == entries_.end() ? nullptr : &found->second.known;
}

std::vector<std::pair<std::string, RememberedMeaning>> MeaningMemory::beginning_with(std::string_view start) const {
    std::vector<std::pair<std::string, RememberedMeaning>> all;
    for (const auto& [key, entry] : entries_)
        if (key.starts_with(start)) all.emplace_back(entry.what, entry.known);
    std::sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    return all;
}

void MeaningMemory::set(std::string_view what, const svg::ShapeMeaning& meaning, std::string_view file) {
    const std::string line = one_line(what), key = in_small_letters(line);
    if (line.empty()) return;
    entries_.erase(key);
    if (meaning == svg::ShapeMeaning{}) return;
    entries_[key] = {line, {meaning, one_line(file)}, ++last_said_};
    if (entries_.size() <= kMost) return;
    entries_.erase(std::min_element(entries_.begin(), entries_.end(),
                                    [](const auto& a, const auto& b) { return a.second.said < b.second.said; }));
}

std::string MeaningMemory::text() const {
    std::vector<const Entry*> order;
    for (const auto& [key, entry] : entries_)
        order.push_back(&entry);
    std::sort(order.begin(), order.end(), [](const Entry* a, const Entry* b) { return a->said < b->said; });
    std::string text = "# What layers and shapes of traces are: role, side, what it is remembered by, file.\n";
    for (const Entry* entry : order) {
        const svg::ShapeMeaning& meaning = entry->known.meaning;
        text += meaning.role ? svg::to_text(*meaning.role) : kNothingSaid;
        text += '\t';
        text += meaning.side ? document::to_text(*meaning.side) : kNothingSaid;
        text += '\t' + entry->what + '\t' + entry->known.file + '\n';
    }
    return text;
}

MeaningMemory MeaningMemory::from_text(std::string_view text) {
    MeaningMemory memory;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        const std::string_view line = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        const std::size_t first = line.find('\t');
        const std::size_t second = first == std::string_view::npos ? first : line.find('\t', first + 1);
        if (line.starts_with('#') || second == std::string_view::npos) continue;
        svg::ShapeMeaning meaning;
        meaning.role = role_of(line.substr(0, first));
        meaning.side = document::from_text<document::Side>(line.substr(first + 1, second - first - 1));
        const std::size_t third = line.find('\t', second + 1);
        const std::string_view what =
            line.substr(second + 1, third == std::string_view::npos ? third : third - second - 1);
        memory.set(what, meaning, third == std::string_view::npos ? std::string_view() : line.substr(third + 1));
    }
    return memory;
}

std::filesystem::path meaning_file() {
    const std::filesystem::path folder = cli::config_folder();
    return folder.empty() ? folder : folder / "trace-meanings";
}

MeaningMemory load_meanings(const std::filesystem::path& file) {
    std::error_code ignored;
    if (file.empty() || !std::filesystem::exists(file, ignored)) return {};
    const Result<std::string> text = read_file(file);
    return text ? MeaningMemory::from_text(*text) : MeaningMemory();
}

Result<void> save_meanings(const MeaningMemory& memory, const std::filesystem::path& file) {
    if (file.empty()) return {};
    std::error_code failed;
    std::filesystem::create_directories(file.parent_path(), failed);
    if (failed) return Error{"the folder cannot be made: " + failed.message(), file.parent_path().string()};
    return replace_file(file, memory.text());
}

} // namespace padchart::app
