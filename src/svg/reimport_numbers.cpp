#include "svg/reimport_numbers.hpp"

namespace padchart::svg {

std::map<std::string, std::size_t> pads_by_number(const std::vector<document::Pad>& pads) {
    std::map<std::string, std::size_t> found;
    std::map<std::string, int> count;
    for (std::size_t i = 0; i < pads.size(); ++i) {
        found[pads[i].number] = i;
        ++count[pads[i].number];
    }
    for (const auto& [number, times] : count)
        if (times > 1 || number.empty()) found.erase(number);
    return found;
}

} // namespace padchart::svg
