#pragma once
// Asks the poppler tools, a reader of PDF that shares no code with what wrote the file.

#include <array>
#include <cctype>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <string>
#include <vector>

#include <doctest/doctest.h>

namespace padchart::test {

/// A folder of this test's own, gone when it ends.
class TempFolder {
public:
    TempFolder() {
        std::string name = (std::filesystem::temp_directory_path() / "padchart-paint-XXXXXX").string();
        REQUIRE(mkdtemp(name.data()) != nullptr);
        path_ = name;
    }
    ~TempFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    TempFolder(const TempFolder&) = delete;
    TempFolder& operator=(const TempFolder&) = delete;
    [[nodiscard]] std::string file(const std::string& name) const { return (path_ / name).string(); }

private:
    std::filesystem::path path_;
};

inline std::string bytes_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    REQUIRE_MESSAGE(file.good(), path);
    return {std::istreambuf_iterator<char>(file), {}};
}

/// What the command prints. Requires: it ends well.
inline std::string output_of(const std::string& command) {
    FILE* pipe = popen(command.c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::string text;
    std::array<char, 4096> part{};
    for (std::size_t n = 0; (n = fread(part.data(), 1, part.size(), pipe)) > 0;)
        text.append(part.data(), n);
    REQUIRE_MESSAGE(pclose(pipe) == 0, command);
    return text;
}

/// A page as grey levels.
struct GreyPicture {
    int width = 0;
    int height = 0;
    std::string pixels;

    [[nodiscard]] int at(int x, int y) const {
        return static_cast<std::uint8_t>(
            pixels[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)]);
    }
};

inline GreyPicture rendered(const std::string& pdf, int page, int dpi) {
    const std::string number = std::to_string(page);
    const std::string pgm =
        output_of("pdftoppm -gray -r " + std::to_string(dpi) + " -f " + number + " -l " + number + " '" + pdf + "'");
    GreyPicture picture;
    int most = 0;
    int used = 0;
    REQUIRE(std::sscanf(pgm.c_str(), "P5 %d %d %d%n", &picture.width, &picture.height, &most, &used) == 3);
    REQUIRE(most == 255);
    picture.pixels = pgm.substr(static_cast<std::size_t>(used) + 1);
    REQUIRE(picture.pixels.size() ==
            static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.height));
    return picture;
}

} // namespace padchart::test
