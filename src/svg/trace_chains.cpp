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

#include "svg/trace_corners.hpp"

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

/// A line in the direction the pen goes along it now.
struct Link {
    std::size_t line = 0;
    bool backwards = false;
};

struct Joined {
    Ring points;
    double widest_gap = 0.0;
};

/// Where the ends all but meet one point stands for both.
Joined joined(const std::vector<Link>& links, const std::vector<OpenLine>& lines) {
    Joined all;
    for (const Link& link : links) {
        Ring points = lines[link.line].points;
        if (link.backwards) std::reverse(points.begin(), points.end());
        if (all.points.empty()) {
            all.points = std::move(points);
            continue;
        }
        all.widest_gap = std::max(all.widest_gap, geometry::distance(all.points.back(), points.front()));
        all.points.insert(all.points.end(), points.begin() + 1, points.end());
    }
    return all;
}

/// Lines end to end, with the joints between them: where the pen comes back to one it has gone round a loop, whichever
/// line it began with, and loops that share a corner stay two.
class Chain {
public:
    Chain(const std::vector<OpenLine>& lines, double touching, std::size_t first) : lines_(lines), touching_(touching) {
        begin_at(lines_[first].points.front());
        add({first, false});
    }

    [[nodiscard]] const std::vector<Link>& links() const { return links_; }
    [[nodiscard]] Vec2 tip() const { return joints_.back().at; }

    void add(Link link) {
        const Ring& points = lines_[link.line].points;
        Joint joint = joints_.back();
        joint.at = link.backwards ? points.front() : points.back();
        joint.count += points.size() - 1;
        // The sums run along the line as it lies; backwards they count the other way.
        double cross = 0.0;
        for (std::size_t i = 1; i < points.size(); ++i) {
            cross += geometry::cross(points[i - 1] - origin_, points[i] - origin_);
            joint.length += geometry::distance(points[i - 1], points[i]);
        }
        joint.cross += link.backwards ? -cross : cross;
        links_.push_back(link);
        push(joint);
    }

    void turn_round() {
        std::vector<Link> links;
        links.swap(links_);
        const Vec2 first = tip();
        joints_.clear();
        cells_.clear();
        begin_at(first);
        for (auto link = links.rbegin(); link != links.rend(); ++link)
            add({link->line, !link->backwards});
    }

    /// Whether the whole chain is a loop.
    [[nodiscard]] bool is_loop() const {
        return joints_.back().count >= 3 && geometry::distance(joints_.front().at, tip()) <= touching_;
    }

    /// The loop since the joint the tip has come back to, taken out of the chain, which ends at that joint then.
    [[nodiscard]] std::vector<Link> take_loop() {
        const std::size_t joint = joint_at_tip();
        if (joint == 0) return {};
        std::vector<Link> loop(links_.begin() + static_cast<std::ptrdiff_t>(joint), links_.end());
        while (links_.size() > joint)
            pop();
        return loop;
    }

private:
    struct Joint {
        Vec2 at;
        std::size_t count = 0; ///< of points after the first, up to here
        double length = 0.0;
        double cross = 0.0; ///< twice the area the pen has swept as seen from the origin
    };
    using Cell = std::pair<std::int64_t, std::int64_t>;

    void begin_at(Vec2 at) {
        origin_ = at;
        push({at, 0, 0.0, 0.0});
    }
    void push(const Joint& joint) {
        cells_[cell_of(joint.at)].push_back(joints_.size());
        joints_.push_back(joint);
    }
    void pop() {
        const auto cell = cells_.find(cell_of(joints_.back().at));
        cell->second.pop_back();
        if (cell->second.empty()) cells_.erase(cell);
        joints_.pop_back();
        links_.pop_back();
    }
    [[nodiscard]] Cell cell_of(Vec2 p) const {
        const auto whole = [&](double v) { return static_cast<std::int64_t>(std::floor(v / touching_)); };
        return {whole(p.x), whole(p.y)};
    }

    /// A line there and back again is no loop, nor is what is no wider than lines may miss each other by.
    [[nodiscard]] bool goes_round(const Joint& from) const {
        const Joint& to = joints_.back();
        const double length = to.length - from.length + geometry::distance(to.at, from.at);
        const double area = (to.cross - from.cross + geometry::cross(to.at - origin_, from.at - origin_)) / 2.0;
        return to.count - from.count >= 3 && std::abs(area) > touching_ * length / 2.0;
    }

    /// The last joint inside the chain that the tip has come back to round some area; 0: none.
    [[nodiscard]] std::size_t joint_at_tip() const {
        constexpr std::size_t kLookedAt = 32; ///< in a cell: more than that are a scribble
        std::size_t best = 0;
        const auto [x, y] = cell_of(tip());
        for (std::int64_t dx = -1; dx <= 1; ++dx)
            for (std::int64_t dy = -1; dy <= 1; ++dy) {
                const auto found = cells_.find({x + dx, y + dy});
                if (found == cells_.end()) continue;
                const std::vector<std::size_t>& here = found->second;
                const std::size_t end = here.size() - std::min(here.size(), kLookedAt);
                for (std::size_t i = here.size(); i > end && here[i - 1] > best; --i)
                    if (geometry::distance(joints_[here[i - 1]].at, tip()) <= touching_ &&
                        goes_round(joints_[here[i - 1]]))
                        best = here[i - 1];
            }
        return best;
    }

    const std::vector<OpenLine>& lines_;
    double touching_;
    Vec2 origin_; ///< areas are summed from here, so that no digits go to the place
    std::vector<Link> links_;
    std::vector<Joint> joints_; ///< one more than links
    std::map<Cell, std::vector<std::size_t>> cells_;
};

std::string in_words(double length) {
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%.3g", length);
    return text.data();
}

/// The shape that the loop, or what is left over, belongs to: that of its first line.
std::size_t owner_of(const std::vector<Link>& links, const std::vector<OpenLine>& lines) {
    const auto by_line = [](const Link& a, const Link& b) { return a.line < b.line; };
    return lines[std::min_element(links.begin(), links.end(), by_line)->line].item;
}

void take(const std::vector<Link>& links, const std::vector<OpenLine>& lines, std::vector<TraceItem>& items,
          double touching, std::set<std::size_t>& chained, TraceLog& log) {
    Joined loop = joined(links, lines);
    if (links.size() < 2 || loop.points.size() <= 3) return;
    TraceItem& owner = items[owner_of(links, lines)];
    const double last_gap = geometry::distance(loop.points.front(), loop.points.back());
    const bool closes = last_gap <= touching;
    for (const Link& link : links) {
        const OpenLine& line = lines[link.line];
        chained.insert(line.first);
        if (line.item != owner.shape)
            log.account(items[line.item].shape, owner.role, {},
                        "joined to " + log.name_of(owner.shape) + " as one loop");
    }
    if (closes) {
        loop.widest_gap = std::max(loop.widest_gap, last_gap);
        loop.points.pop_back();
    }
    std::string words = log.name_of(owner.shape) + " and " + std::to_string(links.size() - 1) +
                        " more open lines touch and are taken as one loop, gaps up to " + in_words(loop.widest_gap) +
                        log.unit();
    if (!closes) words += "; it was open and is closed over a gap of " + in_words(last_gap) + log.unit();
    log.find(closes ? Severity::Note : Severity::Warning, "lines-chained", std::move(words), owner.shape);
    owner.rings.push_back(std::move(loop.points));
}

/// What was put together, to be asked whether it could have been put together in another way.
class Readings {
public:
    Readings(const std::vector<OpenLine>& lines, double touching) : lines_(lines), corners_(touching) {}

    void add(const std::vector<Link>& links) {
        std::vector<Vec2> ends;
        for (const Link& link : links) {
            ends.push_back(lines_[link.line].points.front());
            ends.push_back(lines_[link.line].points.back());
        }
        corners_.add(ends);
        owners_.push_back(owner_of(links, lines_));
    }

    void tell_doubts(const std::vector<TraceItem>& items, TraceLog& log) const {
        constexpr std::size_t kNamed = 4;
        for (const std::vector<std::size_t>& some : corners_.in_doubt()) {
            std::string names;
            for (std::size_t i = 0; i < std::min(some.size(), kNamed); ++i)
                names += (i == 0                 ? ""
                          : i + 1 == some.size() ? " and "
                                                 : ", ") +
                         log.name_of(items[owners_[some[i]]].shape);
            if (some.size() > kNamed) names += " and " + std::to_string(some.size() - kNamed) + " more";
            log.find(Severity::Warning, "loops-in-doubt",
                     names + " share more corners than one: their open lines can be put together in another way; look "
                             "whether these are the shapes that were meant, else draw each as one closed shape",
                     items[owners_[some.front()]].shape);
        }
    }

private:
    const std::vector<OpenLine>& lines_;
    SharedCorners corners_;
    std::vector<std::size_t> owners_;
};

/// Goes on from the chain's tip as long as it meets an end, and stops where it is back at its begin. Loops on the way
/// are handed to `take_loop`.
template <class TakeLoop>
void grow(Chain& chain, std::vector<OpenLine>& lines, Ends& ends, const TakeLoop& take_loop) {
    while (!chain.is_loop()) {
        const auto next = ends.nearest(chain.tip());
        if (!next) return;
        lines[next->first].used = true;
        chain.add({next->first, next->second});
        if (chain.is_loop()) return;
        if (const std::vector<Link> loop = chain.take_loop(); !loop.empty()) take_loop(loop);
    }
}

void chain_group(std::vector<OpenLine>& lines, std::vector<TraceItem>& items, double touching,
                 std::set<std::size_t>& chained, TraceLog& log) {
    Ends ends(lines, touching);
    Readings readings(lines, touching);
    const auto take_loop = [&](const std::vector<Link>& links) {
        if (!links.empty()) readings.add(links);
        take(links, lines, items, touching, chained, log);
    };
    for (std::size_t i = 0; i < lines.size(); ++i) {
        if (lines[i].used) continue;
        lines[i].used = true;
        Chain chain(lines, touching, i);
        grow(chain, lines, ends, take_loop);
        chain.turn_round();
        grow(chain, lines, ends, take_loop);
        take_loop(chain.links());
    }
    readings.tell_doubts(items, log);
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
