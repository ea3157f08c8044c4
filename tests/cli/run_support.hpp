#pragma once
// Runs a subcommand inside the test program and keeps what it said.

#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <initializer_list>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "cli/command.hpp"
#include "support/places.hpp"

namespace padchart::tests {

struct Answer {
    int code = -1;
    std::string out;
    std::string err;
};

inline int no_window(std::span<const std::string>) {
    return 42;
}

inline Answer call(std::initializer_list<std::string> words) {
    std::ostringstream out;
    std::ostringstream err;
    const std::vector<std::string> arguments(words);
    Answer answer;
    answer.code = cli::run(arguments, {out, err}, no_window);
    answer.out = out.str();
    answer.err = err.str();
    return answer;
}

/// A folder of its own for one test, removed at its end.
class TemporaryFolder {
public:
    TemporaryFolder() {
        static int count = 0;
        path_ = std::filesystem::temp_directory_path() /
                ("padchart-test-" + std::to_string(getpid()) + "-" + std::to_string(count++));
        std::filesystem::create_directories(path_);
    }
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    ~TemporaryFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }

    [[nodiscard]] std::string file(const std::string& name) const { return (path_ / name).string(); }
    [[nodiscard]] std::string write(const std::string& name, const std::string& text) const {
        std::ofstream(path_ / name, std::ios::binary) << text;
        return file(name);
    }
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

inline std::string read_text(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

inline bool contains(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

inline std::string demo_chart_path() {
    return (source_folder() / "demo/river-logger.chart.json").string();
}
inline std::string demo_trace_path() {
    return (source_folder() / "demo/power-corner.svg").string();
}

} // namespace padchart::tests
