#include "analysis/access_bearings.hpp"

#include <algorithm>
#include <cmath>

#include "base/angle.hpp"

namespace padchart::analysis {
namespace {

constexpr double kTurn = 360.0;
constexpr double kSliver_deg = 1e-6;
// Pieces nearer than this touch but for rounding.
constexpr double kJoin_deg = 1e-9;

} // namespace

double wrapped_deg(double deg) {
    return Angle::degrees(deg).wrapped().degrees();
}

double turn_between(double from_deg, double to_deg) {
    return Angle::degrees(to_deg - from_deg).signed_turn().degrees();
}

double Sector::to_deg() const {
    return wrapped_deg(from_deg + width_deg);
}

double Sector::middle_deg() const {
    return wrapped_deg(from_deg + width_deg / 2.0);
}

bool Sector::contains(double bearing_deg) const {
    return wrapped_deg(bearing_deg - from_deg) <= width_deg || wrapped_deg(bearing_deg - from_deg) == 0.0;
}

Bearings Bearings::all() {
    Bearings set;
    set.pieces_ = {{0.0, kTurn}};
    return set;
}

Bearings Bearings::of(const std::vector<Sector>& sectors) {
    Bearings set;
    for (const Sector& sector : sectors)
        set.add(sector.from_deg, sector.from_deg + sector.width_deg);
    return set;
}

void Bearings::add(double from_deg, double to_deg) {
    if (to_deg - from_deg >= kTurn) {
        pieces_ = {{0.0, kTurn}};
        return;
    }
    if (to_deg <= from_deg) return;
    const double from = wrapped_deg(from_deg);
    const double to = from + (to_deg - from_deg);
    pieces_.emplace_back(from, std::min(to, kTurn));
    if (to > kTurn) pieces_.emplace_back(0.0, to - kTurn);
    tidy();
}

void Bearings::tidy() {
    std::sort(pieces_.begin(), pieces_.end());
    std::vector<std::pair<double, double>> joined;
    for (const auto& piece : pieces_) {
        if (!joined.empty() && piece.first <= joined.back().second + kJoin_deg)
            joined.back().second = std::max(joined.back().second, piece.second);
        else
            joined.push_back(piece);
    }
    pieces_ = std::move(joined);
}

bool Bearings::contains(double bearing_deg) const {
    const double at = wrapped_deg(bearing_deg);
    return std::any_of(pieces_.begin(), pieces_.end(), [&](const auto& piece) {
        return (piece.first <= at && at <= piece.second) || (at == 0.0 && piece.second == kTurn);
    });
}

Bearings Bearings::complement() const {
    Bearings rest;
    double from = 0.0;
    for (const auto& piece : pieces_) {
        if (piece.first > from) rest.pieces_.emplace_back(from, piece.first);
        from = piece.second;
    }
    if (from < kTurn) rest.pieces_.emplace_back(from, kTurn);
    return rest;
}

Bearings Bearings::within(const Bearings& other) const {
    Bearings both;
    for (const auto& a : pieces_)
        for (const auto& b : other.pieces_) {
            const double from = std::max(a.first, b.first), to = std::min(a.second, b.second);
            if (from < to) both.pieces_.emplace_back(from, to);
        }
    both.tidy();
    return both;
}

Bearings Bearings::without(const Bearings& other) const {
    return within(other.complement());
}

Bearings Bearings::together_with(const Bearings& other) const {
    Bearings both = *this;
    both.pieces_.insert(both.pieces_.end(), other.pieces_.begin(), other.pieces_.end());
    both.tidy();
    return both;
}

std::vector<Sector> Bearings::sectors() const {
    std::vector<Sector> found;
    if (pieces_.empty()) return found;
    if (pieces_.size() == 1 && pieces_[0].first == 0.0 && pieces_[0].second == kTurn) return {{0.0, kTurn}};
    for (const auto& [from, to] : pieces_)
        found.push_back({from, to - from});
    const bool joins = found.size() > 1 && pieces_.front().first == 0.0 && pieces_.back().second == kTurn;
    if (joins) {
        found.back().width_deg += found.front().width_deg;
        found.erase(found.begin());
    }
    std::erase_if(found, [](const Sector& sector) { return sector.width_deg < kSliver_deg; });
    return found;
}

} // namespace padchart::analysis
