#include "analysis/heat_floating.hpp"

namespace padchart::analysis {

std::vector<document::Id> floating_parts(const HeatReport& report) {
    std::vector<document::Id> parts;
    for (const NeighbourReport& near : report.neighbours)
        if (near.may_float && !near.is_keep_out) parts.push_back(near.source);
    return parts;
}

} // namespace padchart::analysis
