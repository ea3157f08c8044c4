#include "app/file_names.hpp"

#include <algorithm>

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

} // namespace

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
    const fs::path trace = trace_of(s);
    if (trace.empty()) return folder;
    return free_name((trace.parent_path() / trace.stem()).string(), "", kChartEnding, [](const std::string& name) {
        std::error_code ignored;
        return fs::exists(name, ignored);
    });
}

std::string offered_stem(const Session& s) {
    std::string path = s.editor.path().string();
    if (path.ends_with(kChartEnding)) path.resize(path.size() - kChartEnding.size());
    if (!path.empty()) return path;
    const fs::path trace = trace_of(s);
    return trace.empty() ? "sheet" : (trace.parent_path() / trace.stem()).string();
}

} // namespace padchart::app
