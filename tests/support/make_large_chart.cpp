// `make_large_chart OUT.chart.json [PARTS [PADS-A-PART]]`: a generated chart for tours and benchmarks of the window.

#include <cstdlib>
#include <iostream>
#include <string>
#include <string_view>

#include "support/chart_generator.hpp"
#include "json/chart_file.hpp"

int main(int count, char** words) {
    const bool asks = count > 1 && (std::string_view(words[1]) == "--help" || std::string_view(words[1]) == "-h");
    if (count < 2 || words[1][0] == '-') {
        (asks ? std::cout : std::cerr) << "make_large_chart OUT.chart.json [PARTS [PADS-A-PART]]\n";
        return asks ? 0 : 2;
    }
    const auto number = [&](int i, std::size_t usual) {
        return count > i ? static_cast<std::size_t>(std::strtoul(words[i], nullptr, 10)) : usual;
    };
    const auto saved =
        padchart::json::save_chart(padchart::testing::make_chart(number(2, 5000), number(3, 10), 1), words[1]);
    if (saved) return 0;
    std::cerr << describe(saved.error()) << '\n';
    return 2;
}
