#include "svg/trace_chains.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <map>
#include <optional>
#include <string>
#include <tuple>
#include <utility>

namespace padchart::svg {
namespace {

using geometry::Ring;
using geometry::Vec2;

struct OpenLine {
    std::size_t item = 0;
    std::size_t first = 0; ///< Subpath::first
    Ring points;
    bool used = false;
};

/// Ends of lines by the cell of a grid they lie in, so that ten thousand lines stay cheap.
class Ends {
public:
    Ends(const std::vector<OpenLine>& lines, double reach) : lines_(lines), reach_(reach) {
        for (std::size_t i = 0; i < lines.size(); ++i)
            for (const bool at_end : {false, true})
                cells_[cell_of(end_of(i, at_end))].push_back({i, at_end});
    }

    /// The nearest end of an unused line within reach: its line, and whether it is that line's last point. Of equals
    /// the last. From the back, so that a hundred thousand lines from one point are used up one after the other.
    [[nodiscard]] std::optional<std::pair<std::size_t, bool>> nearest(Vec2 at) {
        std::optional<std::pair<std::size_t, bool>> best;
        double least = reach_;
        const auto [x, y] = cell_of(at);
        for (std::int64_t dx = 1; dx >= -1; --dx)
            for (std::int64_t dy = 1; dy >= -1; --dy) {
                const auto found = cells_.find({x + dx, y + dy});
                if (found == cells_.end()) continue;
                auto& ends = found->second;
                while (!ends.empty() && lines_[ends.back().first].used)
                    ends.pop_back();
                for (auto end = ends.rbegin(); end != ends.rend(); ++end) {
                    if (lines_[end->first].used) continue;
                    const double gap = geometry::distance(at, end_of(end->first, end->second));
                    if (best ? gap >= least : gap > least) continue;
                    least = gap;
                    best = *end;
                    if (gap == 0.0) return best;
                }
            }
        return best;
    }

private:
    using Cell = std::pair<std::int64_t, std::int64_t>;

    [[nodiscard]] Vec2 end_of(std::size_t line, bool at_end) const {
        return at_end ? lines_[line].points.back() : lines_[line].points.front();
    }
    [[nodiscard]] Cell cell_of(Vec2 p) const {
        const auto whole = [&](double v) { return static_cast<std::int64_t>(std::floor(v / reach_)); };
        return {whole(p.x), whole(p.y)};
    }

    const std::vector<OpenLine>& lines_;
    double reach_;
    std::map<Cell, std::vector<std::pair<std::size_t, bool>>> cells_;
};

struct Chain {
    std::vector<std::size_t> lines;
    Ring points;
    double widest_gap = 0.0;
};

bool is_loop(const Chain& chain, double touching) {
    return chain.points.size() > 3 && geometry::distance(chain.points.front(), chain.points.back()) <= touching;
}

/// Goes on from the chain's last point as long as it meets an end, and stops where it is back: loops that share a
/// corner stay two.
void grow(Chain& chain, std::vector<OpenLine>& lines, Ends& ends, double touching) {
    while (!is_loop(chain, touching)) {
        const auto next = ends.nearest(chain.points.back());
        if (!next) return;
        OpenLine& line = lines[next->first];
        line.used = true;
        Ring points = line.points;
        if (next->second) std::reverse(points.begin(), points.end());
        const double gap = geometry::distance(chain.points.back(), points.front());
        chain.widest_gap = std::max(chain.widest_gap, gap);
        chain.lines.push_back(next->first);
        // Where the ends all but meet one point stands for both.
        chain.points.insert(chain.points.end(), points.begin() + 1, points.end());
    }
}

std::string in_mm(double mm) {
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.3g", mm);
    return text.data();
}

void take(Chain chain, const std::vector<OpenLine>& lines, std::vector<TraceItem>& items, double touching,
          std::set<std::size_t>& chained, TraceLog& log) {
    TraceItem& owner = items[lines[chain.lines.front()].item];
    const double last_gap = geometry::distance(chain.points.front(), chain.points.back());
    const bool closes = last_gap <= touching;
    for (const std::size_t i : chain.lines) {
        chained.insert(lines[i].first);
        if (lines[i].item != owner.shape)
            log.account(items[lines[i].item].shape, owner.role, {},
                        "joined to " + log.name_of(owner.shape) + " as one loop");
    }
    if (closes) {
        chain.widest_gap = std::max(chain.widest_gap, last_gap);
        chain.points.pop_back();
    }
    std::string words = log.name_of(owner.shape) + " and " + std::to_string(chain.lines.size() - 1) +
                        " more open lines touch and are taken as one loop, gaps up to " + in_mm(chain.widest_gap) +
                        " mm";
    if (!closes) words += "; it was open and is closed over a gap of " + in_mm(last_gap) + " mm";
    log.find(closes ? Severity::Note : Severity::Warning, "lines-chained", std::move(words), owner.shape);
    owner.rings.push_back(std::move(chain.points));
}

void chain_group(std::vector<OpenLine>& lines, std::vector<TraceItem>& items, double touching,
                 std::set<std::size_t>& chained, TraceLog& log) {
    Ends ends(lines, touching);
    for (std::size_t i = 0; i < lines.size(); ++i) {
        if (lines[i].used) continue;
        lines[i].used = true;
        Chain chain{{i}, lines[i].points, 0.0};
        grow(chain, lines, ends, touching);
        std::reverse(chain.points.begin(), chain.points.end());
        grow(chain, lines, ends, touching);
        if (chain.lines.size() > 1 && chain.points.size() > 3) {
            std::sort(chain.lines.begin(), chain.lines.end());
            take(std::move(chain), lines, items, touching, chained, log);
        }
    }
}

} // namespace

std::set<std::size_t> chain_open_lines(std::vector<TraceItem>& items, double factor, double touching, TraceLog& log) {
    std::set<std::size_t> chained;
    if (!(touching > 0.0)) return chained;
    std::map<std::tuple<Role, std::int32_t, std::string>, std::vector<OpenLine>> groups;
    for (std::size_t i = 0; i < items.size(); ++i) {
        if (!needs_area(items[i].role)) continue;
        const DrawnShape& shape = log.drawing.shapes[items[i].shape];
        for (const Subpath& subpath : log.drawing.subpaths_of(shape)) {
            if (subpath.closed || subpath.count < 2) continue;
            OpenLine line{i, subpath.first, {}, false};
            for (const Vec2 p : log.drawing.points_of(subpath))
                line.points.push_back(p * factor);
            // A line whose own ends meet is a loop already.
            if (geometry::distance(line.points.front(), line.points.back()) <= touching) continue;
            groups[{items[i].role, shape.group, items[i].part_name}].push_back(std::move(line));
        }
    }
    for (auto& [key, lines] : groups)
        if (lines.size() > 1) chain_group(lines, items, touching, chained, log);
    return chained;
}

} // namespace padchart::svg
