#include "app/orientation.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/counted.hpp"
#include "base/typed_number.hpp"
#include "patterns/labels.hpp"
#include "scene/words.hpp"

namespace padchart::app {
namespace {

using analysis::PartFit;
using document::Footprint;
using geometry::Box;
using geometry::Vec2;

std::string degrees_list(const std::vector<double>& turns) {
    std::string text;
    for (std::size_t i = 0; i < turns.size(); ++i) {
        if (i > 0) text += i + 1 == turns.size() ? " and " : ", ";
        text += fmt::format("{:g}", turns[i]);
    }
    return text;
}

std::string ways(std::size_t count) {
    constexpr std::array kNumbers = {"No", "One", "Two", "Three", "Four"};
    return count < kNumbers.size() ? kNumbers[count] : fmt::format("{}", count);
}

std::string consequence(const PartFit& fit) {
    return std::string(patterns::consequence_text(static_cast<int>(fit.consequence)));
}

std::string nearly(const PartFit& fit) {
    if (fit.nearly_turns.empty()) return "";
    return " At " + degrees_list(fit.nearly_turns) + " degrees it is too close to tell: measure again.";
}

Box turned_extent(const Footprint& part) {
    const auto ring = document::extent_in_part(part);
    return geometry::bounds(geometry::transformed(ring, geometry::Affine::rotation(part.placement.turn)));
}

} // namespace

FitVerdict verdict_of(const Footprint& part, const PartFit& fit) {
    if (!fit.is_complete)
        return {FitTone::Open, "Not all of its pads are drawn.",
                "Which ways it fits cannot be told from the rest. Draw them, or record the mark anyway."};
    const std::size_t seats = fit.seating_turns.size();
    if (!fit.needs_record) {
        if (seats <= 1) return {FitTone::OneWay, "Its pads allow one way only.", "No record is needed." + nearly(fit)};
        return {FitTone::NoDirection, "It may sit either way.",
                fmt::format("It seats at {} degrees, and that changes nothing for what it is.{}",
                            degrees_list(fit.seating_turns), nearly(fit))};
    }
    const bool is_unsure = !fit.unsure_turns.empty();
    const std::string turned =
        fmt::format("Turned by {} degrees it {} as well. Fitted so, this happens: {}.{}", degrees_list(fit.risky_turns),
                    is_unsure ? "may seat" : "seats", consequence(fit), nearly(fit));
    if (fit.has_record)
        return {FitTone::Recorded, "On record: " + scene::mark_and_meaning(part.orientation) + ".", turned};
    if (fit.looked_no_mark)
        return {FitTone::Open, "No mark to be seen. Make one.",
                turned + " Scratch nothing: a dot of paint or a photo from above will do."};
    return {FitTone::Open,
            ways(fit.risky_turns.size() + 1) + (is_unsure ? " ways may fit." : " ways fit.") +
                " Record it before heat.",
            turned};
}

std::string short_description(const Footprint& part) {
    const int pads = document::pad_count(part);
    const std::string what = part.part_class == document::PartClass::Unknown
                                 ? std::string("part")
                                 : std::string(patterns::label_of(part.part_class));
    return what + ", " + counted(static_cast<std::size_t>(pads), "pad");
}

std::string list_remark(const Footprint& part, const PartFit& fit) {
    if (fit.has_record) return scene::mark_and_meaning(part.orientation);
    if (fit.looked_no_mark) return "no mark to be seen";
    if (!fit.unsure_turns.empty()) return degrees_list(fit.risky_turns) + " may seat too";
    return fmt::format("{} seat{} too", degrees_list(fit.risky_turns), fit.risky_turns.size() == 1 ? "s" : "");
}

Result<std::vector<double>> turns_from_text(std::string_view text) {
    constexpr std::string_view kBetween = " ,;\t";
    std::vector<double> turns;
    for (std::size_t from = text.find_first_not_of(kBetween); from != std::string_view::npos;
         from = text.find_first_not_of(kBetween, from)) {
        const std::size_t end = std::min(text.find_first_of(kBetween, from), text.size());
        const std::string_view word = text.substr(from, end - from);
        const Result<double> turn = typed_number(word, "°");
        if (!turn)
            return Error{"\"" + std::string(word) + "\" is no turn; right would be degrees, such as 0 180", "turns"};
        turns.push_back(*turn);
        from = end;
    }
    return turns;
}

std::string turns_as_text(const std::vector<double>& turns) {
    std::string text;
    for (const double turn : turns)
        text += fmt::format("{}{:g}", text.empty() ? "" : " ", turn);
    return text;
}

std::vector<MarkPlace> mark_places(const Footprint& part) {
    const Box box = turned_extent(part);
    if (box.is_empty()) return {};
    constexpr int kRound[8][2] = {{-1, -1}, {0, -1}, {1, -1}, {1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}};
    std::vector<MarkPlace> places;
    for (const auto& [x, y] : kRound) {
        const Vec2 way{x * std::max(box.width(), 1e-6), y * std::max(box.height(), 1e-6)};
        places.push_back({x, y, (geometry::bearing(way) - part.placement.turn).wrapped()});
    }
    return places;
}

std::optional<std::size_t> nearest_place(const std::vector<MarkPlace>& places, Angle bearing) {
    std::optional<std::size_t> nearest;
    double least = 25.0;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const double off = std::abs((places[i].bearing - bearing).signed_turn().degrees());
        if (off >= least) continue;
        least = off;
        nearest = i;
    }
    return nearest;
}

std::optional<document::Id> next_unrecorded(const analysis::FitReport& report, const document::Id& current) {
    const auto& parts = report.parts;
    const auto at = std::find_if(parts.begin(), parts.end(), [&](const PartFit& fit) { return fit.part == current; });
    const std::size_t start = at == parts.end() ? 0 : static_cast<std::size_t>(at - parts.begin()) + 1;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const PartFit& fit = parts[(start + i) % parts.size()];
        if (fit.part != current && fit.needs_record && !fit.has_record && !fit.looked_no_mark) return fit.part;
    }
    return std::nullopt;
}

} // namespace padchart::app
