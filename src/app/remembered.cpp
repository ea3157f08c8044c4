#include "app/remembered.hpp"

#include <algorithm>
#include <fstream>

#include "base/disk_file.hpp"
#include "cli/user_folders.hpp"

namespace padchart::app {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kRecent = "recent-charts.txt";
constexpr std::size_t kMostCharts = 12;

} // namespace

std::vector<std::string> remembered(std::string_view name) {
    std::vector<std::string> lines;
    const fs::path folder = cli::state_folder();
    if (folder.empty()) return lines;
    std::ifstream in(folder / name, std::ios::binary);
    for (std::string line; std::getline(in, line);)
        if (!line.empty()) lines.push_back(line);
    return lines;
}

void remember(std::string_view name, const std::string& line, std::size_t most) {
    const fs::path folder = cli::state_folder();
    if (folder.empty() || line.empty() || line.find('\n') != std::string::npos) return;
    std::vector<std::string> lines = remembered(name);
    if (!lines.empty() && lines.front() == line) return;
    std::erase(lines, line);
    lines.insert(lines.begin(), line);
    lines.resize(std::min(lines.size(), most));
    std::string text;
    for (const std::string& kept : lines)
        text += kept + "\n";
    std::error_code ignored;
    fs::create_directories(folder, ignored);
    (void)replace_file(folder / name, text);
}

std::vector<fs::path> recent_charts() {
    std::vector<fs::path> out;
    for (const std::string& line : remembered(kRecent)) {
        std::error_code ignored;
        if (fs::is_regular_file(line, ignored)) out.emplace_back(line);
    }
    return out;
}

void remember_chart(const fs::path& path) {
    std::error_code error;
    const fs::path whole = fs::weakly_canonical(path, error);
    if (!error) remember(kRecent, whole.string(), kMostCharts);
}

} // namespace padchart::app
