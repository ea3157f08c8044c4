#include "svg/trace_corners.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace padchart::svg {
namespace {

using geometry::Vec2;

/// Which of things that are joined one by one hang together.
class Joins {
public:
    explicit Joins(std::size_t count) : parent_(count) { std::iota(parent_.begin(), parent_.end(), std::size_t{0}); }

    std::size_t root(std::size_t at) {
        while (parent_[at] != at)
            at = parent_[at] = parent_[parent_[at]];
        return at;
    }
    /// False where they hung together before.
    bool join(std::size_t a, std::size_t b) {
        const std::size_t one = root(a), other = root(b);
        parent_[other] = one;
        return one != other;
    }

private:
    std::vector<std::size_t> parent_;
};

} // namespace

void SharedCorners::add(std::span<const Vec2> ends) {
    std::vector<std::size_t> corners;
    for (const Vec2 end : ends)
        corners.push_back(corner_at(end));
    std::sort(corners.begin(), corners.end());
    corners.erase(std::unique(corners.begin(), corners.end()), corners.end());
    corners_of_.push_back(std::move(corners));
}

std::size_t SharedCorners::corner_at(Vec2 at) {
    const auto whole = [&](double v) { return static_cast<std::int64_t>(std::floor(v / touching_)); };
    const Cell cell{whole(at.x), whole(at.y)};
    for (std::int64_t dx = -1; dx <= 1; ++dx)
        for (std::int64_t dy = -1; dy <= 1; ++dy)
            if (const auto found = cells_.find({cell.first + dx, cell.second + dy}); found != cells_.end())
                for (const std::size_t corner : found->second)
                    if (geometry::distance(corners_[corner], at) <= touching_) return corner;
    cells_[cell].push_back(corners_.size());
    corners_.push_back(at);
    return corners_.size() - 1;
}

std::vector<std::vector<std::size_t>> SharedCorners::in_doubt() const {
    // Loops and corners as the knots of one net, each loop tied to its corners: a mesh in it is another way round.
    const std::size_t loops = corners_of_.size();
    Joins joins(loops + corners_.size());
    std::vector<std::size_t> meshed;
    for (std::size_t i = 0; i < loops; ++i)
        for (const std::size_t corner : corners_of_[i])
            if (!joins.join(i, loops + corner)) meshed.push_back(i);
    std::map<std::size_t, std::vector<std::size_t>> together;
    for (const std::size_t i : meshed)
        together[joins.root(i)];
    for (std::size_t i = 0; i < loops && !together.empty(); ++i)
        if (const auto found = together.find(joins.root(i)); found != together.end()) found->second.push_back(i);
    std::vector<std::vector<std::size_t>> all;
    for (auto& [root, some] : together)
        all.push_back(std::move(some));
    std::sort(all.begin(), all.end());
    return all;
}

} // namespace padchart::svg
