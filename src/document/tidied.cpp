#include "document/tidied.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <string_view>

namespace padchart::document {
namespace {

constexpr std::string_view kKey = "tidied";

/// Changes with every pad that is moved, resized, turned, added or taken off.
double sum_over(const std::vector<Pad>& pads) {
    double sum = 0.0;
    std::size_t count = 0;
    const auto add = [&](double value) { sum += static_cast<double>(1 + count++ % 7) * value; };
    for (const Pad& pad : pads) {
        add(1.0);
        add(pad.at.x);
        add(pad.at.y);
        add(std::cos(pad.turn.radians()));
        add(std::sin(pad.turn.radians()));
        add(pad.shape.width_mm);
        add(pad.shape.height_mm);
        for (const geometry::Vec2 point : pad.shape.points) {
            add(point.x);
            add(point.y);
        }
    }
    return sum;
}

/// A file keeps fewer digits than the memory.
bool is_same(double a, double b) {
    return std::abs(a - b) <= 1e-4 + 1e-6 * std::abs(a);
}

/// "[0.048, 12.5]"
std::vector<double> numbers_in(std::string_view text) {
    std::vector<double> numbers;
    const char* at = text.data();
    const char* const end = at + text.size();
    while (at != end) {
        double number = 0.0;
        const auto [after, fault] = std::from_chars(at, end, number);
        if (fault == std::errc{}) numbers.push_back(number);
        at = fault == std::errc{} ? after : at + 1;
    }
    return numbers;
}

auto note_of(const Footprint& part) {
    return std::find_if(part.extras.begin(), part.extras.end(), [](const auto& extra) { return extra.first == kKey; });
}

} // namespace

std::optional<double> tidied_off(const Footprint& part) {
    const auto note = note_of(part);
    if (note == part.extras.end()) return std::nullopt;
    const std::vector<double> numbers = numbers_in(note->second);
    if (numbers.size() != 2 || !(numbers[0] >= 0.0) || !is_same(sum_over(part.pads), numbers[1])) return std::nullopt;
    return numbers[0];
}

void note_tidied(Footprint& part, double off_mm) {
    std::erase_if(part.extras, [](const auto& extra) { return extra.first == kKey; });
    part.extras.emplace_back(kKey, fmt::format("[{:.4f}, {:.6f}]", off_mm, sum_over(part.pads)));
}

bool has_extras_but_tidied(const Footprint& part) {
    return part.extras.size() > (note_of(part) == part.extras.end() ? 0U : 1U);
}

} // namespace padchart::document
