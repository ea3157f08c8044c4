#include "app/own_families.hpp"

#include <algorithm>

#include "cli/user_folders.hpp"
#include "patterns/own_pattern.hpp"
#include "json/pattern_file.hpp"

namespace padchart::app {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kEnding = ".pattern.json";

std::string stem_of(const fs::path& path) {
    std::string name = path.filename().string();
    name.resize(name.size() - kEnding.size());
    return name;
}

bool is_file_name(const std::string& name) {
    return !name.empty() && name.front() != '.' && name.find('/') == std::string::npos &&
           std::all_of(name.begin(), name.end(), [](unsigned char c) { return c >= 0x20; });
}

} // namespace

fs::path own_families_folder() {
    const fs::path data = cli::data_folder();
    return data.empty() ? data : data / "patterns";
}

std::vector<std::pair<fs::path, fs::file_time_type>> OwnFamilies::files() const {
    std::vector<std::pair<fs::path, fs::file_time_type>> found;
    std::error_code trouble;
    for (fs::directory_iterator at(folder_, trouble), end; !trouble && at != end; at.increment(trouble)) {
        std::error_code ignored;
        if (at->path().filename().string().ends_with(kEnding))
            found.emplace_back(at->path(), at->last_write_time(ignored));
    }
    std::sort(found.begin(), found.end());
    return found;
}

void OwnFamilies::read() {
    families_.clear();
    findings_.clear();
    for (const auto& [path, time] : seen_) {
        Result<json::PatternFile> file = json::load_pattern(path);
        if (!file) {
            findings_.push_back({Severity::Warning, "pattern-not-read", describe(file.error()), path.string(), ""});
            continue;
        }
        OwnFamily own{file->pattern.name.empty() ? stem_of(path) : file->pattern.name, file->note, path,
                      std::move(file->pattern)};
        own.pattern.name.clear(); // the part gets a free name of its class
        families_.push_back(std::move(own));
    }
    std::stable_sort(families_.begin(), families_.end(),
                     [](const OwnFamily& a, const OwnFamily& b) { return a.name < b.name; });
}

const std::vector<OwnFamily>& OwnFamilies::all(bool now) {
    using namespace std::chrono_literals;
    const auto time = fs::file_time_type::clock::now();
    if (folder_.empty() || (was_read_ && !now && time - looked_ < 1s)) return families_;
    looked_ = time;
    auto found = files();
    if (was_read_ && found == seen_) return families_;
    was_read_ = true;
    seen_ = std::move(found);
    read();
    return families_;
}

Result<fs::path> OwnFamilies::keep(const document::Footprint& part, const std::string& name) {
    if (folder_.empty()) return Error{"There is no home folder to keep patterns in.", ""};
    if (!is_file_name(name)) return Error{"The name must be one that a file can bear, without a slash.", name};
    const fs::path path = folder_ / (name + std::string(kEnding));
    std::error_code trouble;
    if (fs::exists(path, trouble)) return Error{"A pattern of that name is kept already; choose another.", name};
    fs::create_directories(folder_, trouble);
    if (trouble) return Error{"The folder cannot be made: " + trouble.message(), folder_.string()};
    json::PatternFile file;
    file.pattern = patterns::as_pattern(part);
    file.pattern.name = name;
    if (Result<void> saved = json::save_pattern(file, path); !saved) return saved.error();
    static_cast<void>(all(true));
    return path;
}

} // namespace padchart::app
