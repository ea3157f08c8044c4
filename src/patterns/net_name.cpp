#include "patterns/net_name.hpp"

#include <algorithm>
#include <cctype>

#include "patterns/table.hpp"

namespace padchart::patterns {
namespace {

bool same(char a, char b) {
    return std::toupper(static_cast<unsigned char>(a)) == std::toupper(static_cast<unsigned char>(b));
}

bool fits(std::string_view net, std::string_view name) {
    const bool begins = name.ends_with('*');
    if (begins) name.remove_suffix(1);
    if (begins ? net.size() < name.size() : net.size() != name.size()) return false;
    return std::equal(name.begin(), name.end(), net.begin(), same);
}

} // namespace

Rail rail_of(std::string_view net) {
    const Table& rows = table("net_names");
    for (std::size_t row = 0; row < rows.size(); ++row)
        if (fits(net, rows.text(row, "name")))
            return rows.text(row, "rail") == "ground" ? Rail::Ground : Rail::Negative;
    return Rail::Unknown;
}

} // namespace padchart::patterns
