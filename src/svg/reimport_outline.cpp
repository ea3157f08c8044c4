#include "svg/reimport_outline.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <tuple>

#include <fmt/format.h>

#include "geometry/deviation.hpp"
#include "svg/reimport_changes.hpp"

namespace padchart::svg {
namespace {

using geometry::Box;
using geometry::Ring;
using geometry::Vec2;

double area_of(const Ring& ring) {
    return std::abs(geometry::signed_area(ring));
}

Vec2 middle(const Ring& ring) {
    return geometry::bounds(ring).centre();
}

/// A length that is told, and more than the pieces of a curve make.
bool is_as_large(const Box& a, const Box& b, double slack) {
    const auto is_other = [&](double was, double is) {
        return is_other_length(was, is) && std::abs(was - is) >= kMoved + slack;
    };
    return !is_other(a.width(), b.width()) && !is_other(a.height(), b.height());
}

class OutlineTeller {
public:
    OutlineTeller(const geometry::Polygon& before, const geometry::Polygon& after, std::string_view unit)
        : before_(before), after_(after), unit_(unit) {}

    std::vector<std::string> run() {
        edge();
        holes();
        return std::move(words_);
    }

private:
    void edge() {
        const double off = geometry::outline_deviation(before_.outer, after_.outer);
        if (off < kMoved + curve_slack(before_.outer, after_.outer)) return;
        words_.push_back(fmt::format("its edge lies up to {:.2f}{} off", off, unit_));
        const Box was = geometry::bounds(before_.outer), is = geometry::bounds(after_.outer);
        if (!is_as_large(was, is, curve_slack(before_.outer, after_.outer)))
            words_.push_back(fmt::format("it is {:.2f} x {:.2f}{}, was {:.2f} x {:.2f}", is.width(), is.height(), unit_,
                                         was.width(), was.height()));
        const double area_was = area_of(before_.outer), area_is = area_of(after_.outer);
        if (is_other_length(area_was, area_is))
            words_.push_back(fmt::format("its area is {:.2f}{}², was {:.2f}", area_is, unit_, area_was));
    }

    void holes() {
        const std::vector<std::optional<std::size_t>> after = matched();
        std::vector<bool> is_known(after_.holes.size(), false);
        for (std::size_t i = 0; i < after.size(); ++i) {
            if (after[i]) is_known[*after[i]] = true;
            if (after[i])
                tell(before_.holes[i], after_.holes[*after[i]]);
            else
                words_.push_back(called(before_.holes[i]) + " is gone");
        }
        for (std::size_t i = 0; i < is_known.size(); ++i)
            if (!is_known[i]) words_.push_back(called(after_.holes[i]) + " is new");
    }

    /// Of each hole the nearest that overlaps it or lies within its own size; each once.
    [[nodiscard]] std::vector<std::optional<std::size_t>> matched() const {
        std::vector<std::tuple<double, std::size_t, std::size_t>> candidates;
        for (std::size_t i = 0; i < before_.holes.size(); ++i)
            for (std::size_t j = 0; j < after_.holes.size(); ++j) {
                const Box was = geometry::bounds(before_.holes[i]);
                const double off = geometry::distance(was.centre(), middle(after_.holes[j]));
                if (off <= std::max(was.width(), was.height())) candidates.emplace_back(off, i, j);
            }
        std::sort(candidates.begin(), candidates.end());
        std::vector<std::optional<std::size_t>> after(before_.holes.size());
        std::vector<bool> taken(after_.holes.size(), false);
        for (const auto& [off, i, j] : candidates)
            if (!after[i] && !taken[j]) {
                after[i] = j;
                taken[j] = true;
            }
        return after;
    }

    void tell(const Ring& before, const Ring& after) {
        const double moved = geometry::distance(middle(before), middle(after));
        const Box was = geometry::bounds(before), is = geometry::bounds(after);
        const double slack = curve_slack(before, after);
        if (moved >= kMoved + slack)
            words_.push_back(fmt::format("{} moved by {:.2f}{}", called(before), moved, unit_));
        if (!is_as_large(was, is, slack))
            words_.push_back(fmt::format("{} is {:.2f} x {:.2f}{}, was {:.2f} x {:.2f}", called(before), is.width(),
                                         is.height(), unit_, was.width(), was.height()));
        else if (moved < kMoved + slack && geometry::outline_deviation(before, after) >= kMoved + slack)
            words_.push_back(called(before) + " has another shape");
    }

    [[nodiscard]] std::string called(const Ring& hole) const {
        const Vec2 at = middle(hole);
        return fmt::format("the hole at x {:.2f}, y {:.2f}{}", at.x, at.y, unit_);
    }

    const geometry::Polygon& before_;
    const geometry::Polygon& after_;
    const std::string_view unit_;
    std::vector<std::string> words_;
};

} // namespace

std::vector<std::string> outline_changes(const geometry::Polygon& before, const geometry::Polygon& after,
                                         std::string_view unit) {
    return OutlineTeller(before, after, unit).run();
}

} // namespace padchart::svg
