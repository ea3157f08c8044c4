#include "app/heat_risks.hpp"

#include <algorithm>
#include <vector>

#include <fmt/format.h>

namespace padchart::app {

std::string also_at_risk(const analysis::HeatReport& report, std::string_view headline) {
    std::vector<std::string> names;
    for (const bool delicate : {true, false})
        for (const analysis::NeighbourReport& near : report.neighbours)
            if (near.delicate == delicate && near.limit_c && near.verdict != analysis::NeighbourVerdict::Safe &&
                headline.find(near.name) == std::string_view::npos)
                names.push_back(near.name);
    if (names.empty()) return {};
    constexpr std::size_t kNamed = 4;
    const std::size_t named = std::min(names.size(), kNamed);
    std::string text = " Also at risk: ";
    for (std::size_t i = 0; i < named; ++i)
        text += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + names[i];
    if (names.size() > kNamed) text += fmt::format(" and {} more", names.size() - kNamed);
    return text + ".";
}

} // namespace padchart::app
