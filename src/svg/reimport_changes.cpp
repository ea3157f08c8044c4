#include "svg/reimport_changes.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "svg/reimport_moves.hpp"

namespace padchart::svg {
namespace {

using document::Footprint;
using document::Pad;
using geometry::Ring;
using geometry::Vec2;

/// Less is what a body drawn by hand leaves between two squares.
constexpr double kTurned_deg = 0.1;

/// What is told to two digits reads the same below this: it went along with the rest of its part.
constexpr double kAlong = 0.01;

/// So many corners are a curve's.
constexpr std::size_t kCurved = 8;
/// Between two polylines of one curve: each leaves it by up to 0.005, as `svg::read` is asked for.
constexpr double kOfCurve = 0.01;

struct Size {
    double width = 0.0, height = 0.0;
};

/// An area as it was drawn. Of what is round its box and size are the true ones, not those of the polygon for it.
struct Drawn {
    Ring ring;
    geometry::Box box;
    bool is_round = false;
    double slack = 0.0; ///< what the polygon may be off by itself

    [[nodiscard]] Size size() const { return {box.width(), box.height()}; }
};

Drawn drawn(const document::Shape& shape, Angle turn, Vec2 at, Ring ring) {
    const bool is_round = shape.kind == document::ShapeKind::Round;
    if (!is_round && shape.kind != document::ShapeKind::Oblong) {
        const geometry::Box box = geometry::bounds(ring);
        const double slack = curve_slack(ring, {});
        return {std::move(ring), box, false, slack};
    }
    const double ends = std::min(shape.width_mm, shape.height_mm) / 2.0; // half circles of that radius
    const Vec2 along = shape.width_mm >= shape.height_mm ? Vec2{shape.width_mm / 2.0 - ends, 0.0}
                                                         : Vec2{0.0, shape.height_mm / 2.0 - ends};
    const Vec2 reach = geometry::Affine::rotation(turn).linear(along);
    const Vec2 half{std::abs(reach.x) + ends, std::abs(reach.y) + ends};
    geometry::Box box;
    box.add(at - half);
    box.add(at + half);
    return {std::move(ring), box, is_round, 0.0};
}

template <class Thing>
Drawn drawn(const Thing& pad_or_body) {
    return drawn(pad_or_body.shape, pad_or_body.turn, pad_or_body.at, document::outline_in_part(pad_or_body));
}

/// A pad or the body, before and after.
struct Feature {
    std::string name;
    Vec2 by; ///< how far its middle went
    Drawn before, after;

    [[nodiscard]] double slack() const { return std::max(before.slack, after.slack); }
};

double area_of(const Ring& ring) {
    return std::abs(geometry::signed_area(ring));
}

/// Another shape of about the same size, e.g. round instead of square.
bool has_other_area(const Ring& a, const Ring& b, Size size, Size other, double slack) {
    const double of_size =
        std::abs(size.width - other.width) * size.height + std::abs(size.height - other.height) * size.width;
    return std::abs(area_of(a) - area_of(b)) > (kMoved + slack) * (size.width + size.height) + of_size;
}

bool is_near(Vec2 a, Vec2 b) {
    return geometry::distance(a, b) < kMoved;
}

bool is_other_ring(const Ring& before, const Ring& after) {
    const geometry::Box a = geometry::bounds(before), b = geometry::bounds(after);
    if (a.is_empty() || b.is_empty()) return a.is_empty() != b.is_empty();
    const double slack = curve_slack(before, after);
    const auto is_off = [&](Vec2 was, Vec2 is) { return geometry::distance(was, is) >= kMoved + slack; };
    return is_off(a.min, b.min) || is_off(a.max, b.max) ||
           has_other_area(before, after, {a.width(), a.height()}, {b.width(), b.height()}, slack);
}

std::string name_of(const Pad& pad, std::size_t at) {
    return pad.number.empty() ? fmt::format("pad #{}", at + 1) : "pad " + pad.number;
}

class Teller {
public:
    Teller(const Footprint& before, const Footprint& after, const std::vector<std::optional<std::size_t>>& pads,
           std::string_view unit)
        : before_(before), after_(after), pads_(pads), unit_(unit) {
        turned_deg_ = (after.placement.turn - before.placement.turn).signed_turn().degrees();
        if (std::abs(turned_deg_) < kTurned_deg) turned_deg_ = 0.0;
    }

    std::vector<std::string> run() {
        collect();
        const Feature* first = lead();
        const Vec2 most = first ? first->by : Vec2{};
        whole(most, first ? first->slack() : 0.0);
        coming_and_going();
        for (const Feature& feature : features_)
            tell(feature, most);
        if (stayed_.size() == 1) words_.push_back(stayed_.front() + " stayed");
        if (stayed_.size() > 1) words_.push_back(fmt::format("{} pads and bodies stayed", stayed_.size()));
        return std::move(words_);
    }

private:
    void collect() {
        if (before_.body && after_.body) add("its body", drawn(*before_.body), drawn(*after_.body));
        for (std::size_t i = 0; i < before_.pads.size(); ++i)
            if (pads_[i]) {
                const Pad &was = before_.pads[i], &is = after_.pads[*pads_[i]];
                add(name_of(was, i), drawn(was), drawn(is));
            }
    }

    /// A turned part is looked at in its own frame: on the board everything in it went somewhere else.
    void add(std::string name, Drawn was, Drawn is) {
        const Vec2 from = was.box.centre(), to = is.box.centre();
        Vec2 by = to - from;
        if (turned_deg_ == 0.0)
            by = document::board_from_part(after_.placement)(to) - document::board_from_part(before_.placement)(from);
        features_.push_back({std::move(name), by, std::move(was), std::move(is)});
    }

    /// The first of those, more than half of all, that went the same way; a curve last, which tells it less sharply.
    [[nodiscard]] const Feature* lead() const {
        for (const bool curves : {false, true})
            for (const Feature& one : features_) {
                const auto same = std::count_if(features_.begin(), features_.end(), [&](const Feature& other) {
                    return geometry::distance(one.by, other.by) < kAlong + other.slack();
                });
                if ((one.slack() > 0.0) == curves && 2 * static_cast<std::size_t>(same) > features_.size()) return &one;
            }
        return nullptr;
    }

    void whole(Vec2 most, double slack) {
        const auto centre = [](const Footprint& part) {
            return document::board_from_part(part.placement)(document::centre_in_part(part));
        };
        const Vec2 by = turned_deg_ == 0.0 ? most : centre(after_) - centre(before_);
        if (geometry::length(by) >= kMoved + slack) words_.push_back(move_words(by, unit_));
        if (turned_deg_ != 0.0)
            words_.push_back(
                fmt::format("turned by {:.1f} degrees {}", std::abs(turned_deg_), turn_sense(turned_deg_)));
    }

    void tell(const Feature& feature, Vec2 most) {
        if (geometry::distance(feature.by, most) >= kAlong + feature.slack()) {
            if (is_near(feature.by, {}))
                stayed_.push_back(feature.name);
            else
                words_.push_back(
                    fmt::format("{} moved by {:.2f}{}", feature.name, geometry::length(feature.by), unit_));
        }
        tell_size(feature);
    }

    void tell_size(const Feature& feature) {
        const Size was = feature.before.size(), is = feature.after.size();
        const auto is_other = [&](double a, double b) {
            return is_other_length(a, b) && std::abs(a - b) >= kMoved + feature.slack();
        };
        if (is_other(was.width, is.width) || is_other(was.height, is.height))
            words_.push_back(
                feature.before.is_round && feature.after.is_round
                    ? fmt::format("{} is {:.2f}{} across, was {:.2f}", feature.name, is.width, unit_, was.width)
                    : fmt::format("{} is {:.2f} x {:.2f}{}, was {:.2f} x {:.2f}", feature.name, is.width, is.height,
                                  unit_, was.width, was.height));
        else if (has_other_area(feature.before.ring, feature.after.ring, was, is, feature.slack()))
            words_.push_back(feature.name + " has another shape");
    }

    void coming_and_going() {
        if (!before_.body && after_.body) words_.emplace_back("its body is new");
        std::vector<bool> is_known(after_.pads.size(), false);
        for (std::size_t i = 0; i < pads_.size(); ++i)
            if (pads_[i])
                is_known[*pads_[i]] = true;
            else
                words_.push_back(name_of(before_.pads[i], i) + " is gone");
        for (std::size_t i = 0; i < is_known.size(); ++i)
            if (!is_known[i]) words_.push_back(name_of(after_.pads[i], i) + " is new");
    }

    const Footprint& before_;
    const Footprint& after_;
    const std::vector<std::optional<std::size_t>>& pads_;
    const std::string_view unit_;
    double turned_deg_ = 0.0;
    std::vector<Feature> features_;
    std::vector<std::string> words_, stayed_;
};

} // namespace

std::vector<std::string> geometry_changes(const Footprint& before, const Footprint& after,
                                          const std::vector<std::optional<std::size_t>>& pads, std::string_view unit) {
    return Teller(before, after, pads, unit).run();
}

std::vector<std::string> turn_changes(double turned_deg, double moved, std::string_view unit) {
    std::vector<std::string> words{
        fmt::format("turned by {:.0f} degrees, or numbered from another pad", std::abs(turned_deg))};
    if (moved >= kMoved) words.push_back(fmt::format("moved by {:.2f}{}", moved, unit));
    return words;
}

std::string_view turn_sense(double turned_deg) {
    return turned_deg > 0.0 ? "counter-clockwise" : "clockwise";
}

double curve_slack(const Ring& before, const Ring& after) {
    return std::max(before.size(), after.size()) >= kCurved ? kOfCurve : 0.0;
}

bool is_other_length(double was, double is) {
    return std::abs(was - is) >= kMoved && fmt::format("{:.2f}", was) != fmt::format("{:.2f}", is);
}

bool is_drawn_differently(const geometry::Polygon& before, const geometry::Polygon& after) {
    return before.holes.size() != after.holes.size() || is_other_ring(before.outer, after.outer) ||
           !std::equal(before.holes.begin(), before.holes.end(), after.holes.begin(),
                       [](const Ring& a, const Ring& b) { return !is_other_ring(a, b); });
}

std::string listed(const std::vector<std::string>& names) {
    std::string line;
    for (std::size_t i = 0; i < names.size(); ++i)
        line += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + names[i];
    return line;
}

std::string in_one_line(const std::vector<std::string>& changes) {
    constexpr std::size_t kMost = 4;
    std::string line;
    for (std::size_t i = 0; i < std::min(changes.size(), kMost); ++i)
        line += (i == 0 ? "" : ", ") + changes[i];
    return changes.size() > kMost ? line + fmt::format(" and {} more", changes.size() - kMost) : line;
}

} // namespace padchart::svg
