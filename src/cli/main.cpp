// `padchart`: the command line. It links no window library; for the window it becomes the program beside it.

#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <iostream>
#include <string>
#include <vector>

#include "cli/command.hpp"

namespace {

/// Replaces this process by `padchart-window`, which lies in the same folder.
int open_window(std::span<const std::string> arguments) {
    std::error_code ignored;
    const std::filesystem::path self = std::filesystem::read_symlink("/proc/self/exe", ignored);
    const std::string program = (self.parent_path() / "padchart-window").string();
    std::vector<std::string> words{program};
    words.insert(words.end(), arguments.begin(), arguments.end());
    std::vector<char*> argv;
    argv.reserve(words.size() + 1);
    for (std::string& word : words)
        argv.push_back(word.data());
    argv.push_back(nullptr);
    execv(program.c_str(), argv.data());
    std::cerr << "padchart: the window program " << program << " could not be started: " << std::strerror(errno)
              << ". The commands work without it: padchart --help\n";
    return padchart::cli::kCouldNotDo;
}

} // namespace

int main(int count, char** words) {
    const std::vector<std::string> arguments(words + 1, words + count);
    return padchart::cli::run(arguments, {std::cout, std::cerr}, open_window);
}
