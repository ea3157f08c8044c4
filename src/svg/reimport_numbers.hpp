#pragma once
// Pads told by their numbers. For svg/reimport alone.

#include <map>
#include <string>
#include <vector>

#include "document/footprint.hpp"

namespace padchart::svg {

/// Where each stands in the list, of those whose number no other one bears.
[[nodiscard]] std::map<std::string, std::size_t> pads_by_number(const std::vector<document::Pad>& pads);

} // namespace padchart::svg
