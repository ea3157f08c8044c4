#include "app/file_names.hpp"

#include <algorithm>
#include <cctype>

#include <fmt/format.h>

#include "cli/own_files.hpp"
#include "cli/shared.hpp"

namespace padchart::app {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kChartEnding = ".chart.json", kPatternEnding = ".pattern.json";

std::string file_name(const std::string& path) {
    return fs::path(path).filename().string();
}

/// Endings of other kinds of file: with one of them the name is a slip, not a name with a point in it.
bool has_ending_of_another_kind(const std::string& path) {
    constexpr std::string_view kOthers[] = {".svg", ".png", ".jpg", ".jpeg", ".pdf", ".html",
                                            ".htm", ".csv", ".tsv", ".txt",  ".json"};
    const std::string ending = cli::lower_case(fs::path(path).extension().string());
    return std::find(std::begin(kOthers), std::end(kOthers), ending) != std::end(kOthers);
}

/// The one of `endings` that the path has, in any case of its letters.
std::optional<std::string_view> ending_of(const std::string& path, const std::vector<std::string_view>& endings) {
    const std::string name = cli::lower_case(file_name(path));
    for (const std::string_view ending : endings)
        if (name.size() > ending.size() && name.ends_with(ending)) return ending;
    return std::nullopt;
}

cli::OwnKind kind_of(FileTask task, std::string_view ending) {
    if (task == FileTask::SaveAs) return cli::OwnKind::Chart;
    if (task == FileTask::SavePattern) return cli::OwnKind::Pattern;
    return ending == ".html" ? cli::OwnKind::Page : cli::OwnKind::Picture;
}

bool is_foreign(FileTask task, const std::string& path) {
    return cli::is_foreign(path, kind_of(task, ending_of(path, endings_written(task)).value_or("")));
}

std::string_view words_of(cli::OwnKind kind) {
    switch (kind) {
    case cli::OwnKind::Picture: return cli::kForeignPicture;
    case cli::OwnKind::Page: return cli::kForeignPage;
    case cli::OwnKind::Chart: return "is there and is no chart that Padchart can read";
    case cli::OwnKind::Pattern: break;
    }
    return "is there and is no pattern that Padchart can read";
}

/// "map" of "corner.map.svg".
std::string_view word_between(FileTask task, std::string_view ending) {
    if (task == FileTask::WriteCard) return "card";
    if (task != FileTask::WriteSheet) return "own";
    if (ending == ".pdf") return "sheet";
    return ending == ".html" ? "page" : "map";
}

std::string wrong_ending(FileTask task, const std::string& path) {
    const std::vector<std::string_view> endings = endings_written(task);
    const std::string rule = "The name must end with " + listed(endings);
    if (endings.size() > 1) return rule + ".";
    return rule + ", e.g. " + fs::path(path).stem().string() + std::string(endings.front()) + ".";
}

template <class Taken>
std::string free_name(const std::string& stem, std::string_view word, std::string_view ending, Taken is_taken) {
    for (int number = 1;; ++number) {
        const std::string count = number == 1 ? "" : fmt::format("-{}", number);
        std::string path = fmt::format("{}{}{}{}", stem, word, count, ending);
        if (!is_taken(path)) return path;
    }
}

fs::path trace_of(const Session& s) {
    const TraceHome* home = s.desks.find<TraceHome>();
    return home != nullptr && home->sitting == s.editor.sitting() ? home->trace : fs::path();
}

fs::path former_file_of(const Session& s) {
    const FormerHome* home = s.desks.find<FormerHome>();
    std::error_code ignored;
    const bool is_known = home != nullptr && home->sitting == s.editor.sitting() && !home->file.empty();
    return is_known && fs::is_directory(home->file.parent_path(), ignored) ? home->file : fs::path();
}

/// "row" of "row.chart.json".
std::string without_chart_ending(std::string path) {
    if (path.ends_with(kChartEnding)) path.resize(path.size() - kChartEnding.size());
    return path;
}

/// Letters of any script and digits; a hyphen for all that stands between them.
std::string title_as_name(const document::Title& title) {
    constexpr std::size_t kLongest = 60; // bytes: any file system takes that
    std::string name;
    for (const char c : title.board + " " + title.title) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte >= 0x80U || std::isalnum(byte) != 0)
            name += c;
        else if (!name.empty() && name.back() != '-')
            name += '-';
    }
    if (name.size() > kLongest) {
        std::size_t end = kLongest;
        while (end > 0 && (static_cast<unsigned char>(name[end]) & 0xC0U) == 0x80U)
            --end; // within a letter of several bytes
        name.resize(end);
    }
    while (name.ends_with('-'))
        name.pop_back();
    return name;
}

std::string free_chart_name(const std::string& stem) {
    return free_name(stem, "", kChartEnding, [](const std::string& name) {
        std::error_code ignored;
        return fs::exists(fs::symlink_status(name, ignored));
    });
}

} // namespace

void note_former_file(Session& s, const fs::path& file) {
    s.desks.get<FormerHome>() = {file, s.editor.sitting()};
}

void note_trace(Session& s, const fs::path& trace) {
    std::error_code ignored;
    s.desks.get<TraceHome>() = {fs::absolute(trace, ignored), s.editor.sitting()};
}

std::vector<std::string_view> endings_written(FileTask task) {
    switch (task) {
    case FileTask::SaveAs: return {kChartEnding};
    case FileTask::SavePattern: return {kPatternEnding};
    case FileTask::WriteSheet: return {".pdf", ".html", ".svg", ".png"};
    case FileTask::WriteCard: return {".pdf", ".svg", ".png"};
    default: return {};
    }
}

std::string listed(const std::vector<std::string_view>& endings) {
    std::string text;
    for (std::size_t i = 0; i < endings.size(); ++i) {
        if (i > 0) text += i + 1 == endings.size() ? " or " : ", ";
        text += endings[i];
    }
    return text;
}

std::string with_own_ending(FileTask task, std::string path) {
    const std::vector<std::string_view> endings = endings_written(task);
    if (endings.size() != 1 || ending_of(path, endings) || has_ending_of_another_kind(path)) return path;
    return path + std::string(endings.front());
}

std::optional<std::string> why_not_written(FileTask task, const std::string& path) {
    const std::vector<std::string_view> endings = endings_written(task);
    if (endings.empty()) return std::nullopt;
    const auto ending = ending_of(path, endings);
    if (!ending) return wrong_ending(task, path);
    if (!is_foreign(task, path)) return std::nullopt;
    return fmt::format("{} {}. Choose another name, e.g. {}.", file_name(path), words_of(kind_of(task, *ending)),
                       file_name(offered_name(task, path)));
}

std::string offered_name(FileTask task, const std::string& path) {
    const auto ending = ending_of(path, endings_written(task));
    if (!ending || !is_foreign(task, path)) return path;
    const std::string stem = path.substr(0, path.size() - ending->size()) + ".";
    return free_name(stem, word_between(task, *ending), *ending,
                     [task](const std::string& name) { return is_foreign(task, name); });
}

std::string offered_chart(const Session& s, const std::string& folder) {
    const fs::path trace = trace_of(s), former = former_file_of(s);
    if (!trace.empty()) return free_chart_name((trace.parent_path() / trace.stem()).string());
    if (!former.empty()) return free_chart_name(without_chart_ending(former.string()));
    const std::string title = title_as_name(s.editor.chart().title);
    return title.empty() ? folder : free_chart_name(folder + title);
}

std::string offered_stem(const Session& s) {
    std::string path = without_chart_ending(s.editor.path().string());
    if (!path.empty()) return path;
    const fs::path trace = trace_of(s), former = former_file_of(s);
    if (trace.empty() && !former.empty()) return without_chart_ending(former.string());
    return trace.empty() ? "sheet" : (trace.parent_path() / trace.stem()).string();
}

} // namespace padchart::app
