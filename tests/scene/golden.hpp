#pragma once
// Compares a text with the file of that name beside the tests. With PADCHART_WRITE_GOLDEN set in the environment the
// file is written instead: look at the difference before committing it.

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>

#include <doctest/doctest.h>

#include "support/places.hpp"

namespace padchart::test {

inline void check_golden(const std::string& name, const std::string& text) {
    const std::filesystem::path path = tests::source_folder() / "tests/scene" / (name + ".golden.txt");
    if (std::getenv("PADCHART_WRITE_GOLDEN") != nullptr) {
        std::ofstream(path, std::ios::binary) << text;
        return;
    }
    std::ifstream file(path, std::ios::binary);
    REQUIRE_MESSAGE(file.good(), path.string());
    const std::string expected{std::istreambuf_iterator<char>(file), {}};
    CHECK(text == expected);
}

} // namespace padchart::test
